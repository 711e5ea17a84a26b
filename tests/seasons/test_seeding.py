"""Seeding everybody at once: by the club's ratings, or by lot."""

from __future__ import annotations

import uuid

import pytest

from league.errors import NotYoursToDo
from league.seasons.queries.brackets import brackets_of
from league.seasons.services.entrants import enter_each
from league.seasons.services.pairings import pair
from league.seasons.services.placing import place_entrant, seed_everybody
from league.seasons.services.rounds import open_play
from league.seasons.services.seasons import SeasonRefused
from tests import factories
from tests.seasons.drafted import fill, next_round, report

KNOCKOUT = {"format": "knockout"}


@pytest.fixture
def four(season, organiser):
    return fill(season, 4, by=organiser, pairing=KNOCKOUT)


@pytest.fixture
def rated(club, season, four, organiser):
    """The third beat the first and the first the second in a season before; the fourth has never played."""
    before = factories.SeasonFactory(club=club, ruleset=season.ruleset, rules=season.rules)
    people = [entrant.players.get().member_id for entrant in four[:3]]
    old = enter_each(before, member_ids=people, by=organiser)
    friendly = open_play(before, by=organiser)
    for winner, loser in ((2, 0), (0, 1), (2, 1)):
        ids = [old[winner].pk, old[loser].pk]
        report(pair(friendly, entrant_ids=ids, submission=uuid.uuid4(), by=organiser), 9, 4, by=organiser)
    return four


def places(season) -> dict[str, int | None]:
    return dict(season.entrants.values_list("key", "seed_number"))


def test_by_rating_the_strongest_is_first_and_who_has_none_has_no_place(season, rated, organiser):
    seed_everybody(season, order="rating", by=organiser)
    first, second, third, fourth = rated
    assert places(season) == {third.key: 1, first.key: 2, second.key: 3, fourth.key: None}


def test_a_knockout_so_seeded_keeps_the_best_two_apart(season, rated, organiser):
    seed_everybody(season, order="rating", by=organiser)
    next_round(season, by=organiser)
    first, second, third, fourth = (entrant.key for entrant in rated)
    (bracket,) = brackets_of(season)
    met = {frozenset(side.key for side in line.sides if side) for line in bracket.lines if line.round == 1}
    assert met == {frozenset({third, fourth}), frozenset({first, second})}


def test_seeding_twice_is_seeding_once(season, rated, organiser):
    seed_everybody(season, order="rating", by=organiser)
    once = places(season)
    seed_everybody(season, order="rating", by=organiser)
    assert places(season) == once


def test_by_lot_nobody_has_a_place(season, four, organiser):
    place_entrant(four[0], seed_number=1, by=organiser)
    seed_everybody(season, order="lot", by=organiser)
    assert set(places(season).values()) == {None}


def test_without_a_rated_entrant_there_is_nothing_to_go_by(season, four, organiser):
    place_entrant(four[0], seed_number=1, by=organiser)
    with pytest.raises(SeasonRefused, match="has a rating yet"):
        seed_everybody(season, order="rating", by=organiser)
    assert places(season)[four[0].key] == 1


def test_a_bracket_that_is_drawn_keeps_its_seeding(season, rated, organiser):
    next_round(season, by=organiser)
    with pytest.raises(SeasonRefused, match="cannot change any more"):
        seed_everybody(season, order="rating", by=organiser)


def test_seeding_takes_an_organiser(season, four, member):
    with pytest.raises(NotYoursToDo):
        seed_everybody(season, order="lot", by=member)


def test_an_organiser_does_it_on_its_page(browse, club, season, rated, organiser):
    address = f"/clubs/{club.slug}/seasons/{season.pk}/seeding/"
    page = browse(organiser).post(address, {"order": "rating"}, follow=True).content.decode()
    assert "The seeding is numbered." in page
    assert places(season)[rated[2].key] == 1


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_takes_the_same_queries_however_many_take_part(
    browse, club, season, organiser, count, django_assert_num_queries
):
    fill(season, count, by=organiser, pairing=KNOCKOUT)
    client = browse(organiser)
    with django_assert_num_queries(8):
        client.get(f"/clubs/{club.slug}/seasons/{season.pk}/seeding/")


def test_the_seeding_over_the_api(call, club, season, rated, organiser):
    address = f"/api/v1/clubs/{club.slug}/seasons/{season.pk}/seeding/"
    api = call(organiser)
    told = api.put(address, {"order": "rating"}, format="json").json()
    assert [(line["id"], line["seed_number"]) for line in told] == [
        (rated[2].key, 1),
        (rated[0].key, 2),
        (rated[1].key, 3),
        (rated[3].key, None),
    ]
    assert api.get(address).json() == told
