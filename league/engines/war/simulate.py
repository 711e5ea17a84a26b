"""A battle nobody could play, proposed from strengths, quality, terrain and supply."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from league.engines.attrition import Fit, Prospect, Side, prospect
from league.engines.fates import draw_rolls, rolls_needed
from league.engines.rulesets import UnitId
from league.engines.strength import Casualty
from league.engines.war.model import Campaign, ForceOutcome, Laws
from league.engines.war.state import Battle, BattleSide, ForceState, TurnState

__all__ = ["CannotSimulate", "Foretold", "Proposal", "SideForetold", "foretell", "laws_of", "simulate"]

THOUSAND = 1000
BYTE = 256
NUMBER_BYTES = 6
PICK_BYTES = 3


class CannotSimulate(ValueError):
    """There is no such open battle, or it has more than two sides."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SideForetold:
    """A side's chances, with what its fighting power is made of: `figures` in hundredths of an ordinary one each
    (`quality_percent`), what supply leaves of it, what the ground and entrenchments add."""

    side: BattleSide
    figures: int
    quality_percent: float
    supply_percent: float
    ground_percent: float
    stops_at: int
    chance: float
    expected_loss: float
    deviation: float
    low: int
    high: int

    @property
    def power(self) -> float:
        return self.quality_percent * self.supply_percent * self.ground_percent / 1_000_000


@dataclass(frozen=True, kw_only=True, slots=True)
class Foretold:
    battle: str
    sides: tuple[SideForetold, SideForetold]
    laws: Laws


@dataclass(frozen=True, kw_only=True, slots=True)
class Proposal:
    """What becomes a `BattleOutcome` if the umpire accepts it."""

    winner: str
    forces: tuple[ForceOutcome, ...]
    label: str
    laws: Laws


def laws_of(fit: Fit) -> Laws:
    """The fit as it is booked; what is simulated goes by these rounded numbers, so that it can be repeated."""
    return Laws(
        numbers_x1000=round(fit.numbers * THOUSAND),
        quality_x1000=round(fit.quality * THOUSAND),
        defence_x1000=round(fit.defence * THOUSAND),
        breaks_at_x1000=round(fit.breaks_at * THOUSAND),
        reports=fit.reports,
    )


def foretell(campaign: Campaign, state: TurnState, battle: str, *, laws: Laws | None = None) -> Foretold:
    """The expected losses and their spread, before anybody accepts anything.

    Raises:
        CannotSimulate: see there.
    """
    return _reckoned(campaign, state, battle, laws or Laws())[0]


def simulate(campaign: Campaign, state: TurnState, battle: str, *, seed: str, laws: Laws | None = None) -> Proposal:
    """One outcome, drawn from the turn's seed. All dice are `fates.draw_rolls` under labels that begin `label`:

    * `label`: six bytes make one number from 0 up to 1, which the prospect turns into an outcome;
    * `label/first`, `label/second`: who falls, one after the other, each figure that still stands equally likely;
    * `label/<force>/<unit>`: the fates of a unit's fallen by its casualty table.

    Raises:
        CannotSimulate: see there.
    """
    laws = laws or Laws()
    foretold, told = _reckoned(campaign, state, battle, laws)
    label = f"{battle}/simulated"
    number = _whole(draw_rolls(seed, label, NUMBER_BYTES, BYTE)) / BYTE**NUMBER_BYTES
    end = told.drawn(number)
    winner = {"first": foretold.sides[0].side, "second": foretold.sides[1].side}.get(end.winner)
    forces: list[ForceOutcome] = []
    for which, side, lost in zip(("first", "second"), foretold.sides, (end.first_lost, end.second_lost), strict=True):
        standing = {
            (key, unit): here.present
            for key in side.side.forces
            for unit, here in state.forces[key].states.items()
            if here.present
        }
        fallen = _fallen(seed, f"{label}/{which}", standing, lost)
        forces += [_of_force(campaign, state.forces[key], fallen, seed, label) for key in side.side.forces]
    return Proposal(winner=winner.factions[0] if winner else "", forces=tuple(forces), label=label, laws=laws)


def _reckoned(campaign: Campaign, state: TurnState, key: str, laws: Laws) -> tuple[Foretold, Prospect]:
    battle = state.battle(key)
    if battle is None or battle.outcome is not None:
        raise CannotSimulate("There is no such battle to be fought.")
    if len(battle.sides) != 2:  # noqa: PLR2004 - Lanchester's laws know two sides
        raise CannotSimulate("Only a battle of two sides can be simulated.")
    breaks_at = laws.breaks_at_x1000 / THOUSAND
    sides = [_side(campaign, state, battle, each, breaks_at) for each in battle.sides]
    first, second = (Side(figures=each.figures, power=max(each.power, 0.001), stops_at=each.stops_at) for each in sides)
    told = prospect(
        first,
        second,
        exponent=1.0 if campaign.rules.ground(battle.terrain).law == "square" else 0.0,
        fit=Fit(
            numbers=laws.numbers_x1000 / THOUSAND,
            quality=laws.quality_x1000 / THOUSAND,
            defence=laws.defence_x1000 / THOUSAND,
        ),
        defender=-1 if battle.sides[1].role == "defender" else 0,
    )
    both = (
        _with_chances(sides[0], told.chance, told, first=True),
        _with_chances(sides[1], 1 - told.chance, told, first=False),
    )
    return Foretold(battle=key, sides=both, laws=laws), told


def _side(campaign: Campaign, state: TurnState, battle: Battle, side: BattleSide, breaks_at: float) -> SideForetold:
    rules, forces = campaign.rules, [state.forces[key] for key in side.forces]
    figures = sum(each.present for each in forces)
    shares = [each.present / figures if figures else 1 / len(forces) for each in forces]
    defends = side.role == "defender"
    ground = rules.ground(battle.terrain).defence_percent if defends else 100
    return SideForetold(
        side=side,
        figures=figures,
        quality_percent=sum(share * _quality(campaign, each) for share, each in zip(shares, forces, strict=True)),
        supply_percent=sum(
            share * rules.hardship(each.condition).effect_percent for share, each in zip(shares, forces, strict=True)
        ),
        ground_percent=sum(
            share * ground * (rules.dug_in_percent / 100 if defends and each.dug_in else 1)
            for share, each in zip(shares, forces, strict=True)
        ),
        stops_at=figures - ceil(round(figures * breaks_at, 6)),
        chance=0.0,
        expected_loss=0.0,
        deviation=0.0,
        low=0,
        high=0,
    )


def _quality(campaign: Campaign, force: ForceState) -> float:
    """The mean over the figures that stand."""
    total = sum(
        force.states[unit.id].present
        * campaign.rules.power_percent(unit.unit_class, unit.quality, force.states[unit.id].step)
        for unit in force.units
    )
    return total / force.present if force.present else 100.0


def _with_chances(side: SideForetold, chance: float, told: Prospect, *, first: bool) -> SideForetold:
    spread = told.first if first else told.second
    return replace(
        side,
        chance=chance,
        expected_loss=spread.mean,
        deviation=spread.deviation,
        low=spread.low,
        high=spread.high,
    )


def _whole(dice: Sequence[int]) -> int:
    """Dice of 256 sides as the digits of a number, the first the greatest."""
    value = 0
    for each in dice:
        value = value * BYTE + each - 1
    return value


def _numbers(seed: str, label: str) -> Iterator[int]:
    """Numbers of three bytes, as many as are wanted."""
    drawn: tuple[int, ...] = ()
    at, size = 0, 64 * PICK_BYTES
    while True:
        if at + PICK_BYTES > len(drawn):
            size *= 2
            drawn = draw_rolls(seed, label, size, BYTE)
        yield _whole(drawn[at : at + PICK_BYTES])
        at += PICK_BYTES


def _fallen(
    seed: str, label: str, standing: Mapping[tuple[str, UnitId], int], lost: int
) -> dict[tuple[str, UnitId], int]:
    """Who falls; a number too great to be shared out evenly is thrown away."""
    left = dict(standing)
    fallen: dict[tuple[str, UnitId], int] = {}
    total = sum(left.values())
    numbers = _numbers(seed, label)
    while lost > 0 and total > 0:
        number = next(numbers)
        if number >= BYTE**PICK_BYTES // total * total:
            continue
        place = number % total
        for unit, there in left.items():
            if place < there:
                left[unit] -= 1
                fallen[unit] = fallen.get(unit, 0) + 1
                break
            place -= there
        lost, total = lost - 1, total - 1
    return fallen


def _of_force(
    campaign: Campaign, force: ForceState, fallen: Mapping[tuple[str, UnitId], int], seed: str, label: str
) -> ForceOutcome:
    lines = []
    for unit in force.units:
        lost = fallen.get((force.key, unit.id), 0)
        if lost:
            dice = rolls_needed(campaign.ruleset, unit_class=unit.unit_class, quality=unit.quality, figures_lost=lost)
            lines.append(
                Casualty(
                    unit_id=unit.id,
                    figures_lost=lost,
                    destroyed=lost == force.states[unit.id].present,
                    rolls=draw_rolls(seed, f"{label}/{force.key}/{unit.id}", dice.count, dice.sides),
                )
            )
    fielded = frozenset(key for key, here in force.states.items() if here.present)
    return ForceOutcome(force=force.key, casualties=tuple(lines), fielded=fielded)
