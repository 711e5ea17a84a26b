"""How many markers or dice are enough for so many tables: the club's own games, reckoned by the kit engine, as a curve."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from league.battles.models import Report
from league.clubs.models import Club
from league.engines.kit.stock import MOST_PEAK, MOST_TABLES, PerTable, per_table
from league.stores.queries.dice_peaks import dice_of_games, usual_dice
from league.stores.queries.peaks import usual_prior

__all__ = ["CHANCES", "MOST_TABLES", "CurveStep", "Enough", "What", "enough_page", "peaks_of"]

What = Literal["markers", "dice"]
CHANCES: Final = (80, 90, 95, 99)
NEVER, SURE = Fraction(1, 1000), Fraction(999, 1000)


@dataclass(frozen=True, kw_only=True, slots=True)
class CurveStep:
    stock: int
    chance: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Enough:
    """`enough` pieces of `what` serve `tables` at once in `percent` of 100 evenings; `reports` of the club told how many
    were in use, of dice by the forces that stood there."""

    what: What
    tables: int
    percent: int
    enough: int
    reports: int
    worth: int
    mean: float
    steps: tuple[CurveStep, ...]
    prior_words: str


def enough_page(club: Club, *, tables: int, percent: int, what: What = "markers") -> Enough:
    """One query, of dice two; the rest is reckoned exactly and rounded only to be drawn."""
    prior = usual_dice() if what == "dice" else usual_prior()
    told = per_table(dice_of_games(club) if what == "dice" else peaks_of(club), prior=prior)
    return Enough(
        what=what,
        tables=tables,
        percent=percent,
        enough=told.enough_for(tables, Fraction(percent, 100)),
        reports=told.reports,
        worth=told.worth,
        mean=float(told.mean),
        steps=tuple(drawn(told, tables)),
        prior_words=prior.words,
    )


def peaks_of(club: Club) -> list[int]:
    """The most markers in use at once, of every current report that tells it."""
    told = Report.objects.current().filter(game__club=club, markers_peak__isnull=False, markers_peak__lte=MOST_PEAK)
    return [peak for peak in told.order_by("pk").values_list("markers_peak", flat=True) if peak is not None]


def drawn(told: PerTable, tables: int) -> list[CurveStep]:
    """The part of the curve that says anything: from hardly ever enough to as good as always."""
    curve = told.curve(tables)
    first = next((at for at, step in enumerate(curve) if step.chance > NEVER), 0)
    last = next((at for at, step in enumerate(curve) if step.chance >= SURE), len(curve) - 1)
    return [CurveStep(stock=step.stock, chance=float(step.chance)) for step in curve[max(0, first - 1) : last + 1]]
