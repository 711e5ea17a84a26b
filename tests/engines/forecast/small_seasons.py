"""Small seasons, and everything that can happen in them, counted out one by one.

Nothing of the forecast engine is used here: the points of a result are written down beside each scheme.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from hypothesis import strategies as st

from league.engines.forecast import Fixture, Outlook, outlook_of
from league.engines.standings import Adjustment, Bonus, Entrant, Rules, Scheme

# What a game can give its two sides, in half-points.
HALVES = ((2, 0), (1, 1), (0, 2))
THREE_POINTS = ((6, 0), (2, 2), (0, 6))
# A win 4, by ten or more one besides; a loss by five or less one besides: 1 to 5, 6 to 9, 10 and more.
WITH_BONUSES = ((8, 2), (8, 0), (10, 0), (4, 4), (2, 8), (0, 8), (0, 10))

SCHEMES = {
    HALVES: Scheme(),
    THREE_POINTS: Scheme(win_x2=6, draw_x2=2, loss_x2=0),
    WITH_BONUSES: Scheme(
        win_x2=8,
        draw_x2=4,
        bonuses=(Bonus(kind="margin", threshold=10, points_x2=2), Bonus(kind="narrow_loss", threshold=5, points_x2=2)),
    ),
}

Ends = tuple[tuple[int, int], ...]


@dataclass(frozen=True, kw_only=True)
class SmallSeason:
    """Points so far, who still meets whom (by number), and how a game can end."""

    points: tuple[int, ...]
    pairs: tuple[tuple[int, int], ...]
    ends: Ends

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(f"e{number}" for number in range(len(self.points)))

    def outlook(self, rounds_to_draw: int = 0, **options: object) -> Outlook:
        return outlook_of(
            [Entrant(id=one) for one in self.ids],
            [],
            [Adjustment(entrant_id=f"e{n}", points_x2=x, reason="so far") for n, x in enumerate(self.points)],
            Rules(scheme=SCHEMES[self.ends]),
            fixtures=[
                Fixture(id=f"f{n}", first=f"e{first}", second=f"e{second}")
                for n, (first, second) in enumerate(self.pairs)
            ],
            rounds_to_draw=rounds_to_draw,
            **options,
        )

    def outcomes(self) -> Iterator[tuple[list[int], tuple[tuple[int, int], ...]]]:
        """Everybody's points at the end, and how each game ended, for all that can happen."""
        for ends in product(self.ends, repeat=len(self.pairs)):
            points = list(self.points)
            for (first, second), (a, b) in zip(self.pairs, ends, strict=True):
                points[first] += a
                points[second] += b
            yield points, ends


def places_of(points: Sequence[int], one: int) -> tuple[int, int]:
    """The place of `one` with all ties won, and with all ties lost."""
    others = [x for other, x in enumerate(points) if other != one]
    return 1 + sum(x > points[one] for x in others), 1 + sum(x >= points[one] for x in others)


def extremes(finals: Sequence[Sequence[int]], one: int) -> tuple[int, int, int, int]:
    """Best, best outright, worst if ties help, worst: over all these ends of the season."""
    places = [places_of(points, one) for points in finals]
    won, lost = [place for place, _ in places], [place for _, place in places]
    return min(won), min(lost), max(won), max(lost)


@st.composite
def small_seasons(draw: st.DrawFn, ends: st.SearchStrategy[Ends], most_games: int) -> SmallSeason:
    size = draw(st.integers(2, 5))
    unit = 2 if draw(st.booleans()) else 1
    points = draw(st.lists(st.integers(0, 8).map(lambda x: x * unit), min_size=size, max_size=size))
    pairs = draw(st.lists(st.sampled_from(list(combinations(range(size), 2))), max_size=most_games))
    return SmallSeason(points=tuple(points), pairs=tuple(pairs), ends=draw(ends))


def drawings(players: Sequence[int]) -> Iterator[tuple[list[tuple[int, int]], int | None]]:
    """All ways to pair these, with the one who has the bye."""
    if len(players) % 2:
        for bye in players:
            for pairs, _ in drawings([one for one in players if one != bye]):
                yield pairs, bye
    elif not players:
        yield [], None
    else:
        first, *rest = players
        for second in rest:
            for pairs, _ in drawings([one for one in rest if one != second]):
                yield [(first, second), *pairs], None
