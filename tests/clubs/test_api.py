"""What the API answers, beyond who may ask."""

from __future__ import annotations

import pytest

from league.clubs.models import Attendance, Club, LogEntry, Member, Night
from league.clubs.queries import invitation_by
from league.clubs.services.members import mark_junior
from tests import factories

BASE = "/api/v1/clubs/weir-street/"


def test_me_says_who_i_am_and_my_membership_in_each_club(member, call):
    me = call(member).get("/api/v1/me/").json()
    assert (me["id"], me["email"]) == (member.user.pk, member.user.email)
    assert [(club["slug"], club["me"]["id"], club["me"]["roles"]) for club in me["clubs"]] == [
        ("weir-street", member.pk, ["member"])
    ]


def test_my_clubs_are_mine_only(member, outsider, call):
    rows = call(member).get("/api/v1/clubs/").json()["results"]
    assert [row["slug"] for row in rows] == ["weir-street"]


def test_the_keeper_opens_a_club(stranger, other_club, call):
    body = {"name": "Weir Street", "slug": "weir-street", "member_name": "Isolde"}
    organised = factories.MemberFactory(user=stranger)
    refused = call(organised).post("/api/v1/clubs/", body)
    assert (refused.status_code, refused["Content-Type"]) == (403, "application/problem+json")
    stranger.is_superuser = True
    stranger.save()
    assert call(organised).post("/api/v1/clubs/", body).status_code == 201


def test_a_change_of_one_fact_leaves_the_others(club, organiser, call):
    Club.objects.filter(pk=club.pk).update(about="We meet by the weir.")
    answer = call(organiser).patch(BASE, {"is_public": True}).json()
    assert (answer["is_public"], answer["about"], answer["name"]) == (
        True,
        "We meet by the weir.",
        "Weir Street Irregulars",
    )


@pytest.mark.parametrize("key", ["slug", "id", "club", "is_staff"])
def test_a_key_that_is_not_for_writing_is_refused(club, organiser, call, key):
    response = call(organiser).patch(BASE, {key: "else"})
    assert response.status_code == 400
    assert response.json()["errors"][0]["pointer"] == f"/{key}"


def test_a_number_is_no_name(club, organiser, call):
    assert call(organiser).post(f"{BASE}members/", {"name": 12}).status_code == 400


def test_what_concerns_minors_is_in_answers_to_organisers_only(club, organiser, member, opponent, call):
    mark_junior(opponent, is_junior=True, guardian_contact="Aunt Maud", by=organiser)
    seen = call(organiser).get(f"{BASE}members/{opponent.pk}/").json()
    assert (seen["is_junior"], seen["guardian_contact"]) == (True, "Aunt Maud")
    for reader in (member, opponent):
        for address in (f"{BASE}members/", f"{BASE}members/{opponent.pk}/", f"{BASE}log/", "/api/v1/me/"):
            answer = call(reader).get(address).content.decode()
            assert "guardian_contact" not in answer and "is_junior" not in answer and "Maud" not in answer
            assert "junior" not in answer and "under 18" not in answer


def test_what_concerns_minors_is_not_on_members_pages(club, organiser, member, opponent, browse):
    mark_junior(opponent, is_junior=True, guardian_contact="Aunt Maud", by=organiser)
    assert "under 18" not in browse(member).get("/clubs/weir-street/members/").content.decode().lower()


def test_an_invitation_answers_with_its_link_once(club, organiser, call):
    made = call(organiser).post(f"{BASE}invitations/", {"note": "For Isolde", "days": 3}).json()
    secret = made["link"].rstrip("/").split("/")[-1]
    assert invitation_by(secret).pk == made["id"]
    listed = call(organiser).get(f"{BASE}invitations/").content.decode()
    assert secret not in listed and "For Isolde" in listed


def test_an_invitation_names_no_guest_of_another_club(organiser, outsider, call):
    foreign = factories.GuestFactory(club=outsider.club)
    assert call(organiser).post(f"{BASE}invitations/", {"guest": foreign.pk}).status_code == 400


def test_every_reason_of_a_refusal_is_in_the_problem(club, organiser, call):
    body = {"uses_allowed": 3, "makes_umpire": True, "guest": factories.GuestFactory(club=club).pk}
    response = call(organiser).post(f"{BASE}invitations/", body)
    assert (response.status_code, response["Content-Type"]) == (422, "application/problem+json")
    assert [error["code"] for error in response.json()["errors"]] == ["office", "guest"]


def test_the_last_organiser_is_told_why_they_stay(club, organiser, call):
    response = call(organiser).patch(f"{BASE}members/{organiser.pk}/offices/", {"is_organiser": False})
    assert response.status_code == 422
    assert response.json()["errors"][0]["code"] == "last_organiser"


def test_the_same_night_twice_is_one_night(venue, organiser, call):
    body = {"venue": venue.pk, "on": "2026-03-26", "starts_at": "19:00"}
    ids = [call(organiser).post(f"{BASE}nights/", body).json()["id"] for _ in range(2)]
    assert ids == [Night.objects.get().pk] * 2


def test_a_night_in_a_venue_of_another_club_is_refused(organiser, outsider, call):
    venue = factories.VenueFactory(club=outsider.club)
    body = {"venue": venue.pk, "on": "2026-03-26", "starts_at": "19:00"}
    assert call(organiser).post(f"{BASE}nights/", body).status_code == 400


def test_a_member_answers_for_themselves_and_not_for_others(night, member, opponent, call):
    address = f"{BASE}nights/{night.pk}/attendance/"
    assert call(member).post(address, {"answer": "coming"}).json()["answer"] == "coming"
    assert call(member).post(address, {"answer": "coming", "member": opponent.pk}).status_code == 403
    assert [each.member for each in Attendance.objects.all()] == [member]


def test_nights_are_found_by_date(club, venue, night, member, call):
    factories.NightFactory(club=club, venue=venue, on="2026-05-01")
    rows = call(member).get(f"{BASE}nights/?on_or_before=2026-04-01").json()["results"]
    assert [row["on"] for row in rows] == ["2026-03-26"]


def test_a_filter_nobody_knows_is_refused(club, member, call):
    response = call(member).get(f"{BASE}nights/?colour=red")
    assert response.status_code == 400
    assert response.json()["errors"][0]["pointer"] == "/colour"


def test_the_log_tells_each_act_in_words(club, organiser, call):
    call(organiser).post(f"{BASE}members/", {"name": "Gorran"})
    row = call(organiser).get(f"{BASE}log/?act=guest_added").json()["results"][0]
    assert (row["by_name"], row["words"]) == ("Odalys", "added Gorran as a guest")


def test_a_table_changes_one_fact(venue, organiser, call):
    table = factories.TableFactory(venue=venue, number=3)
    answer = call(organiser).patch(f"{BASE}venues/{venue.pk}/tables/{table.pk}/", {"number": 4}).json()
    assert (answer["number"], answer["width_mm"]) == (4, 1800)


def test_a_cancelled_night_says_when(night, organiser, call):
    assert call(organiser).post(f"{BASE}nights/{night.pk}/cancel/").json()["cancelled_at"] is not None


def test_a_refused_write_leaves_no_line_in_the_book(club, organiser, call):
    call(organiser).patch(f"{BASE}members/{organiser.pk}/offices/", {"is_organiser": False})
    assert not LogEntry.objects.exists()
    assert Member.objects.get(pk=organiser.pk).is_organiser


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("invitations/?state=open", 1),
        ("invitations/?state=revoked", 0),
        ("venues/?is_closed=true", 0),
        ("venues/?is_closed=false", 1),
        ("nights/?is_cancelled=true", 0),
        ("nights/?is_cancelled=false", 1),
        ("members/?name=ODAL", 1),
        ("members/?role=organiser", 1),
        ("members/?role=member", 0),
        ("log/?act=invitation_made", 1),
        ("log/?subject=night:1000", 0),
    ],
)
def test_a_filter_finds_what_it_names(path, expected, organiser, night, call):
    call(organiser).post(f"{BASE}invitations/", {})
    assert call(organiser).get(f"{BASE}{path}").json()["count"] == expected
