"""What can be wrong with a season as told: everything at once, in plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import Final, get_args

from .model import Adjustment, Entrant, Game, Outcome, Side, Unplayed
from .rules import BonusKind, DirectPiece, Leavers, RankBy, Rules, TieBreakName, UnplayedPolicy

PAIR: Final = 2
MOST_ROUNDS: Final = 1_000
LARGEST: Final = 1_000_000_000
OUTCOMES: Final = frozenset(get_args(Outcome))
UNPLAYED: Final = frozenset(get_args(Unplayed))
# Two sides of a game: who won, who lost; or nobody; or both lost.
OUTCOMES_OF_TWO: Final = frozenset({("loss", "win"), ("draw", "draw"), ("loss", "loss")})


class BadSeason(ValueError):
    """The season cannot be counted. `violations` has every reason, each a sentence."""

    def __init__(self, violations: Sequence[str]) -> None:
        self.violations: tuple[str, ...] = tuple(violations)
        super().__init__(" ".join(self.violations))


def violations_of(
    entrants: Sequence[Entrant],
    games: Sequence[Game],
    adjustments: Sequence[Adjustment],
    rules: Rules,
    through_round: int | None = None,
) -> tuple[str, ...]:
    """Every violation, none for a sound season."""
    known = {entrant.id for entrant in entrants}
    return tuple(
        chain(
            _wrong_entrants(entrants),
            _wrong_games(games, known),
            _twice_in_a_round(games),
            _wrong_adjustments(adjustments, known),
            violations_of_rules(rules),
            [f"Round {through_round} is before the first."] if through_round is not None and through_round < 0 else [],
        )
    )


def violations_of_rules(rules: Rules) -> Iterator[str]:
    """What is wrong with the rules alone."""
    if rules.unplayed_policy not in get_args(UnplayedPolicy):
        yield f"There is no policy for unplayed rounds called {rules.unplayed_policy!r}."
    if rules.leavers not in get_args(Leavers):
        yield f"Results of leavers are kept or annulled, not {rules.leavers!r}."
    if rules.rank_by not in get_args(RankBy):
        yield f"A table is ranked by points or points per game, not {rules.rank_by!r}."
    yield from _wrong_limits(rules)
    for tie_break in rules.tie_breaks:
        if tie_break.name not in get_args(TieBreakName):
            yield f"There is no tie-break called {tie_break.name!r}."
        if tie_break.name == "count_total" and not tie_break.count:
            yield "The tie-break 'count_total' does not say what it counts."
        if tie_break.name == "direct_encounter" and not tie_break.pieces:
            yield "Direct encounter does not say what it compares."
        yield from (
            f"Direct encounter cannot compare {piece!r}."
            for piece in tie_break.pieces
            if piece not in get_args(DirectPiece)
        )
    for column, times in Counter(tie_break.column for tie_break in rules.tie_breaks).items():
        if times > 1:
            yield f"The tie-break {column!r} is listed {times} times."
    yield from _wrong_bonuses(rules)


def _wrong_limits(rules: Rules) -> Iterator[str]:
    if rules.best_of is not None and rules.best_of < 1:
        yield f"One result at least counts, not {rules.best_of}."
    if rules.least_games < 0:
        yield f"It cannot take {rules.least_games} games to be placed."


def _wrong_bonuses(rules: Rules) -> Iterator[str]:
    for bonus in rules.scheme.bonuses:
        if bonus.kind not in get_args(BonusKind):
            yield f"There is no bonus of the kind {bonus.kind!r}."
        if bonus.kind == "count_at_least" and not bonus.count:
            yield f"The bonus {bonus.label!r} does not say what it counts."
    for label, times in Counter(bonus.label for bonus in rules.scheme.bonuses).items():
        if times > 1:
            yield f"Bonuses need different names: {label!r} stands {times} times."


def _wrong_entrants(entrants: Sequence[Entrant]) -> Iterator[str]:
    for entrant_id, times in Counter(entrant.id for entrant in entrants).items():
        if not entrant_id:
            yield "An entrant has no id."
        elif times > 1:
            yield f"Entrant {entrant_id} is entered {times} times."


def _wrong_games(games: Sequence[Game], known: set[str]) -> Iterator[str]:
    for game_id, times in Counter(game.id for game in games).items():
        if times > 1:
            yield f"Game {game_id} is listed {times} times."
    for game in games:
        if game.round < 0:
            yield f"Game {game.id} has the negative round {game.round}."
        elif game.round > MOST_ROUNDS:
            yield f"Game {game.id} has round {game.round}; a season has {MOST_ROUNDS} at most."
        yield from _wrong_sides(game, known)


def _wrong_sides(game: Game, known: set[str]) -> Iterator[str]:
    seen: set[str] = set()
    for side in game.sides:
        if side.entrant_id not in known:
            yield f"Game {game.id} names {side.entrant_id}, who is not an entrant."
        if side.entrant_id in seen:
            yield f"Game {game.id} has {side.entrant_id} on two sides."
        seen.add(side.entrant_id)
        yield from _wrong_side(game, side)
    yield from _wrong_together(game)


def _wrong_side(game: Game, side: Side) -> Iterator[str]:
    who = f"{side.entrant_id} in game {game.id}"
    if side.unplayed not in UNPLAYED:
        yield f"The reason {side.unplayed!r} that {who} played nothing is unknown."
    if side.outcome is not None and side.outcome not in OUTCOMES:
        yield f"The outcome {side.outcome!r} of {who} is unknown."
    if side.unplayed:
        if side.outcome is not None:
            yield f"The side of {who} was not played and yet has an outcome."
    elif side.outcome is None and side.score is None:
        yield f"The side of {who} has neither score nor outcome."
    if side.value_destroyed < 0 or side.value_lost < 0:
        yield f"The value destroyed or lost by {who} is negative."
    if (side.counts and min(side.counts.values()) < 0) or (side.score is not None and abs(side.score) > LARGEST):
        yield f"A number reported by {who} is out of range."
    if max(side.value_destroyed, side.value_lost, *side.counts.values()) > LARGEST:
        yield f"A number reported by {who} is out of range."


def _wrong_together(game: Game) -> Iterator[str]:
    """What is wrong between the sides of one game."""
    sides = game.sides
    if not sides:
        yield f"Game {game.id} has no sides."
        return
    if len(sides) == 1:
        if not sides[0].unplayed:
            yield f"Game {game.id} was played by one side alone."
        return
    if any(side.unplayed in ("bye", "absent") for side in sides):
        yield f"Game {game.id} is a bye or an absence and yet has {len(sides)} sides."
    played = [side for side in sides if not side.unplayed]
    with_score = sum(side.score is not None for side in sides)
    if 0 < with_score < len(sides) and len(played) == len(sides):
        yield f"Game {game.id} has scores for some of its sides only."
    if len(sides) == PAIR:
        yield from _wrong_pair(game, sides, played)


def _wrong_pair(game: Game, sides: tuple[Side, ...], played: list[Side]) -> Iterator[str]:
    if len(played) == 1:
        yield f"Game {game.id} was played by one side alone."
    elif not played:
        if [side.unplayed for side in sides].count("forfeit_win") > 1:
            yield f"Game {game.id} was won by forfeit by both sides."
    else:
        outcomes = tuple(side.outcome for side in sides)
        if None in outcomes:
            if outcomes != (None, None):
                yield f"Game {game.id} states the outcome of one side only."
        elif tuple(sorted(str(outcome) for outcome in outcomes)) not in OUTCOMES_OF_TWO and OUTCOMES.issuperset(
            outcomes
        ):
            yield f"Game {game.id} has outcomes that cannot both be: {' and '.join(str(outcome) for outcome in outcomes)}."


def _twice_in_a_round(games: Sequence[Game]) -> Iterator[str]:
    appearances = Counter((side.entrant_id, game.round) for game in games if game.round > 0 for side in game.sides)
    for (entrant_id, round_number), times in appearances.items():
        if times > 1:
            yield f"{entrant_id} appears {times} times in round {round_number}."


def _wrong_adjustments(adjustments: Sequence[Adjustment], known: set[str]) -> Iterator[str]:
    for adjustment in adjustments:
        if adjustment.entrant_id not in known:
            yield f"Points are adjusted for {adjustment.entrant_id}, who is not an entrant."
        if not adjustment.reason.strip():
            yield f"The adjustment of points for {adjustment.entrant_id} gives no reason."
        if adjustment.round < 0:
            yield f"The adjustment of points for {adjustment.entrant_id} has the negative round {adjustment.round}."
