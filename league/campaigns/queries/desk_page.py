"""The umpire's desk: what a turn still waits for, and everything that can be done about it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from league.battles.models import Game, ReportState
from league.campaigns.models import Deadline, Fight
from league.campaigns.queries.corrections import Correction, corrections_of
from league.campaigns.queries.deadlines import deadline_of
from league.campaigns.queries.fights import booking_of, rosters_by_force
from league.campaigns.queries.play_page import FactionLine, factions_seen
from league.campaigns.queries.seen import Seen
from league.campaigns.queries.simulations import laws_of_club
from league.campaigns.queries.war import War
from league.engines import war
from league.engines.war.outlook import Outlook, outlook

__all__ = [
    "BattleDesk",
    "Desk",
    "battle_choices",
    "desk_of",
    "outlook_of",
    "unit_choices",
]

REPORT_STATES: dict[str, str] = {
    ReportState.AWAITING: gettext_noop("reported, not confirmed yet"),
    ReportState.CONFIRMED: gettext_noop("reported and confirmed"),
    ReportState.DISPUTED: gettext_noop("reported and disputed"),
    ReportState.SETTLED: gettext_noop("reported and settled by the umpire"),
}
RUNS, TURNS = 60, 8


@dataclass(frozen=True, kw_only=True, slots=True)
class BattleDesk:
    """A battle on the desk. `state` says in words how far it is; `obstacle` why no game can be planned for it.

    `is_open`: nobody has told how it ended; `is_told_without`: it was, without a game, and that can be taken back.
    """

    key: str
    where: str
    sides: str
    state: str
    game: Game | None
    obstacle: str
    is_open: bool
    is_told_without: bool
    can_simulate: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    turn: int
    phase: str
    factions: tuple[FactionLine, ...]
    deadline: Deadline | None
    is_due: bool
    rolls: tuple[war.RollNeeded, ...]
    battles: tuple[BattleDesk, ...]
    corrections: tuple[Correction, ...]

    @property
    def untold(self) -> int:
        return sum(each.is_open for each in self.battles)


def desk_of(seen: Seen, *, now: datetime) -> Desk:
    """Everything on the desk, through the umpire's eyes."""
    state = seen.war.now
    due = deadline_of(seen.campaign, state.turn) if state.phase == "orders" else None
    view = seen.view()
    return Desk(
        turn=state.turn,
        phase=state.phase,
        factions=factions_seen(seen, view, is_now=True) if view else (),
        deadline=due,
        is_due=bool(due and due.due_at <= now),
        rolls=state.rolls_needed,
        battles=tuple(_battles(seen)),
        corrections=tuple(corrections_of(seen.war)),
    )


def _battles(seen: Seen) -> list[BattleDesk]:
    now = seen.war
    rosters = rosters_by_force(now.campaign)
    fights = Fight.objects.filter(campaign=now.campaign, called_off_at=None).select_related("game")
    games = {each.battle: each.game for each in fights}
    found = []
    for battle in now.now.battles:
        game = games.get(battle.id)
        booked = game is not None and game.cancelled_at is None
        outcome = battle.outcome
        found.append(
            BattleDesk(
                key=battle.id,
                where=seen.regions.get(battle.region, battle.region),
                sides=_sides(seen, battle),
                state=_state(now, battle, booked=booked),
                game=game if booked else None,
                obstacle="" if booked or outcome else booking_of(now, battle, rosters).obstacle,
                is_open=outcome is None and not battle.postponed,
                is_told_without=outcome is not None and not outcome.reference,
                can_simulate=outcome is None and len(battle.sides) == 2,  # noqa: PLR2004 - Lanchester's laws know two
            )
        )
    return found


def _sides(seen: Seen, battle: war.Battle) -> str:
    forces = seen.war.now.forces
    return _(" against ").join(", ".join(forces[key].name for key in side.forces) for side in battle.sides)


def _state(now: War, battle: war.Battle, *, booked: bool) -> str:
    if battle.postponed:
        return _("put off to the next turn")
    if battle.outcome is None:
        return _("a game is planned") if booked else _("no game is planned")
    told = now.told.get(battle.id)
    if told and told.state in REPORT_STATES:
        return _(REPORT_STATES[told.state])
    return {
        "conceded": _("conceded"),
        "simulated": _("reckoned, not played"),
        "ruled": _("told by the umpire"),
    }.get(battle.outcome.source, _("reported"))


def battle_choices(seen: Seen, battle: war.Battle) -> list[tuple[str, str]]:
    """The factions that can have won it."""
    return [(key, seen.factions[key]) for key in battle.factions]


def unit_choices(seen: Seen, battle: war.Battle) -> list[tuple[str, int | str, str, int]]:
    """Every unit that stands in a battle: its force, its number, its name in full, how many figures."""
    found = []
    for key in battle.forces:
        force = seen.war.now.forces[key]
        for unit, state in force.states.items():
            if state.present:
                name = _("%(unit)s of %(force)s") % {
                    "unit": seen.unit_names.get(unit, str(unit)),
                    "force": force.name,
                }
                found.append((key, unit, name, state.present))
    return found


def outlook_of(now: War, *, seed: int) -> Outlook | None:
    """The war played on by chance from its last closed turn; None once it is over."""
    closed = next((each for each in reversed(now.states) if each.phase == "closed"), None)
    if closed is None or closed.ended:
        return None
    last = now.began.rules.victory.last_turn
    turns = min(TURNS, last - closed.turn) if last else TURNS
    return outlook(now.began, closed, seed=seed, runs=RUNS, turns=max(1, turns), laws=laws_of_club(now.campaign.club))
