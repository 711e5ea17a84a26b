from __future__ import annotations

import pytest

from league.clubs.models import Table, Venue
from league.clubs.services.venues import TableRefused, VenueRefused, add_table, add_venue, change_table, change_venue
from tests import factories

SIX_BY_FOUR = {"width_mm": 1829, "depth_mm": 1219}


def test_a_venue_is_added_once_however_often_it_is_sent(club, organiser):
    assert add_venue(club, name="Hall", by=organiser) == add_venue(club, name="Hall", by=organiser)


def test_two_venues_of_one_name_are_refused(club, organiser):
    add_venue(club, name="Hall", by=organiser)
    with pytest.raises(VenueRefused, match="of this name already"):
        add_venue(club, name="Hall", address="elsewhere", by=organiser)


def test_a_venue_is_closed_and_opened_again(venue, organiser):
    facts = {"name": venue.name, "address": "", "note": ""}
    assert change_venue(venue, **facts, is_closed=True, by=organiser).closed_at is not None
    assert change_venue(venue, **facts, is_closed=False, by=organiser).closed_at is None


def test_a_table_is_added_once_however_often_it_is_sent(venue, organiser):
    first = add_table(venue, number=1, **SIX_BY_FOUR, by=organiser)
    assert add_table(venue, number=1, **SIX_BY_FOUR, by=organiser) == first


def test_everything_wrong_with_a_table_is_said_at_once(venue, organiser):
    add_table(venue, number=1, **SIX_BY_FOUR, by=organiser)
    with pytest.raises(TableRefused) as refusal:
        add_table(venue, number=1, width_mm=299, depth_mm=10_001, by=organiser)
    assert set(refusal.value.by_field()) == {"number", "width_mm", "depth_mm"}


def test_a_table_may_be_changed_without_changing_its_number(venue, organiser):
    table = add_table(venue, number=1, **SIX_BY_FOUR, by=organiser)
    assert change_table(table, number=1, width_mm=1200, depth_mm=1200, note="", by=organiser).width_mm == 1200


def test_an_organiser_types_a_size_and_everyone_reads_it_in_both_units(venue, organiser, member, browse):
    browse(organiser).post(f"/clubs/weir-street/venues/{venue.pk}/tables/new/", {"number": 1, "size": "6 x 4 ft"})
    page = browse(member).get(f"/clubs/weir-street/venues/{venue.pk}/").content.decode()
    assert "6 ft × 4 ft (182.9 cm × 121.9 cm)" in page


def test_a_size_without_unit_is_asked_for_its_unit(venue, organiser, browse):
    response = browse(organiser).post(
        f"/clubs/weir-street/venues/{venue.pk}/tables/new/", {"number": 1, "size": "6 x 4"}
    )
    assert response.status_code == 422
    assert "Say the unit as well" in response.content.decode()


def test_an_implausible_size_is_refused_on_the_page(venue, organiser, browse):
    response = browse(organiser).post(
        f"/clubs/weir-street/venues/{venue.pk}/tables/new/", {"number": 1, "size": "6 x 4 cm"}
    )
    assert response.status_code == 422
    assert "between 30 cm and 10 m" in response.content.decode()


def test_the_form_of_a_table_gives_back_its_size_to_the_millimetre(venue, organiser, browse):
    table = factories.TableFactory(venue=venue, number=1, width_mm=1829, depth_mm=1219)
    address = f"/clubs/weir-street/venues/{venue.pk}/tables/{table.pk}/edit/"
    assert "1829 x 1219 mm" in browse(organiser).get(address).content.decode()
    browse(organiser).post(address, {"number": 1, "size": "1829 x 1219 mm", "note": "by the door"})
    table.refresh_from_db()
    assert (table.width_mm, table.depth_mm, table.note) == (1829, 1219, "by the door")


def test_a_table_is_not_reached_through_another_venue(venue, organiser, browse):
    table = factories.TableFactory(venue=factories.VenueFactory(club=venue.club))
    assert browse(organiser).get(f"/clubs/weir-street/venues/{venue.pk}/tables/{table.pk}/edit/").status_code == 404


def test_an_organiser_adds_and_changes_a_venue(club, organiser, browse):
    browse(organiser).post("/clubs/weir-street/venues/new/", {"name": "Hall"})
    venue = Venue.objects.get()
    browse(organiser).post(f"/clubs/weir-street/venues/{venue.pk}/edit/", {"name": "Old Hall", "is_closed": "on"})
    venue.refresh_from_db()
    assert venue.name == "Old Hall" and venue.closed_at is not None


def test_a_new_table_is_offered_the_next_number(venue, organiser, browse):
    factories.TableFactory(venue=venue, number=4)
    page = browse(organiser).get(f"/clubs/weir-street/venues/{venue.pk}/tables/new/").content.decode()
    assert 'name="number" value="5"' in page
    assert Table.objects.count() == 1
