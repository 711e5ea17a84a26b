"""A knock-out foretold exactly.

The two who meet in a match come out of two parts of the bracket that share nobody, so their chances to be there
multiply, and the chance to win it is summed over everybody one may meet. No season has to be drawn.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from league.engines.pairing import Fixture, Slot

from .model import Expectation, Floats

THIRD: Final = "third"
NOBODY: Final = ""
# Nobody is certain to win a game that is still to be played.
LEAST: Final = 1e-6

# Who may be in a place of the bracket, each with the chance of it; who cannot be is not in it.
Chances = Mapping[str, float]


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class KnockoutOdds:
    """`places[i, j]` is the chance of entrant i to finish in place j, counted from 0; those who go out in one round
    have even shares of its places. A chance is 0 exactly where it cannot come about any more."""

    ids: tuple[str, ...]
    places: Floats

    def top(self, places: int) -> Floats:
        """Each entrant's chance to finish among the first `places`."""
        return np.asarray(self.places[:, :places].sum(axis=1))

    def is_through(self, place: int, places: int) -> bool:
        """Whether an entrant (by its place in `ids`) is among the first `places` for certain."""
        return not self.places[place, places:].any()

    def is_out(self, place: int, places: int) -> bool:
        """Whether an entrant (by its place in `ids`) cannot be among the first `places` any more."""
        return not self.places[place, :places].any()


def knockout_odds(
    fixtures: Sequence[Fixture], ids: Sequence[str], *, expected: Expectation, gone: Collection[str] = ()
) -> KnockoutOdds:
    """The chances of everybody in a bracket, whose `fixtures` are in the order they can be played.

    `expected(a, b)` is a's chance to go on against b. Who is `gone` goes out in the next match.
    """
    tree = _Tree(expected=expected, gone=frozenset(gone))
    place = {each: number for number, each in enumerate(ids)}
    odds = np.zeros((len(ids), len(ids)))
    rounds = max((each.match.round for each in fixtures), default=0)
    has_third = any(each.match.id == THIRD for each in fixtures)
    for fixture in fixtures:
        winners, losers = tree.play(fixture)
        size = sum(1 for each in fixtures if each.match.round == fixture.match.round and each.match.id != THIRD)
        if fixture.match.id == THIRD:
            _share(odds, winners, place, 3, 3)
            _share(odds, losers, place, 4, 4)
        elif fixture.match.round == rounds:
            _share(odds, winners, place, 1, 1)
            _share(odds, losers, place, 2, 2)
        elif fixture.match.round < rounds - 1 or not has_third:
            _share(odds, losers, place, size + 1, 2 * size)
    return KnockoutOdds(ids=tuple(ids), places=odds)


@dataclass(kw_only=True, slots=True)
class _Tree:
    """Who may win and who may lose each match, as far as it was gone through."""

    expected: Expectation
    gone: frozenset[str]
    winners: dict[str, Chances] = field(default_factory=dict)
    losers: dict[str, Chances] = field(default_factory=dict)

    def play(self, fixture: Fixture) -> tuple[Chances, Chances]:
        key = fixture.match.id
        if fixture.winner:
            self.winners[key], self.losers[key] = {fixture.winner: 1.0}, {fixture.loser or NOBODY: 1.0}
        elif fixture.winner == NOBODY:
            # Both stayed away, or nobody came: whoever was in it goes out here.
            self.winners[key], self.losers[key] = {NOBODY: 1.0}, {each: 1.0 for each in fixture.sides if each}
        else:
            one, other = (self._side(slot) for slot in fixture.match.sides)
            self.winners[key], self.losers[key] = self._met(one, other)
        return self.winners[key], self.losers[key]

    def _side(self, slot: Slot) -> Chances:
        if slot.match is None:
            return {slot.entrant or NOBODY: 1.0}
        return (self.winners if slot.takes == "winner" else self.losers)[slot.match]

    def _met(self, first: Chances, second: Chances) -> tuple[Chances, Chances]:
        winners: defaultdict[str, float] = defaultdict(float)
        losers: defaultdict[str, float] = defaultdict(float)
        for one, one_there in first.items():
            for other, other_there in second.items():
                for winner, out, chance in self._ends(one, other):
                    winners[winner] += one_there * other_there * chance
                    for loser in out:
                        losers[loser] += one_there * other_there * chance
        return winners, losers

    def _ends(self, one: str, other: str) -> list[tuple[str, tuple[str, ...], float]]:
        """How a match of these two can end: who goes on, who goes out, and the chance of it."""
        come = [each != NOBODY and each not in self.gone for each in (one, other)]
        if come == [True, True]:
            chance = min(max(self.expected(one, other), LEAST), 1 - LEAST)
            return [(one, (other,), chance), (other, (one,), 1 - chance)]
        if come == [False, False]:
            return [(NOBODY, (one, other), 1.0)]
        return [(one, (other,), 1.0) if come[0] else (other, (one,), 1.0)]


def _share(odds: Floats, those: Chances, place: Mapping[str, int], first: int, last: int) -> None:
    """Even shares of the places from `first` to `last`, as far as there are so many entrants."""
    last = max(first, min(last, len(place)))
    for each, chance in those.items():
        if each in place and first <= len(place):
            odds[place[each], first - 1 : last] += chance / (last - first + 1)
