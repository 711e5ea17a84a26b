"""What an entrant needs from the next game, and what from the others if that is not enough."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final

from league.engines.standings import Outcome

from .model import BadForecast, Case, Condition, Needs, Outlook, Result, Verdict
from .prospects import LIMIT, Supposed, is_safe, prospect
from .results import MIRRORED, OUTCOMES

# Other games looked at for conditions; with more, only the verdicts are told.
MOST_OTHER_GAMES: Final = 12
SAFE_IF_TIES_HELP: Final[frozenset[Verdict]] = frozenset({"through", "through_or_level", "level"})


def needs_of(
    outlook: Outlook, entrant_id: str, *, places: int, limit: int = LIMIT, most_others: int = MOST_OTHER_GAMES
) -> Needs | None:
    """What each way to end of the entrant's next fixture means for finishing among the first `places`, on points
    alone; None where there is no fixture left. With more than `most_others` other games no conditions on them are
    looked for. Raises BadForecast for one who is not in the table.
    """
    if entrant_id not in outlook.ids:
        raise BadForecast([f"{entrant_id} is not in this table."])
    one = outlook.ids.index(entrant_id)
    next_ = next((number for number, sides in enumerate(outlook.sides) if one in sides), None)
    if next_ is None:
        return None
    asked = _Asked(outlook, one, next_, places=places, limit=limit, most_others=most_others)
    return Needs(
        entrant_id=entrant_id, places=places, fixture_id=outlook.fixtures[next_].id, cases=tuple(asked.cases())
    )


class _Asked:
    def __init__(self, outlook: Outlook, one: int, next_: int, *, places: int, limit: int, most_others: int) -> None:
        self.outlook, self.one, self.next, self.places, self.limit = outlook, one, next_, places, limit
        self.is_first = outlook.sides[next_][0] == one
        others = [number for number, sides in enumerate(outlook.sides) if one not in sides]
        self.others = others if len(others) <= most_others and not outlook.rounds_to_draw else []

    def cases(self) -> Iterator[Case]:
        """The ways this can end for the one itself: what the opponent earns besides is not in the one's hands."""
        ways: defaultdict[tuple[int, str, tuple[object, ...]], list[Result]] = defaultdict(list)
        for result in self.outlook.results:
            mine = result.first_bonuses if self.is_first else result.second_bonuses
            points = result.first_x2 if self.is_first else result.second_x2
            outcome = result.outcome if self.is_first else MIRRORED[result.outcome]
            ways[points, outcome, mine].append(result)
        for key in sorted(ways, key=lambda way: (-way[0], OUTCOMES.index(way[1]))):
            yield self._case(ways[key])

    def _case(self, results: Sequence[Result]) -> Case:
        result, own = results[0], {self.next: results}
        verdict = self._verdict(own)
        ifs: tuple[tuple[Condition, ...], ...] = ()
        level = False
        if verdict not in {"through", "out"}:
            ifs = tuple(self._ifs(own, ties=False))
            if not ifs and verdict not in SAFE_IF_TIES_HELP:
                ifs = tuple(self._ifs(own, ties=True))
                level = bool(ifs)
        return Case(
            outcome=result.outcome if self.is_first else MIRRORED[result.outcome],
            bonuses=result.first_bonuses if self.is_first else result.second_bonuses,
            points_x2=result.first_x2 if self.is_first else result.second_x2,
            verdict=verdict,
            ifs=ifs,
            level=level,
        )

    def _verdict(self, supposed: Supposed) -> Verdict:
        return prospect(self.outlook, self.outlook.ids[self.one], supposed=supposed, limit=self.limit).verdict(
            self.places
        )

    def _ifs(self, own: Supposed, *, ties: bool) -> Iterator[tuple[Condition, ...]]:
        """Single games that are enough, then pairs of games of which neither is."""
        alone = {number: self._enough(own, number, ties=ties) for number in self.others}
        yield from ((self._condition(number, outcomes),) for number, outcomes in alone.items() if outcomes)
        for first, second in combinations(self.others, 2):
            by_second: defaultdict[tuple[Outcome, ...], list[Outcome]] = defaultdict(list)
            for outcome in OUTCOMES:
                if outcome not in alone[first]:
                    with_first = {**own, first: self._ending(outcome)}
                    found = self._enough(with_first, second, ties=ties)
                    by_second[tuple(one for one in found if one not in alone[second])].append(outcome)
            for seconds, firsts in by_second.items():
                if seconds:
                    yield self._condition(first, tuple(firsts)), self._condition(second, seconds)

    def _enough(self, supposed: Supposed, number: int, *, ties: bool) -> tuple[Outcome, ...]:
        """The outcomes of one game that make it certain, together with what is supposed."""
        return tuple(
            outcome
            for outcome in OUTCOMES
            if is_safe(
                self.outlook,
                self.outlook.ids[self.one],
                places=self.places,
                ties=ties,
                supposed={**supposed, number: self._ending(outcome)},
                limit=self.limit,
            )
        )

    def _ending(self, outcome: Outcome) -> list[Result]:
        return [result for result in self.outlook.results if result.outcome == outcome]

    def _condition(self, number: int, outcomes: tuple[Outcome, ...]) -> Condition:
        return Condition(fixture_id=self.outlook.fixtures[number].id, outcomes=outcomes)
