"""Games that players arrange themselves, and the ladder they climb by them."""

from __future__ import annotations

import uuid
from datetime import date

import pytest
from django.urls import reverse

from league.errors import NotYoursToDo
from league.seasons.queries import explain_rank, standings
from league.seasons.queries.ladders import rungs_of
from league.seasons.services.challenges import arrange_game
from league.seasons.services.seasons import SeasonRefused
from tests.seasons.drafted import fill, report

DAY = date(2026, 1, 22)


@pytest.fixture
def five(season, organiser):
    return fill(season, 5, by=organiser, pairing={"format": "ladder", "reach": 2})


def challenge(season, challenger, other, *, by, score=(9, 4)):
    pairing = arrange_game(season, entrant_ids=[challenger.pk, other.pk], on=DAY, submission=uuid.uuid4(), by=by)
    return report(pairing, *score, by=by)


def order(season) -> list[str]:
    return [rung.entrant.key for rung in rungs_of(season)]


def test_at_first_they_stand_as_they_entered(season, five):
    assert order(season) == [entrant.key for entrant in five]


def test_a_challenger_who_wins_takes_the_rung_and_the_others_move_down(season, five, organiser):
    challenge(season, five[3], five[1], by=organiser)
    assert order(season) == [five[place].key for place in (0, 3, 1, 2, 4)]


@pytest.mark.parametrize("score", [(4, 9), (5, 5)])
def test_a_challenger_who_does_not_win_changes_nothing(season, five, organiser, score):
    challenge(season, five[3], five[1], by=organiser, score=score)
    assert order(season) == [entrant.key for entrant in five]


def test_nobody_challenges_beyond_the_reach(season, five, organiser):
    with pytest.raises(SeasonRefused) as refusal:
        challenge(season, five[4], five[1], by=organiser)
    assert "up to 2 rungs above" in refusal.value.violations[0].message


def test_nobody_challenges_downwards(season, five, organiser):
    with pytest.raises(SeasonRefused):
        challenge(season, five[0], five[1], by=organiser)


def test_players_arrange_their_own_games(season, five):
    player = five[2].players.get().member
    made = arrange_game(season, entrant_ids=[five[2].pk, five[1].pk], on=DAY, submission=uuid.uuid4(), by=player)
    assert made.game.on == DAY


def test_nobody_arranges_the_games_of_others(season, five, member):
    with pytest.raises(NotYoursToDo):
        arrange_game(season, entrant_ids=[five[2].pk, five[1].pk], on=DAY, submission=uuid.uuid4(), by=member)


def test_the_same_challenge_arriving_twice_is_one_game(season, five, organiser):
    name = uuid.uuid4()
    facts = {"entrant_ids": [five[2].pk, five[1].pk], "on": DAY, "submission": name, "by": organiser}
    assert arrange_game(season, **facts) == arrange_game(season, **facts)


def test_a_paired_season_takes_no_games_of_the_players_own(season, organiser):
    entrants = fill(season, 2, by=organiser, pairing={"format": "swiss"})
    with pytest.raises(SeasonRefused):
        challenge(season, entrants[0], entrants[1], by=organiser)


def test_the_best_results_of_an_open_season_count(season, organiser):
    first, second = fill(season, 2, by=organiser, pairing={"format": "open", "best_of": 1})
    for score in ((9, 4), (9, 4), (4, 9)):
        challenge(season, first, second, by=organiser, score=score)
    assert {row.entrant_id: row.points_x2 for row in standings(season).rows} == {first.key: 6, second.key: 6}


def test_the_ladder_page_says_who_may_be_challenged(browse, season, five, organiser):
    challenge(season, five[3], five[1], by=organiser)
    page = browse(organiser).get(reverse("ladder", kwargs={"club": season.club.slug, "pk": season.pk}))
    assert f"from 4 to 2 by beating {five[1].name}" in page.text


def test_a_challenge_is_arranged_on_its_page(browse, season, five):
    player = five[2].players.get().member
    address = reverse("challenge", kwargs={"club": season.club.slug, "pk": season.pk})
    facts = {"first": five[2].pk, "second": five[1].pk, "on": "2026-01-22", "submission": str(uuid.uuid4())}
    answer = browse(player).post(address, facts)
    assert answer.status_code == 302
    assert season.rounds.get(number=0).pairings.count() == 1


def test_a_ladder_over_the_api(call, season, five):
    player = five[2].players.get().member
    base = f"/api/v1/clubs/{season.club.slug}/seasons/{season.pk}"
    facts = {"entrants": [five[2].key, five[1].key], "on": "2026-01-22", "submission": str(uuid.uuid4())}
    assert call(player).post(f"{base}/challenges/", facts, format="json").status_code == 201
    assert [rung["entrant"] for rung in call(player).get(f"{base}/ladder/").json()] == [each.key for each in five]


def test_a_challenge_of_others_over_the_api_is_not_ones_own(call, season, five):
    player = five[4].players.get().member
    facts = {"entrants": [five[2].key, five[1].key], "on": "2026-01-22", "submission": str(uuid.uuid4())}
    address = f"/api/v1/clubs/{season.club.slug}/seasons/{season.pk}/challenges/"
    assert call(player).post(address, facts, format="json").status_code == 403


def test_the_table_of_an_open_season_says_what_counts(browse, season, organiser):
    fill(season, 2, by=organiser, pairing={"format": "open", "best_of": 4, "least_games": 2})
    page = browse(organiser).get(reverse("standings", kwargs={"club": season.club.slug, "pk": season.pk}))
    assert "Only the best 4 results of everybody count." in page.text
    assert "It takes 2 games to be placed" in page.text


def test_who_has_not_played_enough_is_told_so_by_the_reason_of_the_place(season, organiser):
    first, second, third = fill(season, 3, by=organiser, pairing={"format": "open", "least_games": 2})
    challenge(season, first, second, by=organiser)
    for _game in range(2):
        challenge(season, second, third, by=organiser, score=(5, 5))
    (comparison,) = explain_rank(standings(season), entrant=first.key)
    assert (comparison.column, comparison.mine, comparison.theirs) == ("played", "1", "3")
