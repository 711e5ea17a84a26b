"""Pairings from a list: what is read, what is wrong and where, and taking it in."""

from __future__ import annotations

import uuid
from datetime import date

import pytest
from django.urls import reverse

from league.seasons.models import Pairing
from league.seasons.queries.fixtures import read_fixtures
from league.seasons.services.entrants import withdraw
from league.seasons.services.fixtures import import_fixtures
from league.seasons.services.seasons import SeasonRefused

GOOD = "1, Brannoc, ceriden\n\n1; Gorran; bye\n2\tBrannoc\tGorran\t2026-02-14\n"


def faults(season, text) -> list[tuple[int, tuple[str, ...]]]:
    return [(line.number, line.faults) for line in read_fixtures(season, text) if line.faults]


def test_a_list_is_read_whatever_parts_its_cells(season, cast):
    told = [(line.round, [each.name for each in line.entrants], line.on) for line in read_fixtures(season, GOOD)]
    assert told == [
        (1, ["Brannoc", "Ceriden"], None),
        (1, ["Gorran"], None),
        (2, ["Brannoc", "Gorran"], date(2026, 2, 14)),
    ]


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("Brannoc, Ceriden", "Write the round, who, against whom, and perhaps the day."),
        ("first, Brannoc, Ceriden", "“first” is no number of a round."),
        ("1, Brannoc, Nobody", "Nobody called “Nobody” is in the season."),
        ("1, Brannoc, Brannoc", "Brannoc cannot meet themselves."),
        ("1, Brannoc, Ceriden, tomorrow", "“tomorrow” is no day; write it as 2030-11-14."),
    ],
)
def test_a_bad_line_says_what_is_wrong_with_it(season, cast, line, fault):
    assert faults(season, f"1, Gorran, Ulmar\n{line}") == [(2, (fault,))]


def test_who_is_in_a_round_twice_is_named(season, cast):
    assert faults(season, "1, Brannoc, Ceriden\n1, Gorran, Brannoc") == [
        (2, ("Brannoc is paired in round 1 already.",))
    ]


def test_who_has_left_is_named(season, cast, organiser):
    withdraw(cast["Brannoc"], reason="Moved", by=organiser)
    assert faults(season, "1, Brannoc, Ceriden") == [(1, ("Brannoc has left the season.",))]


def test_a_list_with_bad_lines_is_refused_whole_and_names_each(season, cast, organiser):
    with pytest.raises(SeasonRefused) as refusal:
        import_fixtures(season, text=f"{GOOD}x\n1, Ulmar, Nobody", submission=uuid.uuid4(), by=organiser)
    assert [each.message.split(":")[0] for each in refusal.value.violations] == ["Line 5", "Line 6"]
    assert not Pairing.objects.exists()


def test_a_list_arriving_twice_is_taken_in_once(season, cast, organiser):
    name = uuid.uuid4()
    import_fixtures(season, text=GOOD, submission=name, by=organiser)
    import_fixtures(season, text=GOOD, submission=name, by=organiser)
    assert Pairing.objects.count() == 3


def test_the_page_shows_what_was_read_before_anything_is_written(browse, season, cast, organiser):
    address = reverse("fixtures-import", kwargs={"club": season.club.slug, "pk": season.pk})
    facts = {"text": GOOD, "submission": str(uuid.uuid4())}
    looked = browse(organiser).post(address, {**facts, "step": "look"})
    assert "Nothing is written yet." in looked.text
    assert not Pairing.objects.exists()
    browse(organiser).post(address, {**facts, "step": "take"})
    assert Pairing.objects.count() == 3


def test_a_bad_line_keeps_the_page_from_offering_to_take_it_in(browse, season, cast, organiser):
    address = reverse("fixtures-import", kwargs={"club": season.club.slug, "pk": season.pk})
    page = browse(organiser).post(address, {"text": "1, Brannoc", "submission": str(uuid.uuid4()), "step": "look"})
    assert "1 line is wrong." in page.text
    assert "Take it in" not in page.text
