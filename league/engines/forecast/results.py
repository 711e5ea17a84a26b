"""All ways a game between two can end under a scheme, and how often each came about so far."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from typing import Final

import numpy as np

from league.engines.standings import Bonus, Entrant, Game, Ledger, Outcome, Scheme
from league.engines.standings.points import bonus_earned

from .model import Floats, Result

OUTCOMES: Final[tuple[Outcome, ...]] = ("win", "draw", "loss")
MIRRORED: Final[dict[Outcome, Outcome]] = {"win": "loss", "draw": "draw", "loss": "win"}
PAIR: Final = 2


def results_of(scheme: Scheme) -> tuple[Result, ...]:
    """Every combination of outcome and bonuses that scores can bring about, once each."""
    return tuple(
        dict.fromkeys(
            _result(scheme, outcome, first, second)
            for outcome in OUTCOMES
            for first, second in dict.fromkeys(_bonuses(scheme, outcome))
        )
    )


def _bonuses(scheme: Scheme, outcome: Outcome) -> Iterator[tuple[tuple[Bonus, ...], tuple[Bonus, ...]]]:
    counted = list(_by_counts(scheme))
    for by_margin, (mine, theirs) in product(_by_margin(scheme, outcome), product(counted, counted)):
        yield _in_order(scheme, by_margin[0] + mine), _in_order(scheme, by_margin[1] + theirs)


def _by_margin(scheme: Scheme, outcome: Outcome) -> Iterator[tuple[tuple[Bonus, ...], tuple[Bonus, ...]]]:
    """What the distance of the scores earns the two: each stretch between thresholds is tried at one distance."""
    if outcome == "draw":
        yield (), ()
        return
    thresholds = [bonus.threshold for bonus in scheme.bonuses if bonus.kind in {"margin", "narrow_loss"}]
    for margin in sorted({1, *(t for each in thresholds for t in (each, each + 1) if t >= 1)}):
        winner = tuple(one for one in scheme.bonuses if one.kind == "margin" and margin >= one.threshold)
        loser = tuple(one for one in scheme.bonuses if one.kind == "narrow_loss" and margin <= one.threshold)
        yield (winner, loser) if outcome == "win" else (loser, winner)


def _by_counts(scheme: Scheme) -> Iterator[tuple[Bonus, ...]]:
    """What reported counts earn one side: one threshold of a count cannot be reached without the lower ones."""
    bonuses = [bonus for bonus in scheme.bonuses if bonus.kind == "count_at_least"]
    levels = [
        [0, *sorted({one.threshold for one in bonuses if one.count == name})]
        for name in dict.fromkeys(bonus.count for bonus in bonuses)
    ]
    names = list(dict.fromkeys(bonus.count for bonus in bonuses))
    for reached in product(*levels):
        counts = dict(zip(names, reached, strict=True))
        yield tuple(one for one in bonuses if counts[one.count] >= one.threshold)


def _in_order(scheme: Scheme, bonuses: tuple[Bonus, ...]) -> tuple[Bonus, ...]:
    return tuple(bonus for bonus in scheme.bonuses if bonus in bonuses)


def _result(scheme: Scheme, outcome: Outcome, first: tuple[Bonus, ...], second: tuple[Bonus, ...]) -> Result:
    points = {"win": scheme.win_x2, "draw": scheme.draw_x2, "loss": scheme.loss_x2}
    return Result(
        outcome=outcome,
        first_x2=points[outcome] + scheme.showing_up_x2 + sum(bonus.points_x2 for bonus in first),
        second_x2=points[MIRRORED[outcome]] + scheme.showing_up_x2 + sum(bonus.points_x2 for bonus in second),
        first_bonuses=first,
        second_bonuses=second,
    )


def frequencies(
    results: Sequence[Result], scheme: Scheme, entrants: Sequence[Entrant], games: Sequence[Game]
) -> tuple[Floats, float]:
    """How often each result comes about among those of its outcome, and how often a game is drawn.

    Counted over the season's games of two, either way round. Before the first game all results of an outcome are
    equally likely and a third of all games is drawn; that belief weighs as much as one game an outcome (Laplace's
    rule of succession).
    """
    seen = Counter(_seen(scheme, entrants, games))
    weights = np.zeros(len(results))
    for outcome in OUTCOMES:
        places = [number for number, result in enumerate(results) if result.outcome == outcome]
        counts = [seen[_key(results[number])] + 1 / len(places) for number in places]
        weights[places] = np.array(counts) / sum(counts)
    total = sum(seen.values()) / PAIR
    drawn = sum(times for (outcome, _, _), times in seen.items() if outcome == "draw") / PAIR
    return weights, (drawn + 1) / (total + len(OUTCOMES))


Seen = tuple[Outcome, tuple[Bonus, ...], tuple[Bonus, ...]]


def _key(result: Result) -> Seen:
    return result.outcome, result.first_bonuses, result.second_bonuses


def _seen(scheme: Scheme, entrants: Sequence[Entrant], games: Sequence[Game]) -> Iterator[Seen]:
    """Each game of two that was played, once from either side."""
    of_two = [game for game in games if len(game.sides) == PAIR and not any(side.unplayed for side in game.sides)]
    if not of_two:
        return
    ledger = Ledger.from_games(entrants, of_two)
    earned = [bonus_earned(ledger, bonus) if bonus.kind != "clean_sweep" else None for bonus in scheme.bonuses]
    order = np.argsort(ledger.appearances.game, kind="stable").tolist()
    for one, other in list(pairwise(order))[::2]:
        bonuses = [
            tuple(b for b, rows in zip(scheme.bonuses, earned, strict=True) if rows is not None and rows[row])
            for row in (one, other)
        ]
        outcome = OUTCOMES[2 - int(ledger.outcome[one])]
        if MIRRORED[outcome] != OUTCOMES[2 - int(ledger.outcome[other])]:
            continue  # both lost: stated so, and no result to expect again
        yield outcome, bonuses[0], bonuses[1]
        yield MIRRORED[outcome], bonuses[1], bonuses[0]
