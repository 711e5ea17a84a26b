"""The tables of a night as the kit engine sees them: what is played, by whose rosters, and what that asks for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db.models import Prefetch
from django.utils.translation import gettext as _

from league.battles.models import Game, Side, SidePlayer
from league.battles.queries.nights import games_of_night
from league.clubs.models import Night
from league.engines.kit import needs
from league.engines.kit.needs import Asked, needs_of
from league.rosters.models import Roster, Snapshot, Unit
from league.rosters.queries import states_of_rosters
from league.rulesets.queries import rules_of
from league.stores.queries.peaks import peaks_for

__all__ = ["TableTonight", "key_of", "tables_of_night", "units_of_rosters"]


@dataclass(frozen=True, kw_only=True, slots=True)
class TableTonight:
    """One game of the night. `players` are members' ids; `lacks` sides whose roster nobody has named yet, by name:
    what their units need is not known, so it is not counted."""

    key: str
    name: str
    game: Game
    players: tuple[int, ...]
    lacks: tuple[str, ...]
    asked: tuple[Asked, ...]


def tables_of_night(night: Night, reports: Mapping[int, Sequence[int]]) -> tuple[TableTonight, ...]:
    """Every game of the night that was not cancelled, by table and number; five queries, and eight where rosters stand
    as they are today because their game has not begun. `reports`: the most markers in use at once that reports tell of,
    by ruleset."""
    seats = Prefetch("players", SidePlayer.objects.select_related("member").order_by("pk"))
    sides = Prefetch("sides", Side.objects.select_related("roster", "snapshot").order_by("position"))
    games = games_of_night(night).select_related("edition", "table")
    rows = list(games.prefetch_related(sides, seats).order_by("table__number", "pk"))
    waiting = [side.roster for game in rows for side in game.sides.all() if side.roster and not side.snapshot_id]
    today = units_of_rosters(waiting)
    editions = {game.edition_id: game.edition for game in rows}
    peaks = {pk: peaks_for(rules_of(edition), reports.get(edition.ruleset_id, ())) for pk, edition in editions.items()}
    return tuple(table_of(game, today, peaks[game.edition_id]) for game in rows)


def key_of(game_id: int) -> str:
    return f"game:{game_id}"


def table_of(game: Game, today: Mapping[int, tuple[needs.Unit, ...]], peaks: Sequence[needs.Peak]) -> TableTonight:
    rules = rules_of(game.edition)
    scenario = rules.scenario(game.scenario) if game.scenario else None
    roles = {side.key: side.name for side in scenario.sides} if scenario else {}
    names = [(side, name_of(game, side, roles)) for side in game.sides.all()]
    told = tuple(needs.Side(key=str(side.position), name=name, units=units_of(side, today)) for side, name in names)
    played = needs.Game(table=key_of(game.pk), ruleset=rules, sides=told, scenario=game.scenario, peaks=tuple(peaks))
    return TableTonight(
        key=key_of(game.pk),
        name=str(game.table) if game.table else str(game),
        game=game,
        players=tuple(player.member_id for player in game.players.all()),
        lacks=tuple(name for side, name in names if not side.roster_id),
        asked=needs_of(played),
    )


def name_of(game: Game, side: Side, roles: Mapping[str, str]) -> str:
    """Who plays it, else the scenario's name for it, else its number."""
    players = ", ".join(player.member.name for player in game.players.all() if player.side_id == side.pk)
    return players or roles.get(side.role, "") or _("Side %(number)s") % {"number": side.position}


def units_of(side: Side, today: Mapping[int, tuple[needs.Unit, ...]]) -> tuple[needs.Unit, ...]:
    """As the roster took the field, or as it stands today before that."""
    if side.snapshot is not None:
        return tuple(units_frozen(side.snapshot))
    return today.get(side.roster_id or 0, ())


def units_frozen(snapshot: Snapshot) -> Iterable[needs.Unit]:
    for unit in snapshot.document["units"]:
        if unit["present"] and not unit.get("out"):
            yield needs.Unit(
                name=unit["name"],
                unit_class=unit["class"],
                figures=unit["present"],
                gear=tuple(unit["gear"]),
            )


def units_of_rosters(rosters: Iterable[Roster]) -> dict[int, tuple[needs.Unit, ...]]:
    """What of each roster could take the field today, by the roster's id: seven queries, none without rosters."""
    rosters = list({roster.pk: roster for roster in rosters}.values())
    if not rosters:
        return {}
    states = states_of_rosters(rosters)
    units: dict[int, list[needs.Unit]] = {roster.pk: [] for roster in rosters}
    for unit in Unit.objects.filter(roster__in=rosters, removed_at=None).order_by("position", "pk"):
        state = states[unit.roster_id][unit.pk]
        if state.present and not state.out:
            units[unit.roster_id].append(
                needs.Unit(name=unit.name, unit_class=unit.unit_class, figures=state.present, gear=tuple(unit.gear))
            )
    return {pk: tuple(each) for pk, each in units.items()}
