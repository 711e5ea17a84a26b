"""Saying afterwards which rosters were on the table: a quick log asks only for the score."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles import permissions
from league.battles.models import Game, GameState
from league.battles.queries.sides import sides_of
from league.battles.services.acts import log_act
from league.battles.services.games import GameUnderWay, PlanRefused, lock_game
from league.battles.services.plans import GamePlan, SidePlan, faults_of_plan
from league.clubs.models import Member
from league.errors import NotYoursToDo
from league.rosters.services.records import lock_rosters, take_snapshot

__all__ = ["name_rosters"]


@transaction.atomic
def name_rosters(game: Game, *, rosters: Mapping[int, int], by: Member) -> Game:
    """Give sides that have none their roster, by position; the report's next correction can then tell casualties.

    A roster that joins a game which has begun is frozen as it stands now. Naming the same once more changes nothing.

    Raises:
        NotYoursToDo: neither a player nor an organiser or umpire.
        GameUnderWay: the game was cancelled or struck out, or a side has named another roster.
        PlanRefused: with everything that is wrong with the rosters.
    """
    game = lock_game(game)
    if not permissions.can_file(by, game):
        raise NotYoursToDo(_("Only the game's players, organisers and umpires say which rosters were there."))
    state = Game.objects.filter(pk=game.pk).with_state().values_list("state", flat=True).get()  # type: ignore[misc]
    if state in {GameState.CANCELLED, GameState.VOID}:
        raise GameUnderWay(_("The game was cancelled or struck out."))
    sides = sides_of(game)
    for side in sides:
        if side.roster_id is not None and rosters.get(side.position, side.roster_id) != side.roster_id:
            raise GameUnderWay(_("Side %(number)s has named its roster already.") % {"number": side.position})
    plan = GamePlan(
        edition=game.edition,
        scenario=game.scenario,
        on=game.on,
        sides=[
            SidePlan(
                member_ids=[player.member_id for player in side.players.all()],
                role=side.role,
                roster_id=rosters.get(side.position, side.roster_id),
            )
            for side in sides
        ],
    )
    named = [side for side in sides if side.roster_id is None and side.position in rosters]
    if faults := [each for each in faults_of_plan(game.club, plan) if each.field.endswith(".roster_id")]:
        raise PlanRefused(faults)
    now = timezone.now()
    lock_rosters(rosters[side.position] for side in named)
    for side in named:
        side.roster_id = rosters[side.position]
        if game.started_at is not None and side.roster is not None:
            side.snapshot = take_snapshot(side.roster, edition=game.edition, by=by, at=now)
        side.save(update_fields=["roster", "snapshot"])
    if named:
        log_act(game.club, "rosters_named", game, by=by, at=now)
    return game
