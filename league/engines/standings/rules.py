"""The rules of a season as data: how a game scores, how ties are broken, what an unplayed round is worth.

Points are whole half-points (twice the value, names end in `_x2`), so that half a point needs no float.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

BonusKind = Literal["margin", "narrow_loss", "count_at_least", "clean_sweep"]
TieBreakName = Literal[
    "wins",
    "direct_encounter",
    "buchholz",
    "buchholz_cut1",
    "buchholz_cut2",
    "buchholz_median1",
    "buchholz_median2",
    "sum_of_buchholz",
    "sonneborn_berger",
    "progressive",
    "score_difference",
    "score_for",
    "score_average",
    "value_difference",
    "count_total",
    "drawn_lot",
]
DirectPiece = Literal["points", "score_difference", "score_for", "wins"]
UnplayedPolicy = Literal["as_scored", "fide_2009", "fide_2023"]
Leavers = Literal["keep", "annul"]
RankBy = Literal["points", "points_per_game"]

# What a tie-break's whole number must be divided by to read as points. Ratios are Fractions and have scale 1.
SCALE: dict[TieBreakName, int] = {
    "wins": 1,
    "direct_encounter": 2,
    "buchholz": 2,
    "buchholz_cut1": 2,
    "buchholz_cut2": 2,
    "buchholz_median1": 2,
    "buchholz_median2": 2,
    "sum_of_buchholz": 2,
    "sonneborn_berger": 4,
    "progressive": 2,
    "score_difference": 1,
    "score_for": 1,
    "score_average": 1,
    "value_difference": 1,
    "count_total": 1,
    "drawn_lot": 1,
}

# How many of the lowest and of the highest contributions each Buchholz leaves out.
CUTS: dict[str, tuple[int, int]] = {
    "buchholz": (0, 0),
    "buchholz_cut1": (1, 0),
    "buchholz_cut2": (2, 0),
    "buchholz_median1": (1, 1),
    "buchholz_median2": (2, 2),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Bonus:
    """Extra points, in half-points.

    * `margin`: a game won by at least `threshold` score;
    * `narrow_loss`: a game lost by at most `threshold` score;
    * `count_at_least`: the reported `count` reached `threshold`, whoever won;
    * `clean_sweep`: once for the season, every game played was won and at least `threshold` were played.

    The first three look at games played, never at byes and forfeits. In a game of many sides the margin is the
    distance to the best of the others. `name` tells bonuses apart in the reasons; without one it is the kind.
    """

    kind: BonusKind
    points_x2: int
    threshold: int = 1
    count: str = ""
    name: str = ""

    @property
    def label(self) -> str:
        return self.name or self.kind


@dataclass(frozen=True, kw_only=True, slots=True)
class Scheme:
    """What each kind of appearance scores, in half-points; `showing_up` is added for every game actually played."""

    win_x2: int = 2
    draw_x2: int = 1
    loss_x2: int = 0
    bye_x2: int = 2
    forfeit_win_x2: int = 2
    forfeit_loss_x2: int = 0
    absent_x2: int = 0
    showing_up_x2: int = 0
    bonuses: tuple[Bonus, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class TieBreak:
    """One criterion, more is better. Options beyond `name` belong to the tie-break named beside them.

    `direct_encounter`: the games among those still level, compared by `pieces` one after the other; `reapply` applies
    it again, among themselves, to those it leaves level; `wait` leaves a group alone until all of it have met.
    `wins`: `with_unplayed` counts byes and forfeit wins too. `count_total`: sums the reported `count`.
    """

    name: TieBreakName
    pieces: tuple[DirectPiece, ...] = ("points", "score_difference", "score_for")
    reapply: bool = False
    wait: bool = True
    with_unplayed: bool = False
    count: str = ""

    @property
    def column(self) -> str:
        """The name of its column: the tie-break's own, and the count's where it sums one."""
        return f"{self.name}:{self.count}" if self.count else self.name

    @property
    def scale(self) -> int:
        """What its numbers are divided by to be read."""
        if self.name == "direct_encounter" and self.pieces[0] != "points":
            return 1
        return SCALE[self.name]


@dataclass(frozen=True, kw_only=True, slots=True)
class Rules:
    """Everything that turns games into a table.

    `unplayed_policy` is what unplayed rounds mean to Buchholz and Sonneborn-Berger (see `unplayed.py`). `leavers`:
    `keep` their results or `annul` them, as if they had never entered. `rank_by` points per game divides by all
    appearances, byes and absences too; before the first, points given or taken count as over one. `seed` decides the
    drawn lots. `best_of`: only so many results of each entrant score, the best ones, of equal ones the earlier; None:
    all. `least_games`: whoever has played fewer stands below everybody who has not.
    """

    scheme: Scheme = Scheme()
    tie_breaks: tuple[TieBreak, ...] = ()
    unplayed_policy: UnplayedPolicy = "as_scored"
    leavers: Leavers = "keep"
    rank_by: RankBy = "points"
    seed: int = 0
    best_of: int | None = None
    least_games: int = 0
