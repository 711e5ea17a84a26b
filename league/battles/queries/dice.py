"""Which dice a report still wants, and whether its game's seed is open."""

from __future__ import annotations

from league.battles.models import Game, Report
from league.rosters.models import Engagement, Rolls
from league.rosters.queries import RollsWanted, rolls_wanted

__all__ = ["label_of", "seed_is_open", "wanted_by"]


def label_of(unit_id: int) -> str:
    """What a unit's dice are drawn under. The same in every correction, so that correcting cannot throw again."""
    return f"unit-{unit_id}"


def wanted_by(report: Report) -> list[RollsWanted]:
    """Every casualty of the report whose dice nobody has thrown, side by side."""
    engagements = (
        Engagement.objects.filter(result__report=report).select_related("snapshot").order_by("result__side__position")
    )
    return [wanted for engagement in engagements for wanted in rolls_wanted(engagement)]


def seed_is_open(game: Game) -> bool:
    """Whether dice were drawn from the game's seed, in whatever version of its report: it is shown from then on."""
    return Rolls.objects.filter(source=Rolls.Source.DRAWN, casualty__engagement__result__report__game=game).exists()
