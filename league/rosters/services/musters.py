"""The roll-call of a roster between two battles: recruits that joined, figures that left without a fight.

Called by acts of a campaign inside their transactions; those check who may and hold the rosters by `lock_rosters`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction
from django.utils.translation import gettext as _

from league.errors import Refused, Violation
from league.rosters.models import Muster, Roster, Unit
from league.rosters.services.records import next_sequence

__all__ = ["MusterLine", "MusterRefused", "record_muster", "set_aside_musters"]

FIGURES_MOST = 9_999


class MusterRefused(Refused):
    """The roll-call speaks of units that are not the roster's, or says nothing of them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MusterLine:
    """What was found in one unit: `left` figures are gone for good, `joined` recruits fill places of the lost."""

    unit_id: int
    joined: int = 0
    left: int = 0


@transaction.atomic
def record_muster(
    roster: Roster,
    *,
    title: str,
    held_on: date,
    lines: Sequence[MusterLine],
    sequence: int | None = None,
    at: datetime,
) -> list[Muster]:
    """Add a roll-call to the roster's record, at its end or at the place of one set aside before.

    Raises:
        MusterRefused: with everything that is wrong; `field` is `lines.<index>`.
    """
    if faults := faults_of_lines(roster, lines):
        raise MusterRefused(faults)
    place = next_sequence(roster) if sequence is None else sequence
    return Muster.objects.bulk_create(
        Muster(
            unit_id=line.unit_id,
            sequence=place,
            title=title,
            held_on=held_on,
            joined=line.joined,
            left=line.left,
            recorded_at=at,
        )
        for line in lines
    )


def faults_of_lines(roster: Roster, lines: Sequence[MusterLine]) -> list[Violation]:
    units = set(Unit.objects.filter(roster=roster).values_list("pk", flat=True))
    wrong = []
    for index, line in enumerate(lines):
        field = f"lines.{index}"
        if line.unit_id not in units:
            wrong.append(Violation(_("This unit is not of the roster."), field, "unknown"))
        if not (0 <= line.joined <= FIGURES_MOST and 0 <= line.left <= FIGURES_MOST):
            words = _("Recruits and leavers are from 0 to %(most)s.") % {"most": FIGURES_MOST}
            wrong.append(Violation(words, field, "range"))
        elif not line.joined and not line.left:
            wrong.append(Violation(_("Say who joined or who left."), field, "missing"))
    if len({line.unit_id for line in lines}) < len(lines):
        wrong.append(Violation(_("A unit has one line in a roll-call."), "lines", "twice"))
    return wrong


@transaction.atomic
def set_aside_musters(musters: Sequence[Muster], *, at: datetime) -> None:
    """Let roll-calls count no more, since the war they belong to was reckoned anew. They stay readable."""
    rows = Muster.objects.filter(pk__in=[each.pk for each in musters], set_aside_at=None)
    rows.update(set_aside_at=at)
