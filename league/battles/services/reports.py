"""Filing battle reports, at once or after a plan, and correcting them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from league.battles import permissions
from league.battles.models import Game, ObjectiveCount, Report, ReportState, Side, SideResult
from league.battles.queries.forces import fielded_units
from league.battles.queries.reports import state_of
from league.battles.queries.sides import sides_of
from league.battles.services.acts import log_act
from league.battles.services.answers import (
    AlreadyAnswered,
    ReportMovedOn,
    confirm_report,
    dispute_report,
    settle_report,
)
from league.battles.services.claims import CasualtyLine, ReportClaim, SideClaim
from league.battles.services.dice import carry_dice
from league.battles.services.games import (
    GamePlan,
    GameUnderWay,
    SidePlan,
    lock_game,
    plan_game,
    start_game,
)
from league.battles.services.plans import faults_of_plan, scenario_of
from league.battles.services.reckoning import Reckoning, Setting, placed_by_rosters, reckon
from league.clubs.models import Club, Member
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines.rulesets import Scenario
from league.errors import NotYoursToDo, Refused, Violation
from league.rosters.models import Engagement
from league.rosters.services.records import lock_rosters, record_engagement
from league.rulesets.queries import rules_of

__all__ = [
    "AlreadyAnswered",
    "AlreadyFiled",
    "CasualtyLine",
    "GamePlan",
    "ReportClaim",
    "ReportMovedOn",
    "ReportRefused",
    "SideClaim",
    "SidePlan",
    "confirm_report",
    "correct_report",
    "dispute_report",
    "file_report",
    "log_game",
    "settle_report",
]

REASON_MOST = 200
TITLE_MOST = 200


class ReportRefused(Refused):
    """The report says something that cannot have happened; carries every such thing."""


class AlreadyFiled(Refused):
    """Somebody filed a report of this game before."""

    status = 409
    title = "The game has its report"


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """What a report is apart from its claim: of which game, in which one's place, under which name it was sent."""

    game: Game
    submission: UUID
    digest: str
    supersedes: Report | None = None
    reason: str = ""


@transaction.atomic
def file_report(game: Game, *, claim: ReportClaim, submission: UUID, by: Member) -> Report:
    """File the first report of a game. It counts for the rosters at once and waits for the opponent.

    Raises:
        NotYoursToDo: neither a player nor an organiser or umpire.
        GameUnderWay: the game was cancelled.
        AlreadyFiled: there is a report; confirm, dispute or correct it.
        ReportRefused: with everything that cannot be.
        SubmissionReused: the submission's name came earlier with another report.
    """
    digest = digest_of({"game": game.pk, "by": by.pk, "claim": claim.facts()})
    game = lock_game(game)
    if again := earlier(Report, submission, digest):
        return again
    if not permissions.can_file(by, game):
        raise NotYoursToDo(_("Only the game's players, organisers and umpires file its report."))
    if game.cancelled_at is not None:
        raise GameUnderWay(_("The game was cancelled."))
    if first := Report.objects.filter(game=game, supersedes=None).select_related("filed_by").first():
        raise already_filed(first, game)
    game = start_game(game, by=by)
    draft = Draft(game=game, submission=submission, digest=digest)
    return write_report(draft, claim=claim, by=by, at=timezone.now())


@transaction.atomic
def log_game(club: Club, *, plan: GamePlan, claim: ReportClaim, submission: UUID, by: Member) -> Report:
    """Plan, start and report a game that is over, all or nothing.

    Raises:
        ReportRefused: with the faults of the plan and of the report together.
        NotYoursToDo, SubmissionReused: as for planning and filing.
    """
    if faults := faults_of_plan(club, plan):
        setting = Setting(
            rules=rules_of(plan.edition),
            scenario=scenario_of(plan),
            zone=club.zone,
            forces=dict.fromkeys(range(1, len(plan.sides) + 1), ()),
        )
        raise ReportRefused([*faults, *reckon(setting, claim, at=timezone.now()).faults])
    game = plan_game(
        club,
        edition=plan.edition,
        scenario=plan.scenario,
        on=plan.on,
        sides=plan.sides,
        night=plan.night,
        table=plan.table,
        note=plan.note,
        submission=submission,
        by=by,
    )
    return file_report(game, claim=claim, submission=submission, by=by)


@transaction.atomic
def correct_report(report: Report, *, claim: ReportClaim, reason: str, submission: UUID, by: Member) -> Report:
    """Put a new report in a report's place; the earlier one stays readable and no longer counts.

    Raises:
        NotYoursToDo: `permissions.can_correct` says who may.
        ReportMovedOn: it was corrected meanwhile.
        ReportRefused: with everything that cannot be, a missing reason among it.
        SubmissionReused: the submission's name came earlier with another report.
    """
    reason = reason.strip()
    digest = digest_of({"corrects": report.pk, "by": by.pk, "claim": claim.facts(), "reason": reason})
    game = lock_game(report.game)
    if again := earlier(Report, submission, digest):
        return again
    state = state_of(report)
    if state == ReportState.SUPERSEDED:
        raise ReportMovedOn(_("This report was corrected meanwhile. Look at the newer one."))
    if not permissions.can_correct(by, game, report, state):
        raise NotYoursToDo(_("This report can now be corrected by an organiser or umpire only."))
    draft = Draft(game=game, supersedes=report, reason=reason, submission=submission, digest=digest)
    return write_report(draft, claim=claim, by=by, at=timezone.now())


def write_report(draft: Draft, *, claim: ReportClaim, by: Member, at: datetime) -> Report:
    """Check the claim, record each roster's engagement, write the rows. All faults are gathered before any is raised."""
    game = draft.game
    rules = rules_of(game.edition)
    sides = sides_of(game)
    setting = Setting(
        rules=rules,
        scenario=rules.scenario(game.scenario) if game.scenario else None,
        zone=game.club.zone,
        forces={side.position: fielded_units(side.snapshot) for side in sides},
    )
    reckoning = reckon(setting, claim, at=at)
    lock_rosters(side.roster_id for side in sides)
    engagements, faults = record_engagements(draft, sides, setting, reckoning, claim=claim, at=at)
    if faults := [*faults_of_reason(draft), *reckoning.faults, *faults]:
        raise ReportRefused(faults)
    report = save_report(draft, claim=claim, by=by, at=at)
    save_results(report, sides, reckoning, engagements)
    carry_dice(report, at=at)
    act = "report_corrected" if draft.supersedes else "report_filed"
    log_act(game.club, act, report, by=by, at=at, game=game.pk, reason=report.reason)
    return report


def record_engagements(
    draft: Draft, sides: list[Side], setting: Setting, reckoning: Reckoning, *, claim: ReportClaim, at: datetime
) -> tuple[dict[int, Engagement], list[Violation]]:
    """Each roster's part, by the side's number, in the place of the one the corrected report gave it; and the faults."""
    replaced = {}
    if draft.supersedes:
        earlier_parts = Engagement.objects.filter(result__report=draft.supersedes)
        replaced = {engagement.roster_id: engagement for engagement in earlier_parts}
    made: dict[int, Engagement] = {}
    faults: list[Violation] = []
    for side in sides:
        if side.roster is None or side.snapshot is None:
            continue
        try:
            made[side.pk] = record_engagement(
                side.roster,
                snapshot=side.snapshot,
                title=title_of(side, sides, setting.scenario),
                fought_on=claim.fought_on,
                outcome=reckoning.outcome(side.position),
                casualties=reckoning.claim(side.position).casualties,
                replaces=replaced.get(side.roster.pk),
                at=at,
            )
        except Refused as refusal:
            faults += placed_by_rosters(claim, side.position, refusal.violations)
    return made, faults


def save_report(draft: Draft, *, claim: ReportClaim, by: Member, at: datetime) -> Report:
    # The game is locked and was looked at since, so of its reports no other can come in between.
    report, _is_new = write_once(
        Report,
        draft.submission,
        draft.digest,
        game=draft.game,
        supersedes=draft.supersedes,
        reason=draft.reason,
        is_full=claim.is_full,
        fought_on=claim.fought_on,
        rounds_played=claim.rounds_played,
        markers_peak=claim.markers_peak,
        notes=claim.notes,
        filed_by=by,
        filed_at=at,
    )
    return report


def save_results(report: Report, sides: list[Side], reckoning: Reckoning, engagements: dict[int, Engagement]) -> None:
    rows = SideResult.objects.bulk_create(
        SideResult(
            report=report,
            side=side,
            score=reckoning.score(side.position),
            conceded=reckoning.claim(side.position).conceded,
            outcome=reckoning.outcome(side.position),
            value_destroyed=reckoning.value_destroyed(side.position),
            value_lost=reckoning.value_lost(side.position),
            engagement=engagements.get(side.pk),
        )
        for side in sides
    )
    ObjectiveCount.objects.bulk_create(
        ObjectiveCount(result=row, objective=objective, count=count)
        for row, side in zip(rows, sides, strict=True)
        for objective, count in (reckoning.claim(side.position).objectives or {}).items()
        if count
    )


def faults_of_reason(draft: Draft) -> list[Violation]:
    if draft.supersedes and not draft.reason:
        return [Violation(_("Say why the report is corrected."), "reason", "required")]
    if len(draft.reason) > REASON_MOST:
        words = _("Keep the reason under %(most)s characters.") % {"most": REASON_MOST}
        return [Violation(words, "reason", "too_long")]
    return []


def title_of(side: Side, sides: list[Side], scenario: Scenario | None) -> str:
    """What a unit's service record calls this battle."""
    against = ", ".join(player.member.name for other in sides if other.pk != side.pk for player in other.players.all())
    named = {"scenario": scenario.name if scenario else _("Battle"), "names": against}
    return (_("%(scenario)s against %(names)s") % named)[:TITLE_MOST]


def already_filed(first: Report, game: Game) -> AlreadyFiled:
    when = date_format(timezone.localtime(first.filed_at, game.club.zone), "DATETIME_FORMAT")
    words = _("%(name)s already filed a report of this game (%(when)s). Confirm, dispute or correct it.")
    return AlreadyFiled(words % {"name": first.filed_by.name, "when": when})
