"""What another telling of the same war changes: a report corrected, a roll struck out, and everything after it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from league.engines.war.state import ForceState, TurnState

__all__ = ["Difference", "What", "differences", "still_different"]

What = Literal[
    "turns",
    "ended",
    "control",
    "depot",
    "stock",
    "points",
    "force_gone",
    "force_region",
    "condition",
    "unit_present",
    "unit_lost",
    "unit_experience",
    "battle",
    "battle_gone",
    "battle_new",
]


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """One thing that is otherwise at the end of a turn (or today, of the turn being played): what it was, what it
    would be.

    `key` is the region, faction, force or battle it is about; `faction` the owner of a stock, `unit` the unit of a
    force. Stocks are in hundredths of a load; None: not there.
    """

    turn: int
    what: What
    key: str = ""
    faction: str = ""
    unit: int | str | None = None
    before: Any = None
    after: Any = None


def differences(before: Sequence[TurnState], after: Sequence[TurnState]) -> tuple[Difference, ...]:
    """Every difference, turn by turn. Both are what `replay` gave. Turns only one of them has are told as `turns`."""
    found = [each for one, other in zip(before, after, strict=False) for each in _of_turn(one, other)]
    if len(before) != len(after):
        found.append(
            Difference(turn=min(len(before), len(after)), what="turns", before=before[-1].turn, after=after[-1].turn)
        )
    return tuple(found)


def still_different(found: Sequence[Difference]) -> tuple[Difference, ...]:
    """Those of the last turn told of: what would be otherwise today."""
    last = max((each.turn for each in found), default=0)
    return tuple(each for each in found if each.turn == last)


def _of_turn(one: TurnState, other: TurnState) -> Iterator[Difference]:
    turn = one.turn
    for what, was, now in (
        ("control", one.control, other.control),
        ("depot", one.depots, other.depots),
        ("points", one.points, other.points),
    ):
        yield from _of_mapping(turn, what, was, now)  # type: ignore[arg-type]  # the names above are of `What`
    for region, faction in sorted(one.balances.keys() | other.balances.keys()):
        was_there, is_there = one.balances.get((region, faction), 0), other.balances.get((region, faction), 0)
        if was_there != is_there:
            yield Difference(turn=turn, what="stock", key=region, faction=faction, before=was_there, after=is_there)
    for key in dict.fromkeys((*one.forces, *other.forces)):
        yield from _of_force(turn, key, one.forces.get(key), other.forces.get(key))
    yield from _of_battles(turn, one, other)
    if one.ended != other.ended:
        yield Difference(turn=turn, what="ended", before=one.ended, after=other.ended)


def _of_mapping(turn: int, what: What, was: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[Difference]:
    for key in sorted(was.keys() | now.keys()):
        if was.get(key) != now.get(key):
            yield Difference(turn=turn, what=what, key=key, before=was.get(key), after=now.get(key))


def _of_force(turn: int, key: str, was: ForceState | None, now: ForceState | None) -> Iterator[Difference]:
    if was is None or now is None:
        yield Difference(
            turn=turn, what="force_gone", key=key, before=None if was is None else was.gone, after=now and now.gone
        )
        return
    if was.gone != now.gone:
        yield Difference(turn=turn, what="force_gone", key=key, before=was.gone, after=now.gone)
    if was.region != now.region:
        yield Difference(turn=turn, what="force_region", key=key, before=was.region, after=now.region)
    if was.condition != now.condition:
        yield Difference(turn=turn, what="condition", key=key, before=was.condition, after=now.condition)
    for unit in dict.fromkeys((*was.states, *now.states)):
        old, new = was.states.get(unit), now.states.get(unit)
        if old is None or new is None:
            continue
        for what, left, right in (
            ("unit_present", old.present, new.present),
            ("unit_lost", old.lost, new.lost),
            ("unit_experience", old.experience, new.experience),
        ):
            if left != right:
                yield Difference(turn=turn, what=what, key=key, unit=unit, before=left, after=right)  # type: ignore[arg-type]  # the names above are of `What`


def _of_battles(turn: int, one: TurnState, other: TurnState) -> Iterator[Difference]:
    was, now = {each.id: each for each in one.battles}, {each.id: each for each in other.battles}
    for key in dict.fromkeys((*was, *now)):
        if key not in now:
            yield Difference(turn=turn, what="battle_gone", key=key)
        elif key not in was:
            yield Difference(turn=turn, what="battle_new", key=key)
        else:
            old, new = was[key].outcome, now[key].outcome
            ended = [None if each is None else each.winner for each in (old, new)]
            if ended[0] != ended[1]:
                yield Difference(turn=turn, what="battle", key=key, before=ended[0], after=ended[1])
