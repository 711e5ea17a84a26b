"""Planning a game, changing and cancelling the plan, and starting it."""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles import permissions
from league.battles.models import Game, Report, Side, SidePlayer
from league.battles.services.acts import log_act, log_acts
from league.battles.services.plans import GamePlan, SidePlan, faults_of_plan, faults_of_plans
from league.clubs.models import Club, Member, Night, Table
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines.fates import seed_commitment
from league.errors import NotYoursToDo, Refused
from league.rosters.services.records import lock_rosters, take_snapshot
from league.rulesets.models import Edition

__all__ = [
    "GamePlan",
    "GameUnderWay",
    "PlanRefused",
    "SidePlan",
    "call_off",
    "cancel_game",
    "change_game",
    "plan_game",
    "plan_games",
    "start_game",
]


class PlanRefused(Refused):
    """The game cannot be played as planned."""


class GameUnderWay(Refused):
    """The game has gone on since; its plan is history."""

    status = 409


@transaction.atomic
def plan_game(
    club: Club,
    *,
    edition: Edition,
    scenario: str,
    on: date,
    sides: Sequence[SidePlan],
    night: Night | None = None,
    table: Table | None = None,
    note: str = "",
    submission: UUID,
    by: Member,
) -> Game:
    """Plan a game; the seed of its dice is drawn now and only its hash is shown.

    Raises:
        PlanRefused: with everything that is wrong with the plan.
        SubmissionReused: the submission's name came earlier with another plan.
    """
    plan = GamePlan(edition=edition, scenario=scenario, on=on, sides=sides, night=night, table=table, note=note)
    digest = digest_of({"club": club.pk, "by": by.pk, **plan.facts()})
    if again := earlier(Game, submission, digest):
        return again
    if by.club_id != club.pk or by.left_at is not None:
        raise NotYoursToDo(_("Only members of the club plan its games."))
    if faults := faults_of_plan(club, plan):
        raise PlanRefused(faults)
    now = timezone.now()
    game, is_new = write_once(
        Game,
        submission,
        digest,
        club=club,
        edition=edition,
        scenario=scenario,
        night=night,
        table=table,
        on=on,
        note=note,
        created_by=by,
        created_at=now,
        **new_seed(),
    )
    if not is_new:
        return game
    seat(game, sides)
    log_act(club, "game_planned", game, by=by, at=now)
    return game


@transaction.atomic
def plan_games(club: Club, *, plans: Mapping[UUID, GamePlan], at: datetime, by: Member) -> list[Game]:
    """Plan many games at once, by the name of their submission, in as many statements as one: all or none. None of the
    names was used before.

    Raises:
        PlanRefused: with everything that is wrong with any of the plans.
    """
    if by.club_id != club.pk or by.left_at is not None:
        raise NotYoursToDo(_("Only members of the club plan its games."))
    if faults := faults_of_plans(club, list(plans.values())):
        raise PlanRefused(faults)
    games = Game.objects.bulk_create(
        Game(
            submission=submission,
            submission_digest=digest_of({"club": club.pk, "by": by.pk, **plan.facts()}),
            club=club,
            edition=plan.edition,
            scenario=plan.scenario,
            night=plan.night,
            table=plan.table,
            on=plan.on,
            note=plan.note,
            created_by=by,
            created_at=at,
            **new_seed(),
        )
        for submission, plan in plans.items()
    )
    seat_many([(game, plan.sides) for game, plan in zip(games, plans.values(), strict=True)])
    log_acts(club, "game_planned", games, by=by, at=at)
    return games


def new_seed() -> dict[str, str]:
    """The seed of a game's dice and the hash that is shown at once, so that nobody can choose the seed later."""
    seed = secrets.token_bytes(32)
    return {"seed": seed.hex(), "seed_hash": seed_commitment(seed)}


def seat(game: Game, sides: Sequence[SidePlan]) -> None:
    seat_many([(game, sides)])


def seat_many(games: Sequence[tuple[Game, Sequence[SidePlan]]]) -> None:
    seats = [(game, position, side) for game, sides in games for position, side in enumerate(sides, start=1)]
    rows = Side.objects.bulk_create(
        Side(game=game, position=position, role=side.role, roster_id=side.roster_id) for game, position, side in seats
    )
    SidePlayer.objects.bulk_create(
        SidePlayer(game=game, side=row, member_id=member_id)
        for row, (game, _position, side) in zip(rows, seats, strict=True)
        for member_id in side.member_ids
    )


@transaction.atomic
def change_game(
    game: Game,
    *,
    scenario: str,
    on: date,
    sides: Sequence[SidePlan],
    night: Night | None = None,
    table: Table | None = None,
    note: str = "",
    by: Member,
) -> Game:
    """Change when, where, what and with which rosters; who plays stays, since a season may have paired them.

    Raises:
        GameUnderWay: the game was started, reported or cancelled.
        NotYoursToDo: neither a player, nor who planned it, nor an organiser.
        PlanRefused: with everything that is wrong with the changed plan.
    """
    game = lock_game(game)
    if not permissions.can_change_game(by, game):
        raise NotYoursToDo(_("Only its players, whoever planned it and organisers change a game."))
    if game.started_at is not None or game.cancelled_at is not None:
        raise GameUnderWay(_("The game was started or cancelled meanwhile; its plan stays as it is."))
    rows = list(game.sides.prefetch_related("players").order_by("position"))
    seated = [{player.member_id for player in row.players.all()} for row in rows]
    if seated != [set(side.member_ids) for side in sides]:
        raise PlanRefused(_("Who plays cannot be changed. Cancel this game and plan another."))
    plan = GamePlan(edition=game.edition, scenario=scenario, on=on, sides=sides, night=night, table=table, note=note)
    if faults := faults_of_plan(game.club, plan):
        raise PlanRefused(faults)
    game.scenario, game.on, game.night, game.table, game.note = scenario, on, night, table, note
    game.save(update_fields=["scenario", "on", "night", "table", "note"])
    for row, side in zip(rows, sides, strict=True):
        row.role, row.roster_id = side.role, side.roster_id
    Side.objects.bulk_update(rows, ["role", "roster"])
    log_act(game.club, "game_changed", game, by=by)
    return game


@transaction.atomic
def start_game(game: Game, *, by: Member) -> Game:
    """Start the game: every roster on the table is frozen as it stands. Starting twice is starting once.

    Raises:
        GameUnderWay: the game was cancelled.
        NotYoursToDo: neither a player, nor who planned it, nor an organiser or umpire.
    """
    game = lock_game(game)
    if not (permissions.can_change_game(by, game) or permissions.can_file(by, game)):
        raise NotYoursToDo(_("Only its players, whoever planned it, organisers and umpires start a game."))
    if game.cancelled_at is not None:
        raise GameUnderWay(_("The game was cancelled."))
    now = timezone.now()
    if not Game.objects.filter(pk=game.pk, started_at=None, cancelled_at=None).update(started_at=now):
        return game
    game.started_at = now
    freeze_rosters(game, by=by, at=now)
    log_act(game.club, "game_started", game, by=by, at=now)
    return game


def freeze_rosters(game: Game, *, by: Member, at: datetime) -> None:
    sides = game.sides.select_related("roster").exclude(roster=None)
    lock_rosters(side.roster_id for side in sides)
    for side in sides:
        if side.roster is not None:
            side.snapshot = take_snapshot(side.roster, edition=game.edition, by=by, at=at)
            side.save(update_fields=["snapshot"])


@transaction.atomic
def cancel_game(game: Game, *, by: Member) -> Game:
    """Cancel a game that has no report. Cancelling twice is cancelling once.

    Raises:
        GameUnderWay: there is a report; correct it or have the umpire strike it out.
        NotYoursToDo: neither a player, nor who planned it, nor an organiser.
    """
    game = lock_game(game)
    if not permissions.can_change_game(by, game):
        raise NotYoursToDo(_("Only its players, whoever planned it and organisers cancel a game."))
    if Report.objects.filter(game=game).exists():
        raise GameUnderWay(_("There is a report of this game. Correct it, or have the umpire strike it out."))
    now = timezone.now()
    if Game.objects.filter(pk=game.pk, cancelled_at=None).update(cancelled_at=now):
        game.cancelled_at = now
        log_act(game.club, "game_cancelled", game, by=by, at=now)
    return game


@transaction.atomic
def call_off(game: Game, *, by: Member, at: datetime) -> None:
    """Cancel a game for whoever it was planned for; a season or a campaign, whose act checks who may.

    Raises:
        GameUnderWay: there is a report.
    """
    game = lock_game(game)
    if Report.objects.filter(game=game).exists():
        raise GameUnderWay(_("There is a report of this game. Correct it, or have the umpire strike it out."))
    if Game.objects.filter(pk=game.pk, cancelled_at=None).update(cancelled_at=at):
        log_act(game.club, "game_cancelled", game, by=by, at=at)


def lock_game(game: Game) -> Game:
    """The game as it is now, kept by this transaction until its end (where the database locks rows)."""
    locked: Game = (
        Game.objects.select_for_update(of=("self",), no_key=True)
        .select_related("club", "edition__ruleset")
        .get(pk=game.pk)
    )
    return locked
