"""The dice that decide what became of the fallen: thrown on the table and typed in, or drawn from the game's seed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles import permissions
from league.battles.models import Game, Report, ReportState
from league.battles.queries.dice import label_of, seed_is_open, wanted_by
from league.battles.queries.reports import state_of
from league.battles.services.acts import log_act
from league.battles.services.answers import ReportMovedOn
from league.battles.services.games import lock_game
from league.clubs.models import Member
from league.engines import fates
from league.errors import NotYoursToDo, Refused, Violation
from league.rosters.models import Casualty, Rolls
from league.rosters.queries import RollsWanted
from league.rosters.services.records import record_rolls

__all__ = ["DiceAlreadyThrown", "DiceRefused", "carry_dice", "draw_rolls", "enter_dice", "enter_rolls"]


class DiceRefused(Refused):
    """These dice cannot be what was thrown; carries every reason."""


class DiceAlreadyThrown(Refused):
    """The dice of this casualty were thrown before; they are thrown once only."""

    status = 409


@transaction.atomic
def enter_rolls(casualty: Casualty, *, results: Sequence[int], by: Member) -> Rolls:
    """Enter the dice of one casualty, as they showed on the table.

    Raises:
        Refused: as for `enter_dice`.
    """
    report = Report.objects.select_related("game").get(results__engagement=casualty.engagement_id)
    return enter_dice(report, results={casualty.pk: results}, by=by)[0]


@transaction.atomic
def enter_dice(report: Report, *, results: Mapping[int, Sequence[int]], by: Member) -> list[Rolls]:
    """Enter the dice of some of a report's casualties, by the casualty's number; all or none.

    The same dice once more are the dice that lie there.

    Raises:
        NotYoursToDo: neither a player nor an organiser or umpire.
        ReportMovedOn: the report was corrected or struck out.
        DiceAlreadyThrown: other dice were entered or drawn for one of them, or the site draws this game's dice.
        DiceRefused: with every reason, at the field `casualty.<number>`.
    """
    game = lock_for_dice(report, by)
    known = {
        casualty.pk: casualty
        for casualty in Casualty.objects.filter(engagement__result__report=report).select_related("unit", "rolls")
    }
    wanted = {each.casualty.pk: each for each in wanted_by(report)}
    faults = [
        fault for pk, dice in results.items() for fault in faults_of_dice(pk, dice, wanted.get(pk), known.get(pk))
    ]
    if faults:
        raise DiceRefused(faults)
    fresh = [pk for pk in results if pk in wanted]
    if fresh and seed_is_open(game):
        raise DiceAlreadyThrown(
            _("The site drew dice for this game and its seed is known since. Have it draw these as well.")
        )
    now = timezone.now()
    for pk in fresh:
        record_rolls(wanted[pk].casualty, source=Rolls.Source.TABLE, results=list(results[pk]), by=by, at=now)
        facts = {"unit": known[pk].unit.name, "results": ", ".join(str(roll) for roll in results[pk])}
        log_act(game.club, "dice_entered", report, by=by, at=now, game=game.pk, **facts)
    return list(Rolls.objects.filter(casualty__in=list(results)).order_by("casualty_id"))


def faults_of_dice(
    pk: int, dice: Sequence[int], wanted: RollsWanted | None, casualty: Casualty | None
) -> list[Violation]:
    """What is wrong with the dice of one casualty; a repeated entry of the same dice is right."""
    place = f"casualty.{pk}"
    if casualty is None:
        return [Violation(_("This report has no such casualty."), place, "unknown_casualty")]
    if wanted is None:
        lying: Rolls | None = getattr(casualty, "rolls", None)
        if lying is not None and lying.source == Rolls.Source.TABLE and list(lying.results) == list(dice):
            return []
        if lying is None:
            words = _("%(unit)s needs no dice: everybody who fell comes back.")
        else:
            words = _("The dice of %(unit)s were thrown before; they are thrown once only.")
        return [Violation(words % {"unit": casualty.unit.name}, place, "not_wanted")]
    needed = fates.RollsNeeded(count=wanted.count, sides=wanted.sides, table=wanted.table)
    unit = casualty.unit.name
    return [
        Violation(f"{unit}: {_(each.message) % each.args}", place, each.code)
        for each in fates.check_rolls(needed, dice)
    ]


@transaction.atomic
def draw_rolls(report: Report, *, by: Member) -> list[Rolls]:
    """Draw every die of a report that nobody has thrown, from the seed whose hash was shown when the game was planned.

    Drawing twice draws nothing new. The seed is open from then on.

    Raises:
        NotYoursToDo, ReportMovedOn: as for entering them.
    """
    game = lock_for_dice(report, by)
    now = timezone.now()
    drawn = [draw(game, each, by=by, at=now) for each in wanted_by(report)]
    if drawn:
        log_act(game.club, "dice_drawn", report, by=by, at=now, game=game.pk)
    return drawn


def draw(game: Game, wanted: RollsWanted, *, by: Member | None, at: datetime) -> Rolls:
    label = label_of(wanted.casualty.unit_id)
    results = fates.draw_rolls(game.seed, label, wanted.count, wanted.sides)
    return record_rolls(
        wanted.casualty,
        source=Rolls.Source.DRAWN,
        results=list(results),
        seed=game.seed,
        label=label,
        by=by,
        at=at,
    )


def carry_dice(report: Report, *, at: datetime) -> None:
    """Give a correction the dice of the report it corrects, so that correcting is no second throw.

    Drawn dice come from the same seed and label: fewer losses keep the first of them, more add to them. Dice from
    the table stay where as many are wanted; otherwise they are to be entered anew.
    """
    if report.supersedes_id is None:
        return
    lying = {
        rolls.casualty.unit_id: rolls
        for rolls in Rolls.objects.filter(casualty__engagement__result__report=report.supersedes_id).select_related(
            "casualty", "by"
        )
    }
    if not lying:
        return
    for wanted in wanted_by(report):
        rolls = lying.get(wanted.casualty.unit_id)
        if rolls is None:
            continue
        if rolls.source == Rolls.Source.DRAWN:
            draw(report.game, wanted, by=rolls.by, at=at)
        elif len(rolls.results) == wanted.count:
            record_rolls(wanted.casualty, source=rolls.source, results=rolls.results, by=rolls.by, at=rolls.at)


def lock_for_dice(report: Report, by: Member) -> Game:
    game = lock_game(report.game)
    if not permissions.can_handle_dice(by, game):
        raise NotYoursToDo(_("Only the game's players, organisers and umpires handle its dice."))
    state = state_of(report)
    if state == ReportState.SUPERSEDED:
        raise ReportMovedOn(_("This report was corrected meanwhile. Look at the newer one."))
    if state == ReportState.VOID:
        raise ReportMovedOn(_("The umpire has struck this report out."))
    return game
