"""What others say to a report: the opponent confirms or disputes, the umpire settles."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles import permissions
from league.battles.models import Answer, Report, ReportState, Ruling
from league.battles.queries.reports import is_only_umpire, state_of
from league.battles.services.acts import log_act
from league.battles.services.games import lock_game
from league.clubs.models import Member
from league.errors import NotYoursToDo, Refused, Violation
from league.rosters.models import Engagement
from league.rosters.services.records import lock_rosters, set_aside

__all__ = ["AlreadyAnswered", "ReportMovedOn", "confirm_report", "dispute_report", "settle_report"]

TEXT_MOST = 2000


class ReportMovedOn(Refused):
    """Somebody corrected or settled the report meanwhile."""

    status = 409


class AlreadyAnswered(Refused):
    """This member said something else to the report before."""

    status = 409


@transaction.atomic
def confirm_report(report: Report, *, by: Member) -> Answer:
    """Agree to a report. Confirming twice is confirming once.

    Raises:
        NotYoursToDo: no player of a side other than the filer's.
        ReportMovedOn: it was corrected or settled meanwhile.
        AlreadyAnswered: this member disputed it.
    """
    return answer(report, verdict=Answer.Verdict.CONFIRMED, text="", by=by)


@transaction.atomic
def dispute_report(report: Report, *, text: str, by: Member) -> Answer:
    """Say that a report is wrong, and how. Disputing twice is disputing once.

    Raises:
        NotYoursToDo, ReportMovedOn: as for confirming.
        AlreadyAnswered: this member confirmed it.
        Refused: the text is missing or too long.
    """
    return answer(report, verdict=Answer.Verdict.DISPUTED, text=checked_text(text, _("Say what is wrong.")), by=by)


def answer(report: Report, *, verdict: str, text: str, by: Member) -> Answer:
    game = lock_game(report.game)
    if not permissions.can_answer(by, game, report):
        raise NotYoursToDo(_("Only a player of another side than the filer's confirms or disputes a report."))
    given = report.answers.filter(member=by).first()
    if given is not None:
        return same_answer(given, verdict)
    refuse_unless_open(report)
    now = timezone.now()
    made = Answer.objects.create(report=report, member=by, verdict=verdict, text=text, at=now)
    log_act(game.club, f"report_{verdict}", report, by=by, at=now, game=game.pk, text=text)
    return made


def same_answer(given: Answer, verdict: str) -> Answer:
    if given.verdict == verdict:
        return given
    if given.verdict == Answer.Verdict.DISPUTED:
        raise AlreadyAnswered(_("You disputed this report. Correct it, or wait for the umpire."))
    raise AlreadyAnswered(_("You confirmed this report. Ask an umpire or organiser to correct it."))


@transaction.atomic
def settle_report(report: Report, *, verdict: str, text: str, by: Member) -> Ruling:
    """The umpire's last word: the report stands, or it is struck out and its casualties never happened.

    Saying the same word twice is saying it once.

    Raises:
        NotYoursToDo: no umpire, or one who played in the game while the club has another.
        ReportMovedOn: it was corrected or settled meanwhile.
        Refused: the reason is missing or too long, or the verdict is none of the two.
    """
    game = lock_game(report.game)
    if not permissions.can_settle(by, game, is_only_umpire=is_only_umpire(by)):
        raise NotYoursToDo(_("Only an umpire who did not play in the game settles its report."))
    reason = checked_text(text, _("Say why."))
    if verdict not in Ruling.Verdict.values:
        raise Refused(Violation(_("Say whether the report stands or is struck out."), "verdict", "unknown_verdict"))
    if again := Ruling.objects.filter(report=report, verdict=verdict, text=reason, by=by).first():
        return again
    refuse_unless_open(report)
    now = timezone.now()
    ruling = Ruling.objects.create(report=report, verdict=verdict, text=reason, by=by, at=now)
    if verdict == Ruling.Verdict.VOID:
        engagements = list(Engagement.objects.filter(result__report=report))
        lock_rosters(engagement.roster_id for engagement in engagements)
        for engagement in engagements:
            set_aside(engagement, at=now)
    log_act(game.club, "report_settled", report, by=by, at=now, game=game.pk, verdict=verdict, text=reason)
    return ruling


def refuse_unless_open(report: Report) -> None:
    state = state_of(report)
    if state == ReportState.SUPERSEDED:
        raise ReportMovedOn(_("This report was corrected meanwhile. Look at the newer one."))
    if state in {ReportState.SETTLED, ReportState.VOID}:
        raise ReportMovedOn(_("The umpire has settled this report."))


def checked_text(text: str, missing: str) -> str:
    text = text.strip()
    if not text:
        raise Refused(Violation(missing, "text", "required"))
    if len(text) > TEXT_MOST:
        raise Refused(Violation(_("Keep it under %(most)s characters.") % {"most": TEXT_MOST}, "text", "too_long"))
    return text
