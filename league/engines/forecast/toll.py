"""What a need takes of games that are won, lost or drawn, where a game is more than its points."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .flow import Split, supplied
from .games import Open


@dataclass(frozen=True, kw_only=True, slots=True)
class Toll:
    """Games that one side takes whole, for `prize`, or both share, for `shared` each: what a need takes of them.

    Counted in half games. Points alone would let a game be split as it never is: two points of three take a whole
    game, not two thirds of one.
    """

    prize: int
    shared: int

    @classmethod
    def of(cls, games: Sequence[Open]) -> Toll | None:
        """None where the games are not all of this kind, and alike."""
        ways = {game.ways for game in games}
        if len(ways) != 1:
            return None
        ends = set(ways.pop())
        prize = max(a for a, _ in ends)
        shared = next((a for a, b in ends if a == b), 0)
        return cls(prize=prize, shared=shared) if ends - {(shared, shared)} == {(prize, 0), (0, prize)} else None

    def least(self, need: int, games: int) -> int:
        """The fewest half games that give so much, out of so many games; more than there are if none do."""
        return min(
            (
                2 * won + halves
                for won in range(games + 1)
                if (halves := self._shares(need - won * self.prize)) <= games - won
            ),
            default=2 * games + 1,
        )

    def _shares(self, need: int) -> int:
        """How many shared games give so much; a great many where sharing gives nothing."""
        if need <= 0:
            return 0
        return -(-need // self.shared) if self.shared else need * 1_000

    def covers(self, needs: Mapping[int, int], games: Sequence[Open]) -> bool:
        """Whether there are enough games for all needs, counted so."""
        played = Counter(one for game in games for one in (game.first, game.second))
        return sum(self.least(need, played[one]) for one, need in needs.items()) <= 2 * len(games)

    def suffices(self, needs: Mapping[int, int], games: Sequence[Open]) -> bool:
        """Whether one of two simple ways gives everybody enough. That is quickly found out, and often so."""
        return self._taken_whole(needs, games) or self._mostly_shared(needs, games)

    def _taken_whole(self, needs: Mapping[int, int], games: Sequence[Open]) -> bool:
        """Every game goes to one side."""
        return supplied({one: -(-need // self.prize) for one, need in needs.items()}, _indivisible(games)) is not None

    def _mostly_shared(self, needs: Mapping[int, int], games: Sequence[Open]) -> bool:
        """Every game is shared, but for those that one who lacks something takes whole from one who can spare it."""
        played = Counter(one for game in games for one in (game.first, game.second))
        spare = {one: self.shared * played[one] - need for one, need in needs.items()}
        step = self.prize - self.shared
        between = [game for game in games if (spare[game.first] < 0) != (spare[game.second] < 0)]
        met = Counter(one for game in between for one in (game.first, game.second))
        wanted = {
            one: -(spare[one] // step) if spare[one] < 0 else met[one] - self._can_lose(spare[one], met[one])
            for one in needs
        }
        return supplied(wanted, _indivisible(between)) is not None

    def _can_lose(self, spare: int, games: int) -> int:
        return min(games, spare // self.shared) if self.shared else games


def _indivisible(games: Sequence[Open]) -> list[Split]:
    return [Split(first=game.first, second=game.second, together=1, most_first=1, most_second=1) for game in games]
