"""How many entrants can get what they need out of the games among them: exactly, or within bounds.

Each game can end in some ways, each giving something to either side. Which entrants can all get enough at once is a
flow where a game's points can be split at will (1, 1/2, 0), and hard in general where they cannot (3, 1, 0): T. Bernholt,
A. Gülich, T. Hofmeister, N. Schmitt, "Football elimination is hard to decide under the 3-point-rule" (MFCS 1999), from
memory. So: branch and bound over who is to be satisfied, a flow as the bound, and a limit after which only bounds are
told. All numbers are whole; nothing is rounded.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import accumulate

from .flow import supplied
from .games import Open
from .model import Bounds
from .toll import Toll


class _TooFar(Exception):
    """The search has taken as many steps as it may."""


def most_satisfied(needs: Sequence[int], games: Sequence[Open], *, limit: int) -> Bounds:
    """The greatest number of entrants (indices of `needs`) whose need can be met at once.

    `limit` is the number of flows looked at before the search stops with what it has.
    """
    needs, games = _in_smallest_units(list(needs), list(games))
    settled, games = _reduced(needs, games)
    sure = sum(1 for need in needs if need <= 0)
    low = high = sure
    for members, among in _parts(settled, games):
        search = _Search({one: needs[one] for one in members}, among, limit)
        found = search.run()
        limit -= search.steps
        low, high = low + found.low, high + found.high
    return Bounds(low=low, high=high)


def _in_smallest_units(needs: list[int], games: list[Open]) -> tuple[list[int], list[Open]]:
    """What a game gives anyway is taken off the needs, and the rest counted in the largest unit that divides it."""
    least = [(min(a for a, _ in game.ways), min(b for _, b in game.ways)) for game in games]
    for game, (a, b) in zip(games, least, strict=True):
        needs[game.first] -= a
        needs[game.second] -= b
    unit = math.gcd(
        *(x for game, (a, b) in zip(games, least, strict=True) for way in game.ways for x in (way[0] - a, way[1] - b))
    )
    if not unit:  # every game gives the same whatever happens
        return needs, []
    smaller = [
        Open(first=game.first, second=game.second, ways=tuple(((x - a) // unit, (y - b) // unit) for x, y in game.ways))
        for game, (a, b) in zip(games, least, strict=True)
    ]
    return [-(-need // unit) for need in needs], smaller


def _reduced(needs: list[int], games: list[Open]) -> tuple[set[int], list[Open]]:
    """Those who have enough, or can never have it, give the other everything; and so on. `needs` is changed; returns
    who is settled, and the games between those who are not."""
    most: defaultdict[int, int] = defaultdict(int)
    for game in games:
        for one in (game.first, game.second):
            most[one] += game.most_for(one)
    settled = {one for one, need in enumerate(needs) if need <= 0 or need > most[one]}
    while True:
        giving = [game for game in games if game.first in settled or game.second in settled]
        if not giving:
            return settled, games
        games = [game for game in games if game.first not in settled and game.second not in settled]
        for game in giving:
            for one in {game.first, game.second} - settled:
                needs[one] -= game.most_for(one)
        settled |= {one for one, need in enumerate(needs) if need <= 0}


def _parts(settled: set[int], games: list[Open]) -> Iterator[tuple[list[int], list[Open]]]:
    """The unsettled by groups that have no game between them, each with its games."""
    near: defaultdict[int, set[int]] = defaultdict(set)
    for game in games:
        near[game.first].add(game.second)
        near[game.second].add(game.first)
    seen = set(settled)
    for start in sorted(near):
        if start in seen:
            continue
        part, todo = {start}, [start]
        while todo:
            fresh = near[todo.pop()] - part
            part |= fresh
            todo += fresh
        seen |= part
        yield sorted(part), [game for game in games if game.first in part]


class _Search:
    """Over one part: takes entrants in or leaves them out, easiest first, and drops what cannot beat the best found."""

    def __init__(self, needs: dict[int, int], games: list[Open], limit: int) -> None:
        self.needs, self.games, self.limit = needs, games, limit
        self.steps = 0
        self.best = 0
        most = {one: sum(game.most_for(one) for game in games if one in {game.first, game.second}) for one in needs}
        self.toll = Toll.of(games)
        played = Counter(one for game in games for one in (game.first, game.second))
        self.tolls = {one: self.toll.least(need, played[one]) for one, need in needs.items()} if self.toll else {}
        self.order = sorted(needs, key=lambda one: (needs[one] - most[one], needs[one], one))

    def run(self) -> Bounds:
        bound = self._bound([], self.order)
        try:
            self._choose([], 0)
        except _TooFar:
            return Bounds(low=self.best, high=bound)
        return Bounds(low=self.best, high=self.best)

    def _choose(self, chosen: list[int], place: int) -> None:
        self.best = max(self.best, len(chosen))
        rest = self.order[place:]
        if not rest or self._bound(chosen, rest) <= self.best:
            return
        with_it = [*chosen, rest[0]]
        if self._can_all(with_it):
            self._choose(with_it, place + 1)
        self._choose(chosen, place + 1)

    def _bound(self, chosen: list[int], rest: list[int]) -> int:
        """No more than this: the chosen, and of the rest as many as all the points, and all the games, at hand would
        do for."""
        wanted = {*chosen, *rest}
        points = games = 0
        for game in self.games:
            inside = [one for one in (game.first, game.second) if one in wanted]
            points += game.split.together if len(inside) > 1 else sum(game.most_for(one) for one in inside)
            games += 2 if inside else 0
        points -= sum(self.needs[one] for one in chosen)
        by_points = sum(1 for total in accumulate(sorted(self.needs[one] for one in rest)) if total <= points)
        if self.toll is None:
            return len(chosen) + by_points
        games -= sum(self.tolls[one] for one in chosen)
        by_games = sum(1 for total in accumulate(sorted(self.tolls[one] for one in rest)) if total <= games)
        return len(chosen) + min(by_points, by_games)

    def _can_all(self, chosen: list[int]) -> bool:
        """Whether all of these can be satisfied at once; everybody else lets them win."""
        needs = {one: self.needs[one] for one in chosen}
        among = []
        for game in self.games:
            inside = [one for one in (game.first, game.second) if one in needs]
            if len(inside) > 1:
                among.append(game)
            for one in inside if len(inside) == 1 else ():
                needs[one] -= game.most_for(one)
        return (self.toll is not None and self.toll.suffices(needs, among)) or self._can(needs, among)

    def _can(self, needs: dict[int, int], games: list[Open]) -> bool:
        self.steps += 1
        if self.steps > self.limit:
            raise _TooFar
        if self.toll is not None and not self.toll.covers(needs, games):
            return False
        flow = supplied(needs, [game.split for game in games])
        if flow is None:
            return False
        for number, (game, (a, b)) in enumerate(zip(games, flow, strict=True)):
            if not any(a <= x and b <= y for x, y in game.ways):
                rest = games[:number] + games[number + 1 :]
                return any(
                    self._can({**needs, game.first: needs[game.first] - x, game.second: needs[game.second] - y}, rest)
                    # The way that comes nearest to the flow first: it is the likeliest to go with the rest of it.
                    for x, y in sorted(game.ways, key=lambda way: max(0, a - way[0]) + max(0, b - way[1]))
                )
        return True
