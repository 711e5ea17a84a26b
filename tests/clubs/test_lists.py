"""Lists cost the same number of queries with one row and with three."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from league.clubs.services.invitations import invite
from league.clubs.services.members import add_guest
from tests import factories


@pytest.fixture
def fill(club, organiser, venue):
    """Put that many more rows into every list of the club."""

    def rows(number):
        today = timezone.localdate()
        for index in range(number):
            add_guest(club, name=f"Guest {index}", by=organiser)
            invite(club, note=f"Link {index}", by=organiser)
            factories.VenueFactory(club=club)
            factories.TableFactory(venue=venue)
            factories.NightFactory(club=club, venue=venue, on=today + timedelta(days=index))

    return rows


@pytest.fixture
def first_night(club, venue):
    return factories.NightFactory(club=club, venue=venue, on=timezone.localdate() + timedelta(days=99))


PAGES = [
    ("members/", 6),
    ("invitations/", 6),
    ("book/", 6),
    ("venues/", 6),
    ("venues/{venue}/", 7),
    ("nights/", 6),
    ("nights/{night}/", 6),
]
ENDPOINTS = [
    ("members/", 4),
    ("invitations/", 4),
    ("log/", 4),
    ("venues/", 4),
    ("venues/{venue}/tables/", 5),
    ("nights/", 4),
    ("nights/{night}/attendance/", 4),
]


@pytest.mark.parametrize("number", [1, 3])
@pytest.mark.parametrize(("path", "queries"), PAGES)
def test_a_page_takes_the_same_queries_for_any_number_of_rows(
    path, queries, number, fill, venue, first_night, organiser, browse, django_assert_num_queries
):
    fill(number)
    browser = browse(organiser)
    address = "/clubs/weir-street/" + path.format(venue=venue.pk, night=first_night.pk)
    with django_assert_num_queries(queries):
        assert browser.get(address).status_code == 200


@pytest.mark.parametrize("number", [1, 3])
@pytest.mark.parametrize(("path", "queries"), ENDPOINTS)
def test_an_endpoint_takes_the_same_queries_for_any_number_of_rows(
    path, queries, number, fill, venue, first_night, organiser, call, django_assert_num_queries
):
    fill(number)
    address = "/api/v1/clubs/weir-street/" + path.format(venue=venue.pk, night=first_night.pk)
    with django_assert_num_queries(queries):
        assert call(organiser).get(address).status_code == 200


@pytest.mark.parametrize("number", [1, 3])
def test_my_clubs_take_the_same_queries_for_any_number(number, member, call, django_assert_num_queries):
    factories.MemberFactory.create_batch(number, user=member.user)
    with django_assert_num_queries(3):
        assert call(member).get("/api/v1/clubs/").json()["count"] == number + 1
    with django_assert_num_queries(2):
        assert len(call(member).get("/api/v1/me/").json()["clubs"]) == number + 1


def test_a_list_is_narrowed_by_a_filter_on_page_and_api_alike(club, organiser, member, guest, browse, call):
    page = browse(organiser).get("/clubs/weir-street/members/?role=guest").content.decode()
    assert "Gorran" in page and "Brannoc" not in page
    rows = call(organiser).get("/api/v1/clubs/weir-street/members/?role=guest").json()["results"]
    assert [row["name"] for row in rows] == ["Gorran"]


def test_a_list_is_sorted_by_its_heads(club, organiser, member, browse):
    page = browse(organiser).get("/clubs/weir-street/members/?sort=-name").content.decode()
    assert page.index("Odalys</a></td>") < page.index("Brannoc</a></td>")


def test_a_list_comes_in_pages(club, organiser, call):
    factories.GuestFactory.create_batch(3, club=club)
    answer = call(organiser).get("/api/v1/clubs/weir-street/members/?page_size=2").json()
    assert (answer["count"], len(answer["results"])) == (4, 2)
    assert answer["next"].endswith("?page=2&page_size=2")
