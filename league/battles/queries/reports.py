"""Reading one report: its state, its versions, who may settle it."""

from __future__ import annotations

from uuid import UUID

from django.db.models import Q, QuerySet

from league.battles.models import Game, Report
from league.clubs.models import Club, Member, Submitted

__all__ = ["current_report", "is_only_umpire", "reports_of", "state_of", "versions_of", "was_sent"]


def state_of(report: Report) -> str:
    """The report's `ReportState` as the database knows it now."""
    return str(Report.objects.filter(pk=report.pk).with_state().values_list("state", flat=True).get())  # type: ignore[misc]


def current_report(game: Game) -> Report | None:
    """The last word on a game, with its `state`, or None before the first."""
    return Report.objects.filter(game=game).current().with_state().select_related("filed_by").first()


def versions_of(game: Game) -> list[Report]:
    """Every report of a game, the latest first, each with its `state`."""
    return list(Report.objects.filter(game=game).with_state().select_related("filed_by", "ruling__by").order_by("-pk"))


def reports_of(club: Club) -> QuerySet[Report]:
    """Every report of the club, corrected ones among them, with their `state`, results and what corrected them."""
    rows: QuerySet[Report] = (
        Report.objects.filter(game__club=club)
        .with_state()
        .select_related("correction")
        .prefetch_related("results__side", "results__objectives")
    )
    return rows


def was_sent(model: type[Submitted], submission: UUID) -> bool:
    """Whether this submission made something before."""
    return bool(model._default_manager.filter(submission=submission).exists())  # noqa: SLF001 - documented API


def is_only_umpire(member: Member) -> bool:
    """Whether the club has no umpire but this one."""
    others = Member.objects.present().filter(Q(is_umpire=True), club=member.club_id).exclude(pk=member.pk)
    return not others.exists()
