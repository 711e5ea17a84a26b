"""Who gets where: every page and endpoint of the room asked by organiser, member, outsider and a signed-out visitor."""

from __future__ import annotations

import pytest

from league.clubs.models import Club, LogEntry
from league.clubs.permissions import (
    can_answer_for,
    can_change_privacy,
    can_remove,
    can_rename,
    can_run_club,
    can_see_guardian,
    can_umpire,
)
from league.clubs.services.invitations import invite
from league.clubs.services.members import leave_club
from tests import factories

FOR_ORGANISERS = [
    "edit/",
    "members/guests/new/",
    "members/{member}/edit/",
    "members/{member}/junior/",
    "members/{member}/remove/",
    "members/{other}/name/",
    "invitations/",
    "invitations/new/",
    "invitations/{invitation}/revoke/",
    "venues/new/",
    "venues/{venue}/edit/",
    "venues/{venue}/tables/new/",
    "venues/{venue}/tables/{table}/edit/",
    "nights/new/",
    "nights/{night}/edit/",
    "nights/{night}/cancel/",
]
FOR_MEMBERS = [
    "members/",
    "members/{member}/name/",
    "my-privacy/",
    "leave/",
    "book/",
    "venues/",
    "venues/{venue}/",
    "nights/",
    "nights/{night}/",
    "nights/{night}/answer/",
]
ROWS = [page for page in FOR_ORGANISERS + FOR_MEMBERS if "{" in page]

API_READS_FOR_MEMBERS = [
    "",
    "members/",
    "members/{member}/",
    "venues/",
    "venues/{venue}/",
    "venues/{venue}/tables/",
    "nights/",
    "nights/{night}/",
    "nights/{night}/attendance/",
    "log/",
]
API_WRITES_FOR_ORGANISERS = [
    ("patch", "", {"name": "Changed"}),
    ("post", "members/", {"name": "Somebody"}),
    ("patch", "members/{other}/name/", {"name": "Changed"}),
    ("patch", "members/{member}/offices/", {"is_umpire": True}),
    ("patch", "members/{member}/junior/", {"is_junior": True}),
    ("post", "members/{other}/leave/", {}),
    ("post", "invitations/", {}),
    ("delete", "invitations/{invitation}/", None),
    ("post", "venues/", {"name": "Hall"}),
    ("patch", "venues/{venue}/", {"name": "Changed"}),
    ("post", "venues/{venue}/tables/", {"number": 99, "width_mm": 1800, "depth_mm": 1200}),
    ("patch", "venues/{venue}/tables/{table}/", {"note": "Changed"}),
    ("post", "nights/", {"venue": "{venue}", "on": "2026-04-02", "starts_at": "19:00"}),
    ("patch", "nights/{night}/", {"title": "Changed"}),
    ("post", "nights/{night}/cancel/", {}),
]


@pytest.fixture
def rows(club, organiser, member, opponent, venue, night):
    return rows_of(organiser, member, opponent, venue, night)


@pytest.fixture
def foreign_rows(outsider):
    club = outsider.club
    venue = factories.VenueFactory(club=club)
    people = factories.MemberFactory.create_batch(2, club=club)
    return rows_of(outsider, *people, venue, factories.NightFactory(club=club, venue=venue))


def rows_of(organiser, member, other, venue, night):
    return {
        "member": member.pk,
        "other": other.pk,
        "venue": venue.pk,
        "night": night.pk,
        "table": factories.TableFactory(venue=venue).pk,
        "invitation": invite(organiser.club, by=organiser)[0].pk,
    }


def page(path, rows):
    return "/clubs/weir-street/" + path.format(**rows)


def endpoint(path, rows):
    return "/api/v1/clubs/weir-street/" + path.format(**rows)


def filled(body, rows):
    if body is None:
        return None
    return {key: rows["venue"] if value == "{venue}" else value for key, value in body.items()}


@pytest.mark.parametrize("path", FOR_ORGANISERS + FOR_MEMBERS)
def test_an_organiser_opens_every_page(path, rows, organiser, browse):
    assert browse(organiser).get(page(path, rows)).status_code == 200


@pytest.mark.parametrize("path", FOR_MEMBERS)
def test_a_member_opens_the_pages_of_members(path, rows, member, browse):
    assert browse(member).get(page(path, rows)).status_code == 200


@pytest.mark.parametrize("path", FOR_ORGANISERS)
def test_a_member_is_kept_from_the_pages_of_organisers(path, rows, member, browse):
    browser = browse(member)
    assert [browser.get(page(path, rows)).status_code, browser.post(page(path, rows)).status_code] in (
        [403, 403],
        [403, 405],
    )


@pytest.mark.parametrize("path", FOR_ORGANISERS + FOR_MEMBERS)
def test_an_outsider_finds_nothing(path, rows, outsider, browse):
    assert browse(outsider).get(page(path, rows)).status_code == 404


@pytest.mark.parametrize("path", FOR_ORGANISERS + FOR_MEMBERS)
def test_a_visitor_is_led_to_sign_in(path, rows, browse):
    assert browse(None).get(page(path, rows)).url.startswith("/account/login/?next=")


@pytest.mark.parametrize("path", FOR_ORGANISERS + FOR_MEMBERS)
def test_public_pages_of_a_club_do_not_open_the_members_own(path, rows, club, outsider, browse):
    Club.objects.filter(pk=club.pk).update(is_public=True)
    assert browse(outsider).get(page(path, rows)).status_code == 404


@pytest.mark.parametrize("path", ROWS)
def test_another_clubs_rows_are_not_found_under_ones_own_club(path, foreign_rows, organiser, browse):
    assert browse(organiser).get(page(path, foreign_rows)).status_code == 404


def test_whoever_left_is_an_outsider(club, organiser, member, browse):
    leave_club(member, by=member)
    assert browse(member).get("/clubs/weir-street/members/").status_code == 404


@pytest.mark.parametrize("path", API_READS_FOR_MEMBERS)
def test_a_member_reads_over_the_api(path, rows, member, call):
    assert call(member).get(endpoint(path, rows)).status_code == 200


@pytest.mark.parametrize("path", [*API_READS_FOR_MEMBERS, "invitations/"])
def test_an_outsider_reads_nothing_over_the_api(path, rows, outsider, call):
    assert call(outsider).get(endpoint(path, rows)).status_code == 404


@pytest.mark.parametrize("path", [*API_READS_FOR_MEMBERS, "invitations/"])
def test_a_visitor_reads_nothing_over_the_api(path, rows, call):
    assert call(None).get(endpoint(path, rows)).status_code == 401


@pytest.mark.parametrize("path", [path for path in API_READS_FOR_MEMBERS if "{" in path])
def test_another_clubs_rows_are_not_read_through_ones_own_club(path, foreign_rows, organiser, call):
    assert call(organiser).get(endpoint(path, foreign_rows)).status_code == 404


def test_only_organisers_list_invitations_over_the_api(rows, organiser, member, call):
    address = endpoint("invitations/", rows)
    assert (call(organiser).get(address).status_code, call(member).get(address).status_code) == (200, 403)


@pytest.mark.parametrize(("method", "path", "body"), API_WRITES_FOR_ORGANISERS)
def test_an_organiser_writes_over_the_api(method, path, body, rows, organiser, call):
    response = getattr(call(organiser), method)(endpoint(path, rows), filled(body, rows))
    assert response.status_code in {200, 201, 204}


@pytest.mark.parametrize(("method", "path", "body"), API_WRITES_FOR_ORGANISERS)
def test_a_member_does_not_write_what_is_for_organisers(method, path, body, rows, member, call):
    before = LogEntry.objects.count()
    assert getattr(call(member), method)(endpoint(path, rows), filled(body, rows)).status_code == 403
    assert LogEntry.objects.count() == before


@pytest.mark.parametrize(("method", "path", "body"), API_WRITES_FOR_ORGANISERS)
def test_an_outsider_writes_nothing(method, path, body, rows, outsider, call):
    before = LogEntry.objects.count()
    assert getattr(call(outsider), method)(endpoint(path, rows), filled(body, rows)).status_code == 404
    assert LogEntry.objects.count() == before


@pytest.mark.parametrize(("method", "path", "body"), [each for each in API_WRITES_FOR_ORGANISERS if "{" in each[1]])
def test_another_clubs_rows_are_not_written_through_ones_own_club(method, path, body, foreign_rows, organiser, call):
    before = LogEntry.objects.count()
    assert getattr(call(organiser), method)(endpoint(path, foreign_rows), body).status_code == 404
    assert LogEntry.objects.count() == before


def test_an_organiser_does_not_choose_a_members_privacy(rows, organiser, call):
    response = call(organiser).patch(endpoint("members/{member}/privacy/", rows), {"shows_page": True})
    assert response.status_code == 403


def test_a_member_chooses_their_own_privacy(rows, member, call):
    response = call(member).patch(endpoint("members/{member}/privacy/", rows), {"shows_page": True})
    assert response.status_code == 200 and response.json()["shows_page"] is True


def test_a_member_leaves_by_themselves(rows, member, call):
    assert call(member).post(endpoint("members/{member}/leave/", rows)).status_code == 204
    assert call(member).get(endpoint("", rows)).status_code == 404


def test_who_runs_the_club_and_who_umpires(organiser, umpire, member):
    assert [can_run_club(each) for each in (organiser, umpire, member, None)] == [True, False, False, False]
    assert [can_umpire(each) for each in (organiser, umpire, member, None)] == [False, True, False, False]


def test_an_organiser_who_left_runs_nothing(club, organiser):
    factories.MemberFactory(club=club, is_organiser=True)
    leave_club(organiser, by=organiser)
    organiser.is_organiser = True
    assert not can_run_club(organiser)


def test_only_organisers_of_the_same_club_see_a_guardian(organiser, outsider, member):
    assert [can_see_guardian(each, member) for each in (organiser, outsider, member, None)] == [
        True,
        False,
        False,
        False,
    ]


def test_only_oneself_chooses_ones_privacy(organiser, member):
    assert [can_change_privacy(each, member) for each in (member, organiser, None)] == [True, False, False]


def test_oneself_and_organisers_of_the_same_club_rename_and_remove(organiser, member, opponent, outsider):
    for can in (can_rename, can_remove):
        assert [can(each, member) for each in (member, organiser, opponent, outsider)] == [True, True, False, False]


def test_oneself_and_organisers_of_the_same_club_answer_a_night(night, organiser, member, opponent, outsider):
    asked = (member, organiser, opponent, outsider)
    assert [can_answer_for(each, night, member) for each in asked] == [True, True, False, False]
