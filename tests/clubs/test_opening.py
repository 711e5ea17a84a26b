from __future__ import annotations

import pytest

from league.clubs.models import Club, LogEntry
from league.clubs.services.clubs import ClubRefused, OpeningRefused, change_club, open_club

FACTS = {"name": "Weir Street Irregulars", "slug": "weir-street", "member_name": "Isolde"}


def test_the_first_club_may_be_opened_by_anyone_and_its_founder_is_organiser(stranger):
    club = open_club(stranger, **FACTS)
    assert [(each.name, each.is_organiser) for each in club.members.all()] == [("Isolde", True)]


def test_the_second_club_is_for_the_keeper_of_the_site(stranger, other_club):
    with pytest.raises(OpeningRefused, match="keeper of this site"):
        open_club(stranger, **FACTS)


def test_the_keeper_of_the_site_opens_further_clubs(stranger, other_club):
    stranger.is_superuser = True
    assert open_club(stranger, **FACTS).slug == "weir-street"


def test_a_site_open_to_all_lets_anyone_open_a_club(stranger, other_club, settings):
    settings.SIGNUP_IS_OPEN = True
    assert open_club(stranger, **FACTS).slug == "weir-street"


def test_everything_that_is_wrong_with_a_club_is_said_at_once(stranger):
    with pytest.raises(ClubRefused) as refusal:
        open_club(stranger, name=" ", slug="Weir Street!", member_name="")
    assert set(refusal.value.by_field()) == {"name", "slug", "member_name"}


@pytest.mark.parametrize("slug", ["new", "upper-lock"])
def test_an_address_that_is_taken_is_refused(stranger, other_club, settings, slug):
    settings.SIGNUP_IS_OPEN = True
    with pytest.raises(ClubRefused, match="taken"):
        open_club(stranger, **{**FACTS, "slug": slug})


def test_a_double_tap_opens_one_club(stranger):
    assert open_club(stranger, **FACTS) == open_club(stranger, **FACTS)
    assert Club.objects.count() == 1


def test_changing_a_club_is_written_in_its_book(club, organiser):
    change_club(club, name="Weir Street", about="", time_zone="Europe/Madrid", is_public=True, by=organiser)
    club.refresh_from_db()
    assert (club.name, club.time_zone, club.is_public) == ("Weir Street", "Europe/Madrid", True)
    assert LogEntry.objects.get(club=club).act == "club_changed"


def test_a_club_without_name_in_an_unknown_time_zone_is_refused_for_both(club, organiser):
    with pytest.raises(ClubRefused) as refusal:
        change_club(club, name="", about="", time_zone="Weir/Street", is_public=False, by=organiser)
    assert set(refusal.value.by_field()) == {"name", "time_zone"}


def test_a_person_opens_the_first_club_on_its_page(stranger, client):
    client.force_login(stranger, backend="allauth.account.auth_backends.AuthenticationBackend")
    assert client.get("/clubs/new/").status_code == 200
    assert client.post("/clubs/new/", FACTS).url == "/clubs/weir-street/members/"


def test_the_page_says_in_words_that_clubs_are_opened_by_the_keeper(browse, member):
    response = browse(member).get("/clubs/new/")
    assert response.status_code == 403
    assert "keeper of this site" in response.content.decode()
