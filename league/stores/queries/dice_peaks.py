"""How many dice the club's games had in use at once, counted out from the forces that stood on their tables."""

from __future__ import annotations

from typing import Final

from django.db.models import Prefetch
from django.utils.translation import gettext as _

from league.battles.models import Game, Report, Side
from league.clubs.models import Club
from league.engines.kit import needs
from league.engines.kit.needs import needs_of, tools_at_once
from league.engines.kit.stock import MOST_PEAK, Prior, triangular
from league.rulesets.queries import rules_of
from league.stores.queries.tonight import units_frozen

__all__ = ["dice_of_games", "usual_dice"]

# The latest games say how the club plays today.
GAMES_MOST: Final = 300
# Twelve rifles roll twelve dice, a machine gun adds five or six, 36 are more than enough: common practice, no source.
LEAST, USUAL, MOST, WORTH = 6, 12, 36, 6


def usual_dice() -> Prior:
    words = _("6 to 36 dice on a table, most often about 12: common practice, no source.")
    return triangular(least=LEAST, usual=USUAL, most=MOST, worth=WORTH, words=words)


def dice_of_games(club: Club) -> list[int]:
    """By each of the latest games with a report and every side's force known: two queries."""
    sides = Prefetch("sides", Side.objects.select_related("snapshot").order_by("position"))
    played = Game.objects.filter(club=club, cancelled_at=None, reports__in=Report.objects.current())
    games = played.select_related("edition").prefetch_related(sides).order_by("-pk")[:GAMES_MOST]
    counts = [dice_of(game) for game in games if all(side.snapshot for side in game.sides.all())]
    return [count for count in counts if 0 < count <= MOST_PEAK]


def dice_of(game: Game) -> int:
    told = tuple(
        needs.Side(key=str(side.position), name=str(side.position), units=tuple(units_frozen(side.snapshot)))
        for side in game.sides.all()
        if side.snapshot
    )
    asked = needs_of(needs.Game(table="", ruleset=rules_of(game.edition), sides=told, scenario=game.scenario))
    return tools_at_once(asked, "die")
