"""A small maximum flow: games give points to either side, until everybody has what they need or no way is left."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Split:
    """A game that has `together` points to give, at most so many to either side."""

    first: int
    second: int
    together: int
    most_first: int
    most_second: int


def supplied(needs: Mapping[int, int], games: Sequence[Split]) -> list[tuple[int, int]] | None:
    """What each game gives to its first and second so that all `needs` are met; None where that cannot be.

    Augmenting paths (L. R. Ford and D. R. Fulkerson, 1956), shortest first: who lacks a point takes it from a game
    that has one left, or else from the other side of a game, who looks for another in turn.
    """
    state = _State(needs, games)
    for one, need in needs.items():
        while state.got[one] < need:
            if not state.one_more(one):
                return None
    return state.given()


class _State:
    def __init__(self, needs: Mapping[int, int], games: Sequence[Split]) -> None:
        self.needs, self.games = needs, games
        self.flow = [[0, 0] for _ in games]
        self.most = [(game.most_first, game.most_second) for game in games]
        self.got: defaultdict[int, int] = defaultdict(int)
        self.seats: defaultdict[int, list[tuple[int, int]]] = defaultdict(list)
        for number, game in enumerate(games):
            self.seats[game.first].append((number, 0))
            self.seats[game.second].append((number, 1))

    def given(self) -> list[tuple[int, int]]:
        return [(first, second) for first, second in self.flow]

    def one_more(self, start: int) -> bool:
        """Finds `start` one more point along a shortest path."""
        came: dict[int, tuple[int, int]] = {}
        seen, queue = {start}, deque([start])
        while queue:
            one = queue.popleft()
            for number, side in self.seats[one]:
                flow = self.flow[number]
                if flow[side] >= self.most[number][side]:
                    continue
                if flow[0] + flow[1] < self.games[number].together:
                    self._along(came, one, start)
                    flow[side] += 1
                    self.got[start] += 1
                    return True
                other = self.games[number].second if side == 0 else self.games[number].first
                if flow[1 - side] and other not in seen:
                    seen.add(other)
                    came[other] = (number, side)
                    queue.append(other)
        return False

    def _along(self, came: Mapping[int, tuple[int, int]], end: int, start: int) -> None:
        """Hands one point on, game by game, from `end` back to `start`."""
        while end != start:
            number, side = came[end]
            self.flow[number][side] += 1
            self.flow[number][1 - side] -= 1
            end = self.games[number].first if side == 0 else self.games[number].second
