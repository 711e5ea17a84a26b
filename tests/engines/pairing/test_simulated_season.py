"""Seven rounds of sixty-four with people coming late, leaving and not showing up, two hundred times.

That no better round exists is checked against the matching of networkx on the same weights.
"""

from __future__ import annotations

import random

import pytest

from league.engines.pairing import Player
from tests.engines.pairing.crowd import Season
from tests.engines.pairing.test_against_oracles import heaviest

ROUNDS = 7
SEASONS = 200


def a_season_with_trouble(seed: int) -> Season:
    """Late entries in the first rounds, a few withdrawals in each, one in thirty not showing up."""
    dice = random.Random(seed)
    season = Season(
        players={
            f"e{n}": Player(id=f"e{n}", newcomer=dice.random() < 0.1, rating=dice.randrange(1000, 2000))
            for n in range(64)
        },
        dice=dice,
        seed=f"season {seed}",
    )
    for number in range(ROUNDS):
        if 0 < number < 4:
            for late in range(dice.randrange(3)):
                name = f"late{number}-{late}"
                season.players[name] = Player(id=name, newcomer=True)
        draft = season.pair()
        season.play(draft, shows_up=lambda _: dice.random() > 1 / 30)
        for leaver in dice.sample(sorted(season.players), dice.randrange(3)):
            del season.players[leaver]
    return season


def check(season: Season) -> None:
    """No game twice, nobody's bye twice, everybody in exactly one place, all of it said to be exact."""
    games: set[frozenset[str]] = set()
    byes: set[str] = set()
    for draft in season.drafts:
        assert draft.search.exact
        assert dict(draft.totals)["repeat"] == dict(draft.totals)["bye"] == 0
        placed = [each for pairing in draft.pairings for each in pairing.ids] + [bye.id for bye in draft.byes]
        assert len(placed) == len(set(placed))
        assert len(draft.byes) == len(placed) % 2
        byes_now = {bye.id for bye in draft.byes}
        assert not byes_now & byes
        byes |= byes_now
    for player in season.players.values():
        assert len(set(player.met)) == len(player.met)
        games |= {frozenset((player.id, other)) for other in player.met}
    assert games


@pytest.mark.parametrize("seed", range(SEASONS))
def test_nobody_meets_twice_or_sits_out_twice(seed):
    check(a_season_with_trouble(seed))


@pytest.mark.parametrize("seed", range(0, SEASONS, 5))
def test_no_better_round_exists(seed):
    season = a_season_with_trouble(seed)
    place = seed // 5 % ROUNDS
    told = tuple(total for _, total in season.drafts[place].totals)
    assert told == heaviest(season.before[place], season.criteria, season.seed_of(place))
