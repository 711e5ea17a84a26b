"""What is still to be played, and how the answers look. All values are frozen; ids are the caller's own strings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from league.engines.standings import Bonus, Outcome

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

# The score the first may expect against the second, 0 to 1.
Expectation = Callable[[str, str], float]
# How those level on points are put in order: by lot, or as they stand in today's table.
Level = Literal["lots", "today"]
Verdict = Literal["through", "through_or_level", "level", "open", "level_at_best", "out", "undecided"]


class BadForecast(ValueError):
    """Nothing can be foretold from this. `violations` has every reason, each a sentence."""

    def __init__(self, violations: Sequence[str]) -> None:
        self.violations: tuple[str, ...] = tuple(violations)
        super().__init__(" ".join(self.violations))


@dataclass(frozen=True, kw_only=True, slots=True)
class Fixture:
    """A game that is still to be played, or with `second` None a bye that is still to be scored. Fixtures are played
    in order of `round`, within one in the order given."""

    id: str
    first: str
    second: str | None
    round: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Result:
    """One way a game can end: `outcome` is the first's, points are half-points with all bonuses in them."""

    outcome: Outcome
    first_x2: int
    second_x2: int
    first_bonuses: tuple[Bonus, ...] = ()
    second_bonuses: tuple[Bonus, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Outlook:
    """A season as far as it has come, made by `outlook_of`: one entry per entrant, in order of today's table.

    `active` may be paired in the `rounds_to_draw` rounds nobody knows yet; `met[a, b]` and `had_bye` say what was
    played. `results` are all ways a game can end; `weights[r]` is how often result r comes about among those of its
    outcome. `expected[a, b]` is what a may expect against b.
    """

    ids: tuple[str, ...]
    names: tuple[str, ...]
    points_x2: Ints
    active: Flags
    met: Flags
    had_bye: Flags
    bye_x2: int
    fixtures: tuple[Fixture, ...]
    sides: tuple[tuple[int, int], ...]
    rounds_to_draw: int
    results: tuple[Result, ...]
    weights: Floats
    expected: Floats
    draws: float


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Odds:
    """`places[i, j]` is the chance of entrant i to finish in place j, counted from 0; `errors` its standard error.

    `seasons` were simulated, or 0: every possible season was counted, and the errors are 0. After n seasons of which
    k came out so, the error is sqrt(q (1 - q) / n) with q = (k + 1) / (n + 2): never 0, since what did not happen in
    n seasons may still happen.
    """

    ids: tuple[str, ...]
    places: Floats
    errors: Floats
    seasons: int

    def top(self, places: int) -> tuple[Chance, ...]:
        """Each entrant's chance to finish among the first `places`: 1 for the title, 2 to be promoted with one more."""
        chances = np.clip(self.places[:, :places].sum(axis=1), 0.0, 1.0)
        errors = standard_error(chances, self.seasons)
        return tuple(
            Chance(entrant_id=entrant_id, chance=float(chances[i]), error=float(errors[i]))
            for i, entrant_id in enumerate(self.ids)
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Chance:
    """A chance, 0 to 1, and its standard error."""

    entrant_id: str
    chance: float
    error: float


def standard_error(chances: Floats, seasons: int) -> Floats:
    """See `Odds`."""
    if not seasons:
        return np.zeros_like(chances)
    q = (chances * seasons + 1) / (seasons + 2)
    return np.asarray(np.sqrt(q * (1 - q) / seasons))


@dataclass(frozen=True, kw_only=True, slots=True)
class Bounds:
    """A whole number that is at least `low` and at most `high`; it is known where these are the same."""

    low: int
    high: int

    @property
    def known(self) -> bool:
        return self.low == self.high


@dataclass(frozen=True, kw_only=True, slots=True)
class Prospect:
    """The places an entrant can still finish in, whoever wins what, on points alone.

    `best` and `worst` are with every tie on points won and lost; `best_outright` with every tie lost even so, and
    `worst_if_ties_help` with every tie won. Forfeits are not foreseen: every open game is taken to be played.
    """

    entrant_id: str
    best: Bounds
    best_outright: Bounds
    worst_if_ties_help: Bounds
    worst: Bounds

    def verdict(self, places: int) -> Verdict:
        """Whether this is already one of the first `places`.

        `through`: whatever happens. `through_or_level`: at worst level on points with the last place that counts.
        `level`: it will come to a tie-break whatever happens. `open`: may yet be inside or outside without one.
        `level_at_best`: only by winning a tie. `out`: whatever happens. `undecided`: it would take too long to find
        out, or depends on how rounds are drawn that are not drawn yet.
        """
        loses_ties, wins_ties = _at_most(self.worst, places), _at_most(self.best, places)
        if loses_ties:
            return "through"
        if wins_ties is False:
            return "out"
        safe, reachable = _at_most(self.worst_if_ties_help, places), _at_most(self.best_outright, places)
        if None in {loses_ties, wins_ties, safe, reachable}:
            return "undecided"
        if safe:
            return "through_or_level" if reachable else "level"
        return "open" if reachable else "level_at_best"


def _at_most(place: Bounds, places: int) -> bool | None:
    """Whether a place counts; None where its bounds do not say."""
    if place.high <= places:
        return True
    return False if place.low > places else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Condition:
    """Another game, and how it may end for its first side."""

    fixture_id: str
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """What it means if the next game ends so: the entrant's own `outcome`, with these of its own `bonuses` and no
    others, worth `points_x2`.

    Where `verdict` is not yet `through`, each of `ifs` is a set of conditions on other games that makes it so
    together; with `level`, only `through_or_level`. No set has more than two conditions; an empty `ifs` says that no
    such set is enough, or none was looked for.
    """

    outcome: Outcome
    bonuses: tuple[Bonus, ...]
    points_x2: int
    verdict: Verdict
    ifs: tuple[tuple[Condition, ...], ...] = ()
    level: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Needs:
    """What an entrant needs from the next game to be one of the first `places`; cases from the best result down."""

    entrant_id: str
    places: int
    fixture_id: str
    cases: tuple[Case, ...]

    @property
    def enough(self) -> Case | None:
        """The least that makes it certain, whatever the others do; None where nothing does."""
        certain = [case for case in self.cases if case.verdict == "through"]
        return certain[-1] if certain else None
