"""Who is through and who is out, whatever happens, on points alone.

An entrant finishes worst when they lose everything and as many others as possible come to their points or past them;
best when they win everything and as many as possible stay behind. How many is `most_satisfied`'s business. A round
that is not drawn yet may pair anybody with anybody: what holds for all pairings is told, and what a pairing put
together here brings about; where these leave a gap, the answer has bounds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

from .games import Open, best_ways
from .model import BadForecast, Bounds, Outlook, Prospect, Result
from .most import most_satisfied
from .undrawn import Undrawn

# Flows looked at for one of the four places of one entrant. A club's league of 20 needs some tens.
LIMIT: Final = 1_000
# More ways than this for an entrant's own games to trade points with the opponents' are not tried one by one.
MOST_OWN_WAYS: Final = 64

# What is supposed of some fixtures, by their place in the outlook: the results they may end in.
Supposed = Mapping[int, Sequence[Result]]
NOTHING: Final[Supposed] = {}


def prospects(outlook: Outlook, *, limit: int = LIMIT) -> tuple[Prospect, ...]:
    """Every entrant's prospect, in order of today's table."""
    return tuple(prospect(outlook, entrant_id, limit=limit) for entrant_id in outlook.ids)


def prospect(outlook: Outlook, entrant_id: str, *, supposed: Supposed = NOTHING, limit: int = LIMIT) -> Prospect:
    """The places one entrant can finish in, if the `supposed` results come. `limit` bounds the search, see `LIMIT`.

    Raises BadForecast for one who is not in the table.
    """
    if entrant_id not in outlook.ids:
        raise BadForecast([f"{entrant_id} is not in this table."])
    question = _Question(outlook=outlook, one=outlook.ids.index(entrant_id), supposed=supposed, limit=limit)
    worst, worst_if_ties_help = question.most_above(level=True), question.most_above(level=False)
    best, best_outright = question.fewest_above(level=False), question.fewest_above(level=True)
    return Prospect(
        entrant_id=entrant_id,
        best=_place(best),
        best_outright=_place(best_outright),
        worst_if_ties_help=_place(worst_if_ties_help),
        worst=_place(worst),
    )


def is_safe(
    outlook: Outlook, entrant_id: str, *, places: int, ties: bool, supposed: Supposed, limit: int = LIMIT
) -> bool:
    """Whether the `supposed` results are proven enough to finish among the first `places` whatever else happens; with
    `ties`, if every tie on points is won. The same as a prospect's verdict says, for a quarter of the work."""
    question = _Question(outlook=outlook, one=outlook.ids.index(entrant_id), supposed=supposed, limit=limit)
    return question.most_above(level=not ties).high < places


def _place(above: Bounds) -> Bounds:
    return Bounds(low=above.low + 1, high=above.high + 1)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Question:
    outlook: Outlook
    one: int
    supposed: Supposed
    limit: int

    def most_above(self, *, level: bool) -> Bounds:
        """How many others can end above this one at once; with `level`, level on points counts."""
        low = high = 0
        for mine, theirs in self._own_ways(sign=-1):
            target = mine + (0 if level else 1)
            needs = [target - points for points in theirs]
            found = self._most(needs, sign=1)
            low, high = max(low, found.low), max(high, found.high)
        return Bounds(low=low, high=high)

    def fewest_above(self, *, level: bool) -> Bounds:
        """How few others can end above this one; with `level`, level on points counts."""
        others = len(self.outlook.ids) - 1
        low = high = others
        for mine, theirs in self._own_ways(sign=1):
            cap = mine - (1 if level else 0)
            found = self._most([points - cap for points in theirs], sign=-1)
            low, high = min(low, others - found.high), min(high, others - found.low)
        return Bounds(low=low, high=high)

    def _most(self, needs: list[int], *, sign: int) -> Bounds:
        """How many others can gain at least `needs` (sign 1), or gain no more than minus `needs` (sign -1)."""
        games = [
            Open(first=first, second=second, ways=best_ways([(sign * a, sign * b) for a, b in self._ways(number)]))
            for number, (first, second) in enumerate(self.outlook.sides)
            if self.one not in {first, second}
        ]
        needs[self.one] = 1  # has no game among these, and so never has it met
        if not self.outlook.rounds_to_draw:
            return most_satisfied(needs, games, limit=self.limit)
        undrawn = Undrawn(outlook=self.outlook, one=self.one, sign=sign)
        loosest = most_satisfied(undrawn.at_best(needs), games, limit=self.limit)
        surest = most_satisfied(undrawn.at_worst(needs), games, limit=self.limit)
        most = [need - _most_given(other, games) for other, need in enumerate(needs)]
        high = min(loosest.high, undrawn.most(most))
        low = surest.low if surest.low == high else max(surest.low, undrawn.built(needs, games))
        return Bounds(low=low, high=high)

    def _ways(self, fixture: int) -> list[tuple[int, int]]:
        results = self.supposed.get(fixture, self.outlook.results)
        return [(result.first_x2, result.second_x2) for result in results]

    def _own_ways(self, *, sign: int) -> list[tuple[int, list[int]]]:
        """This one's points at the end, and everybody's with their games against this one in them: for each way of
        the own games in which no more for oneself (sign 1; -1: no less) goes with less (more) for the opponents."""
        outlook, one = self.outlook, self.one
        own = [number for number, sides in enumerate(outlook.sides) if one in sides]
        choices = []
        for number in own:
            turned = [(a, b) if outlook.sides[number][0] == one else (b, a) for a, b in self._ways(number)]
            choices.append([(sign * a, -sign * b) for a, b in best_ways([(sign * a, -sign * b) for a, b in turned])])
        total = 1
        for ways in choices:
            total *= len(ways)
        if total > MOST_OWN_WAYS:
            raise BadForecast(["Under this scheme an own result helps in too many ways to be weighed exactly."])
        drawn = Undrawn(outlook=outlook, one=one, sign=-sign).own_points
        found = []
        for way in product(*choices):
            points = outlook.points_x2.tolist()
            for number, (mine, theirs) in zip(own, way, strict=True):
                first, second = outlook.sides[number]
                points[one] += mine
                points[second if first == one else first] += theirs
            found.append((points[one] + drawn, points))
        return found


def _most_given(one: int, games: Sequence[Open]) -> int:
    """What the games give `one` at most."""
    return sum(game.most_for(one) for game in games if one in {game.first, game.second})
