"""What members and organisers do on the pages about people."""

from __future__ import annotations

from league.clubs.models import Member
from league.clubs.services.members import mark_junior

SHOWS = {"shows_page": "on", "shows_results": "on"}


def test_an_organiser_adds_a_guest_and_gives_an_office(club, organiser, member, browse):
    browser = browse(organiser)
    browser.post("/clubs/weir-street/members/guests/new/", {"name": "Gorran"})
    browser.post(f"/clubs/weir-street/members/{member.pk}/edit/", {"is_umpire": "on"})
    assert Member.objects.get(name="Gorran").is_guest
    assert Member.objects.get(pk=member.pk).is_umpire


def test_the_last_organiser_reads_why_they_cannot_step_down(club, organiser, browse):
    response = browse(organiser).post(f"/clubs/weir-street/members/{organiser.pk}/edit/", {})
    assert response.status_code == 422
    assert "Odalys is the last organiser" in response.content.decode()


def test_members_see_the_list_without_the_ways_to_change_it(club, member, browse):
    page = browse(member).get("/clubs/weir-street/members/").content.decode()
    assert "Brannoc" in page and f"/members/{member.pk}/edit/" not in page and "Invite somebody" not in page


def test_a_member_chooses_what_strangers_see(club, member, browse):
    browse(member).post("/clubs/weir-street/my-privacy/", SHOWS)
    member.refresh_from_db()
    assert (member.shows_page, member.shows_results, member.shows_rosters) == (True, True, False)


def test_a_junior_reads_that_they_stay_private_before_and_after_trying(club, organiser, member, browse):
    mark_junior(member, is_junior=True, guardian_contact="", by=organiser)
    assert "You are marked as under 18" in browse(member).get("/clubs/weir-street/my-privacy/").content.decode()
    assert browse(member).post("/clubs/weir-street/my-privacy/", SHOWS).status_code == 422


def test_the_form_about_juniors_asks_for_caution(club, organiser, member, browse):
    page = browse(organiser).get(f"/clubs/weir-street/members/{member.pk}/junior/").content.decode()
    assert "Keep only what you need" in page and "law of your country" in page


def test_a_member_leaves_after_one_question(club, member, browse):
    browser = browse(member)
    assert "Leave Weir Street Irregulars?" in browser.get("/clubs/weir-street/leave/").content.decode()
    assert browser.post("/clubs/weir-street/leave/").url == "/"
    assert browser.get("/clubs/weir-street/members/").status_code == 404


def test_an_organiser_takes_a_guest_off_the_list(club, organiser, guest, browse):
    browse(organiser).post(f"/clubs/weir-street/members/{guest.pk}/remove/")
    assert "Gorran" not in browse(organiser).get("/clubs/weir-street/members/").content.decode()


def test_a_member_changes_their_own_name_here(club, member, browse):
    browse(member).post(f"/clubs/weir-street/members/{member.pk}/name/", {"name": "Bran"})
    member.refresh_from_db()
    assert member.name == "Bran"


def test_the_form_of_an_invitation_knows_the_guest_it_was_opened_for(club, organiser, guest, browse):
    page = browse(organiser).get(f"/clubs/weir-street/invitations/new/?guest={guest.pk}").content.decode()
    assert f'<option value="{guest.pk}" selected>Gorran</option>' in page


def test_an_organiser_describes_the_club(club, organiser, browse):
    form = {"name": "Weir Street", "about": "By the weir.", "time_zone": "Europe/Madrid"}
    assert browse(organiser).post("/clubs/weir-street/edit/", form).url == "/clubs/weir-street/"
