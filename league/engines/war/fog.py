"""What each player, the umpire and spectators may see of a war: decided here, and nowhere else.

Pages, the API, exports, the chronicle and its plots are all drawn from a `View`. The rules of the campaign say how far
one sees (`rules.Fog`); allies of one side see alike. What everybody knows: the map itself, what was surrendered, what
ended the war, and, where the rules say so, who holds a region and that a battle took place.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from league.engines.maps import Map
from league.engines.supply import Barrier, Distribution
from league.engines.war.model import BuildDepot, Campaign, Order, OrderSet, SendSupply, Source
from league.engines.war.rules import Condition
from league.engines.war.sight import seen_regions
from league.engines.war.state import Battle, Change, Ended, Entry, ForceState, Phase, RollNeeded, TurnState

__all__ = ["SPECTATOR", "UMPIRE", "SeenBattle", "SeenForce", "SeenSide", "View", "about", "last_turn", "view", "views"]

UMPIRE: Final = "*"
SPECTATOR: Final = ""
Known = Literal["presence", "size", "units", "own"]

# Which arguments of a change name a region, or several.
PLACES: Final = frozenset({"origin", "to", "way"})


@dataclass(frozen=True, kw_only=True, slots=True)
class SeenForce:
    """A force as far as it is known. `figures` is exact of one's own and where units are seen, about right where only
    the size is, None where only its presence is. `force` is all of it, for one's own side, the umpire, and where the
    rules let scouts see units; then without what is its own business: need, pace and supply state."""

    key: str
    name: str
    faction: str
    region: str
    road: str = ""
    battle: str = ""
    gone: str = ""
    known: Known = "presence"
    figures: int | None = None
    condition: Condition | None = None
    force: ForceState | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class SeenSide:
    """`forces` are those one knows of."""

    role: str
    factions: tuple[str, ...]
    forces: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class SeenBattle:
    """`fell` tells how many figures each known force lost, to those who took part in it and to those who see all.
    `told` whether its outcome is known; `winner` is then a faction, or empty for a draw."""

    id: str
    turn: int
    region: str
    road: str
    terrain: str
    sides: tuple[SeenSide, ...]
    scenarios: tuple[str, ...]
    postponed: bool
    told: bool
    winner: str = ""
    source: Source | None = None
    reason: str = ""
    reference: str = ""
    mine: bool = False
    fell: Mapping[str, int] = field(default_factory=dict, hash=False)


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """A turn as one viewer may see it; the fields mean what those of `TurnState` do.

    `seen` are the regions one sees into. A region that is missing from `control` is nobody's if it is in
    `control_known`, and otherwise unknown. `balances`, `entries` and `supply` are of one's own side.
    """

    viewer: str
    turn: int
    phase: Phase
    map: Map
    seen: frozenset[str]
    control: Mapping[str, str] = field(hash=False)
    control_known: frozenset[str]
    forces: Mapping[str, SeenForce] = field(hash=False)
    depots: Mapping[str, str] = field(hash=False)
    balances: Mapping[tuple[str, str], int] = field(hash=False)
    points: Mapping[str, int] = field(hash=False)
    battles: tuple[SeenBattle, ...]
    supply: Mapping[str, Distribution] = field(hash=False)
    orders: Mapping[str, OrderSet] = field(hash=False)
    entries: tuple[Entry, ...]
    changes: tuple[Change, ...]
    rolls_needed: tuple[RollNeeded, ...]
    ended: Ended | None

    def battle(self, key: str) -> SeenBattle | None:
        return next((each for each in self.battles if each.id == key), None)


def last_turn(campaign: Campaign, states: Sequence[TurnState], *, viewer: str) -> int | None:
    """The newest turn a viewer may look at; None: nothing at all. Of a war that is over everybody may see the end."""
    newest = states[-1].turn
    if viewer != SPECTATOR:
        return newest
    fog = campaign.rules.fog
    if fog.spectators == "nothing":
        return None
    return newest if states[-1].ended else max(0, newest - fog.late)


def view(campaign: Campaign, states: Sequence[TurnState], *, viewer: str, turn: int | None = None) -> View | None:
    """A turn (the newest one may see unless another is named) as `viewer` may see it: a faction's key, `UMPIRE` or
    `SPECTATOR`. None: it may not be seen, or there is no such turn."""
    newest = last_turn(campaign, states, viewer=viewer)
    if newest is None:
        return None
    wanted = newest if turn is None else turn
    if not 0 <= wanted <= newest:
        return None
    return _Eyes(campaign, viewer).look(states[wanted])


def views(campaign: Campaign, states: Sequence[TurnState], *, viewer: str) -> tuple[View, ...]:
    """Every turn a viewer may look at, from turn 0."""
    newest = last_turn(campaign, states, viewer=viewer)
    eyes = _Eyes(campaign, viewer)
    return () if newest is None else tuple(eyes.look(state) for state in states[: newest + 1])


def about(figures: int) -> int:
    """What scouts make of a number: to the nearest five, never nobody where somebody is."""
    return max(5, (figures + 2) // 5 * 5) if figures else 0


class _Eyes:
    """One viewer of one campaign."""

    def __init__(self, campaign: Campaign, viewer: str) -> None:
        self.campaign, self.viewer = campaign, viewer
        self.fog = campaign.rules.fog
        self.all = viewer == UMPIRE or (viewer == SPECTATOR and self.fog.spectators == "everything")
        side = campaign.side_of(viewer) if campaign.faction(viewer) else ""
        self.mine = frozenset(each.key for each in campaign.factions if side and campaign.side_of(each.key) == side)

    def look(self, state: TurnState) -> View:
        seen = frozenset(each.key for each in state.map.regions) if self.all else self._seen(state)
        everywhere = self.all or self.fog.control == "all"
        known = frozenset(each.key for each in state.map.regions) if everywhere else seen
        forces = {key: told for key, each in state.forces.items() if (told := self._force(state, each, seen))}
        control = {region: holder for region, holder in state.control.items() if region in known}
        battles = tuple(fought for each in state.battles if (fought := self._battle(each, seen, forces)))
        heard = {each.id for each in battles}
        return View(
            viewer=self.viewer,
            turn=state.turn,
            phase=state.phase,
            map=state.map,
            seen=seen,
            control=control,
            control_known=known,
            forces=forces,
            depots={
                region: faction for region, faction in state.depots.items() if region in seen or faction in self.mine
            },
            balances={key: amount for key, amount in state.balances.items() if self._own(key[1])},
            points={key: each for key, each in state.points.items() if self._knows_points(key)},
            battles=battles,
            supply={key: _without_holders(told, control) for key, told in state.supply.items() if self._own(key)},
            orders={key: self._orders(given, forces, seen) for key, given in state.orders.items()},
            entries=tuple(each for each in state.entries if self._own(each.faction)),
            changes=tuple(self._masked(each, seen) for each in state.changes if self._hears(each, seen, heard)),
            rolls_needed=tuple(
                each for each in state.rolls_needed if self.all or each.label.rsplit("/", 1)[0] in heard
            ),
            ended=state.ended,
        )

    def _own(self, faction: str) -> bool:
        return self.all or faction in self.mine

    def _knows_points(self, faction: str) -> bool:
        return self.fog.control == "all" or self._own(faction)

    def _seen(self, state: TurnState) -> frozenset[str]:
        if not self.mine:
            return frozenset()
        held = {region for region, faction in state.control.items() if faction in self.mine}
        stood = {each.region for each in state.standing if each.faction in self.mine}
        return seen_regions(state.map, (held, self.fog.from_regions), (stood, self.fog.from_forces))

    def _force(self, state: TurnState, force: ForceState, seen: frozenset[str]) -> SeenForce | None:
        if self._own(force.faction):
            return _whole(force, "own", condition=force.condition)
        met = any(force.key in each.forces and self._took_part(each) for each in state.battles)
        if force.gone or not (force.region in seen or met):
            return None
        if self.fog.sight == "units":
            bare = replace(force, need=0, pace=0, condition="supplied", came_from="")
            return _whole(bare, "units")
        figures = about(force.present) if self.fog.sight == "size" else None
        return replace(_whole(force, self.fog.sight), figures=figures, force=None)

    def _took_part(self, battle: Battle) -> bool:
        return any(each in self.mine for each in battle.factions)

    def _battle(self, battle: Battle, seen: frozenset[str], forces: Mapping[str, SeenForce]) -> SeenBattle | None:
        mine = self._took_part(battle)
        if not (self.all or mine or battle.region in seen or self.fog.battles == "all"):
            return None
        outcome = battle.outcome
        fell: dict[str, int] = {}
        if outcome and (self.all or mine):
            fell = {each.force: sum(line.figures_lost for line in each.casualties) for each in outcome.forces}
        return SeenBattle(
            id=battle.id,
            turn=battle.turn,
            region=battle.region,
            road=battle.road,
            terrain=battle.terrain,
            sides=tuple(
                SeenSide(
                    role=side.role,
                    factions=side.factions,
                    forces=tuple(key for key in side.forces if key in forces or mine or self.all),
                )
                for side in battle.sides
            ),
            scenarios=battle.scenarios,
            postponed=battle.postponed,
            told=outcome is not None,
            winner=outcome.winner if outcome else "",
            source=outcome.source if outcome else None,
            reason=outcome.reason if outcome and (self.all or mine) else "",
            reference=outcome.reference if outcome else "",
            mine=mine,
            fell=fell,
        )

    def _orders(self, given: OrderSet, forces: Mapping[str, SeenForce], seen: frozenset[str]) -> OrderSet:
        """One's own side's orders; of others what was carried out where one sees it, and nothing of their supply."""
        if self._own(given.faction):
            return given
        return replace(given, orders=tuple(each for each in given.orders if _shows(each, forces, seen)), importance=())

    def _hears(self, change: Change, seen: frozenset[str], battles: AbstractSet[str]) -> bool:
        if self.all:
            return self.viewer == UMPIRE or change.known != "umpire"
        if change.known == "umpire":
            return False
        if change.known == "all" or change.faction in self.mine:
            return True
        if change.args.get("battle", "") in battles and change.what.startswith(("battle", "postponed")):
            return True
        return change.known == "region" and change.region in seen

    def _masked(self, change: Change, seen: frozenset[str]) -> Change:
        """A change without the regions one does not see: where somebody came from is theirs to know."""
        if self.all or change.faction in self.mine or not (PLACES & change.args.keys()):
            return change
        told = {}
        for name, value in change.args.items():
            if name not in PLACES:
                told[name] = value
            elif isinstance(value, str):
                told[name] = value if value in seen else ""
            else:
                told[name] = tuple(each if each in seen else "" for each in value)
        return replace(change, args=told)


def _whole(force: ForceState, known: Known, *, condition: Condition | None = None) -> SeenForce:
    return SeenForce(
        key=force.key,
        name=force.name,
        faction=force.faction,
        region=force.region,
        road=force.road,
        battle=force.battle,
        gone=force.gone,
        known=known,
        figures=force.present,
        condition=condition,
        force=force,
    )


def _shows(order: Order, forces: Mapping[str, SeenForce], seen: frozenset[str]) -> bool:
    if isinstance(order, BuildDepot):
        return order.region in seen
    return not isinstance(order, SendSupply) and order.force in forces


def _without_holders(told: Distribution, control: Mapping[str, str]) -> Distribution:
    """Supply as it came, without naming who holds a region one does not see: an empty holder is somebody."""

    def barrier(each: Barrier) -> Barrier:
        hidden = each.holder is not None and each.region not in control
        return replace(each, holder="") if hidden else each

    return replace(
        told,
        forces=tuple(
            replace(each, why=replace(each.why, barriers=tuple(barrier(one) for one in each.why.barriers)))
            if each.why and each.why.barriers
            else each
            for each in told.forces
        ),
    )
