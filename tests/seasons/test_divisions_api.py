"""Divisions, the season after, and lists of pairings over the API."""

from __future__ import annotations

import uuid

import pytest
from django.urls import reverse

from league.seasons.models import Season
from league.seasons.services.divisions import add_division
from league.seasons.services.placing import place_entrant

pytestmark = pytest.mark.django_db


@pytest.fixture
def send(browse, organiser, season):
    def sent(method: str, name: str, body: object, **where: object):
        address = reverse(name, kwargs={"club": season.club.slug, "season": season.pk, **where})
        return getattr(browse(organiser), method)(address, body, content_type="application/json")

    return sent


def test_a_division_is_added_and_changed(send):
    made = send("post", "api-divisions", {"name": "Upper reach", "level": 1, "relegates": 1})
    assert made.status_code == 201
    assert made.json() == {"id": "upper-reach", "name": "Upper reach", "level": 1, "promotes": 0, "relegates": 1}
    changed = send("put", "api-division", {"name": "Upper water", "level": 2}, division="upper-reach")
    assert changed.json() == {"id": "upper-reach", "name": "Upper water", "level": 2, "promotes": 0, "relegates": 0}


def test_two_divisions_at_one_level_are_refused_at_the_level(send, season, organiser):
    add_division(season, name="Upper reach", level=1, by=organiser)
    answer = send("post", "api-divisions", {"name": "Lower reach", "level": 1})
    assert answer.status_code == 422
    assert [each["pointer"] for each in answer.json()["errors"]] == ["/level"]


def test_the_season_after_has_everybody_in_their_division_once(send, season, cast, organiser):
    division = add_division(season, name="Upper reach", level=1, by=organiser)
    for entrant in cast.values():
        place_entrant(entrant, division=division, by=organiser)
    body = {"submission": str(uuid.uuid4()), "name": "Summer", "starts_on": "2026-06-01"}
    first, second = (send("post", "api-next-season", body) for _time in range(2))
    assert (first.status_code, second.json()["id"]) == (201, first.json()["id"])
    made = Season.objects.get(pk=first.json()["id"])
    assert {row.name for row in made.entrants.filter(division__name="Upper reach")} == set(cast)


def test_a_list_is_taken_in_and_a_bad_one_names_its_lines(send, cast):
    one, other, third, _fourth = cast
    text = f"1, {one}, {other}\n1, {third}, bye"
    made = send("post", "api-fixtures", {"submission": str(uuid.uuid4()), "text": text})
    assert made.status_code == 201
    assert [[seat["entrant"] for seat in each["seats"]] for each in made.json()] == [
        [cast[one].key, cast[other].key],
        [cast[third].key],
    ]
    bad = send("post", "api-fixtures", {"submission": str(uuid.uuid4()), "text": f"2, {one}, Nobody At All\nx"})
    assert bad.status_code == 422
    assert {each["detail"].split(":")[0] for each in bad.json()["errors"]} == {"Line 1", "Line 2"}
