"""Which buttons a member gets on a report's page."""

from __future__ import annotations

from dataclasses import dataclass

from league.battles import permissions
from league.battles.models import Report, ReportState
from league.battles.queries.reports import is_only_umpire
from league.clubs.models import Member

__all__ = ["Rights", "rights_on"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Rights:
    can_answer: bool
    can_settle: bool
    can_correct: bool
    can_handle_dice: bool


def rights_on(report: Report, member: Member | None) -> Rights:
    """What the member may do with a report fetched by `report_to_show`, as it stands now."""
    state = report.state  # type: ignore[attr-defined]  # annotated by with_state
    game = report.game
    is_open = state not in {ReportState.SUPERSEDED, ReportState.VOID, ReportState.SETTLED}
    answered = member is not None and report.answers.filter(member=member).exists()
    may_settle = member is not None and permissions.can_settle(member, game, is_only_umpire=is_only_umpire(member))
    return Rights(
        can_answer=is_open and not answered and permissions.can_answer(member, game, report),
        can_settle=is_open and may_settle,
        can_correct=state != ReportState.SUPERSEDED and permissions.can_correct(member, game, report, state),
        can_handle_dice=state not in {ReportState.SUPERSEDED, ReportState.VOID}
        and permissions.can_handle_dice(member, game),
    )
