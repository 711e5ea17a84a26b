"""Rosters over the API."""

from __future__ import annotations

import uuid

import pytest

from league.rosters.models import Roster
from league.rosters.services.facts import UnitFacts

SCOUTS = {"name": "Scouts", "unit_class": "runners", "figures": 4, "points": 24}


@pytest.fixture
def address(club):
    return f"/api/v1/clubs/{club.slug}/rosters/"


def test_a_roster_is_read_with_its_units_as_they_stand_today(call, opponent, address, roster, fight):
    fight(Red_Company=(3, [1, 3, 6]))
    answer = call(opponent).get(f"{address}{roster.pk}/").data
    red = next(each for each in answer["units"] if each["name"] == "Red Company")
    assert (red["figures"], red["today"]["present"], red["today"]["lost"]) == (10, 8, 1)
    assert red["today"]["recovering"] == [{"figures": 1, "games_left": 1}]
    assert (answer["present"], answer["figures"], answer["is_legal"]) == (15, 17, True)


def test_a_roster_is_written_once_whatever_the_arrivals(call, member, address, ruleset):
    body = {"submission": str(uuid.uuid4()), "name": "Watch", "ruleset": ruleset.pk, "units": [SCOUTS]}
    first, second = (call(member).post(address, body) for _ in range(2))
    assert first.status_code == second.status_code == 201
    assert first.data["id"] == second.data["id"]
    assert (first.data["owner"], first.data["is_legal"]) == (member.pk, False)


def test_another_roster_under_the_same_submission_is_a_conflict(call, member, address, ruleset):
    body = {"submission": str(uuid.uuid4()), "name": "Watch", "ruleset": ruleset.pk}
    call(member).post(address, body)
    assert call(member).post(address, {**body, "name": "Other"}).status_code == 409


def test_what_cannot_be_kept_answers_with_a_pointer_for_each_reason(call, member, address, ruleset):
    units = [SCOUTS, {**SCOUTS, "unit_class": "dragons", "quality": "brave"}]
    body = {"submission": str(uuid.uuid4()), "name": "Watch", "ruleset": ruleset.pk, "units": units}
    answer = call(member).post(address, body)
    assert answer.status_code == 422
    assert {each["pointer"] for each in answer.data["errors"]} == {"/units/1/unit_class", "/units/1/quality"}


def test_keys_nobody_knows_are_refused_at_every_depth(call, member, address, ruleset):
    body = {"submission": str(uuid.uuid4()), "name": "W", "ruleset": ruleset.pk, "units": [{**SCOUTS, "morale": 9}]}
    answer = call(member).post(address, body)
    assert answer.status_code == 400
    assert answer.data["errors"][0]["pointer"] == "/units/0/morale"


def test_a_ruleset_of_another_club_is_unknown(call, outsider, other_club, ruleset):
    body = {"submission": str(uuid.uuid4()), "name": "W", "ruleset": ruleset.pk}
    assert call(outsider).post(f"/api/v1/clubs/{other_club.slug}/rosters/", body).status_code == 400


def test_a_change_names_the_version_it_was_read_at(call, member, address, roster):
    row = f"{address}{roster.pk}/"
    assert call(member).patch(row, {"name": "Renamed"}).status_code == 400
    assert call(member).patch(row, {"name": "Renamed", "version": 1}).data["version"] == 2
    assert call(member).patch(row, {"name": "Again", "version": 1}).status_code == 409
    roster.refresh_from_db()
    assert (roster.name, roster.faction) == ("Renamed", "Commons of Arrel")


def test_units_are_listed_added_changed_and_removed(call, member, address, roster):
    units = f"{address}{roster.pk}/units/"
    assert len(call(member).get(units).data) == 3
    added = call(member).post(units, {**SCOUTS, "version": 1})
    assert (added.status_code, added.data["today"]["present"]) == (201, 4)
    row = f"{units}{added.data['id']}/"
    assert call(member).patch(row, {"points": 30, "version": 2}).data["points"] == 30
    assert call(member).patch(row, {"points": 31, "version": 2}).status_code == 409
    assert call(member).get(row).data["points"] == 30
    assert call(member).delete(row).status_code == 204
    assert call(member).get(row).status_code == 404


def test_a_copy_belongs_to_whoever_made_it(call, opponent, address, roster):
    body = {"submission": str(uuid.uuid4()), "name": "Mine"}
    copied = call(opponent).post(f"{address}{roster.pk}/copy/", body)
    assert copied.status_code == 201
    assert (copied.data["owner"], copied.data["copied_from"]) == (opponent.pk, roster.pk)


def test_a_dry_run_says_what_would_be_read_and_writes_nothing(call, member, address, roster):
    body = {"text": "2x line, 8 figures, 40 pts\ndragon, lots", "version": 1}
    answer = call(member).post(f"{address}{roster.pk}/import/", body)
    assert (answer.status_code, answer.data["written"]) == (200, False)
    assert (len(answer.data["units"]), [each["line_number"] for each in answer.data["bad_lines"]]) == (2, [2])
    assert roster.units.count() == 3


def test_an_import_writes_all_or_nothing(call, member, address, roster):
    row = f"{address}{roster.pk}/import/"
    bad = {"text": "line, 8 figures, 40 pts\ndragon, lots", "version": 1, "dry_run": False}
    assert call(member).post(row, bad).status_code == 422
    assert roster.units.count() == 3
    good = {"text": "line, 8 figures, 40 pts", "version": 1, "dry_run": False}
    assert call(member).post(row, good).data["version"] == 2
    assert roster.units.count() == 4
    assert call(member).post(row, good).status_code == 409


def test_the_strength_says_why_with_dice_and_table(call, member, address, roster, fight):
    fight(Red_Company=(1, [3]))
    answer = call(member).get(f"{address}{roster.pk}/strength/").data
    red = next(each for each in answer["units"] if each["name"] == "Red Company")
    out = next(each for each in red["battles"][0]["changes"] if each["what"] == "out")
    assert (out["table"], out["rolls"], out["games"]) == ("foot", [3], 1)
    assert answer["impossible"] == []


def test_the_strength_names_reports_that_no_longer_fit(call, member, address, roster, fight):
    first = fight()
    later = fight(Red_Company=(6, [6] * 6))
    fight(Red_Company=(8, [1] * 8), replaces=first)
    assert [each["engagement"] for each in call(member).get(f"{address}{roster.pk}/strength/").data["impossible"]] == [
        later.pk
    ]


def test_retiring_and_bringing_back(call, member, address, roster):
    assert call(member).post(f"{address}{roster.pk}/retire/").data["retired_at"]
    assert call(member).get(address, {"is_retired": "true"}).data["count"] == 1
    assert call(member).post(f"{address}{roster.pk}/bring-back/").data["retired_at"] is None


def test_a_filter_nobody_knows_is_refused(call, member, address, roster):
    assert call(member).get(address, {"colour": "red"}).status_code == 400


@pytest.mark.parametrize(
    ("who", "reads", "changes"),
    [("member", 200, 200), ("opponent", 200, 403), ("organiser", 200, 200), ("outsider", 404, 404)],
)
def test_who_reads_and_who_changes(call, request, address, roster, who, reads, changes):
    client = call(request.getfixturevalue(who))
    assert client.get(f"{address}{roster.pk}/").status_code == reads
    assert client.patch(f"{address}{roster.pk}/", {"name": "N", "version": 1}).status_code == changes


@pytest.mark.parametrize("rest", ["", "strength/", "units/"])
def test_signed_out_is_answered_401(call, address, roster, rest):
    assert call(None).get(f"{address}{roster.pk}/{rest}").status_code == 401


def test_a_roster_shown_to_anyone_is_still_not_another_clubs_to_change(call, outsider, club, member, address, roster):
    club.is_public = member.shows_page = member.shows_rosters = True
    club.save()
    member.save()
    assert call(outsider).patch(f"{address}{roster.pk}/", {"name": "N", "version": 1}).status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_costs_the_same_queries_whatever_its_length(
    call, member, address, write, count, django_assert_num_queries
):
    for number in range(count):
        write(member, [UnitFacts(name="A", unit_class="line", figures=8, points=40)], name=f"Roster {number}")
    client = call(member)
    with django_assert_num_queries(4):
        answer = client.get(address)
    assert answer.data["count"] == Roster.objects.count() == count


@pytest.mark.parametrize("count", [1, 3])
def test_a_roster_costs_the_same_queries_whatever_its_units(
    call, member, address, write, count, django_assert_num_queries
):
    units = [UnitFacts(name=f"Unit {number}", unit_class="line", figures=8, points=40) for number in range(count)]
    roster = write(member, units)
    client = call(member)
    with django_assert_num_queries(7):
        client.get(f"{address}{roster.pk}/")
