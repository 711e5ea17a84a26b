"""The games of a season's pairings, and the rows as the last act has left them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from uuid import UUID

from django.utils.translation import gettext as _

from league.battles.models import Game, Report, ReportState
from league.battles.queries.reports import current_report
from league.battles.services.games import GamePlan, SidePlan, cancel_game, plan_game
from league.clubs.models import Member, Table
from league.errors import Refused
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of
from league.seasons.models import Entrant, Pairing, PairingSide, Round, Season
from league.seasons.services.seasons import SeasonRefused

__all__ = ["PairingSettled", "as_it_is", "call_off", "game_of", "named", "plan_for", "seats_of"]


class PairingSettled(Refused):
    """There is a report of the game; the pairing is history."""

    status = 409


def plan_for(
    season: Season,
    in_round: Round,
    entrants: Sequence[Entrant],
    *,
    edition: Edition,
    on: date | None,
    table: Table | None,
    scenario: str,
    submission: UUID,
    by: Member,
) -> Game:
    """The game of these entrants, who choose their roles themselves.

    Raises:
        SeasonRefused: the game cannot be planned.
    """
    plan = game_of(season, in_round, entrants, edition=edition, on=on, table=table, scenario=scenario)
    try:
        return plan_game(
            season.club,
            edition=edition,
            scenario=scenario,
            on=plan.on,
            sides=plan.sides,
            table=table,
            submission=submission,
            by=by,
        )
    except Refused as refusal:
        raise SeasonRefused(refusal.violations) from None


def game_of(
    season: Season,
    in_round: Round,
    entrants: Sequence[Entrant],
    *,
    edition: Edition,
    on: date | None = None,
    table: Table | None = None,
    scenario: str = "",
    has_roles: bool = False,
) -> GamePlan:
    """The plan of their game, every entrant's players being one side; with `has_roles` they take the scenario's sides
    in order."""
    played = rules_of(edition).scenario(scenario) if scenario and has_roles else None
    roles = [side.key for side in played.sides] if played else [""] * len(entrants)
    return GamePlan(
        edition=edition,
        scenario=scenario,
        on=on or in_round.on or season.starts_on,
        sides=[
            SidePlan(role=role, member_ids=[player.member_id for player in entrant.players.all()])
            for role, entrant in zip(roles, entrants, strict=True)
        ],
        table=table,
    )


def call_off(game: Game | None, *, by: Member) -> None:
    """Cancel a game nobody will play. One whose report was struck out stays as it is.

    Raises:
        PairingSettled: it has a report that stands.
    """
    if game is None or game.cancelled_at is not None:
        return
    report: Report | None = current_report(game)
    if report is None:
        cancel_game(game, by=by)
    elif getattr(report, "state", None) != ReportState.VOID:
        raise PairingSettled(_("There is a report of this game. Correct it, or have the umpire strike it out."))


def as_it_is(pairing: Pairing) -> Pairing:
    """The pairing as the last act on its season, which is locked by now, has left it."""
    rows = Pairing.objects.select_related("round", "game__club")
    current: Pairing = rows.get(pk=pairing.pk)
    return current


def seats_of(pairing: Pairing) -> list[PairingSide]:
    rows = pairing.seats.select_related("entrant").prefetch_related("entrant__players").order_by("position")
    return list(rows)


def named(entrants: Iterable[Entrant]) -> str:
    return ", ".join(entrant.name for entrant in entrants)
