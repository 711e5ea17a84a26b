"""The dice of one unit's losses in one battle, sorted by what they mean."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from league.engines.rulesets import CasualtyTable, Fate, Outcome, Ruleset, UnitId
from league.engines.strength.model import Casualty, Change, RosterUnit

NO_ROLLS: Mapping[Outcome, tuple[int, ...]] = MappingProxyType({})


@dataclass(frozen=True, kw_only=True, slots=True)
class Fates:
    """`taken` figures fell. `decided`: the outcomes with the dice that gave them; each die speaks for `a_die` figures.

    Without a table everyone comes back and no die is thrown.
    """

    taken: int
    table: CasualtyTable | None
    decided: Mapping[Outcome, tuple[int, ...]] = field(default_factory=lambda: NO_ROLLS)

    @property
    def a_die(self) -> int:
        return self.taken if self.table and self.table.roll_for == "unit" else 1

    def figures(self, rolls: tuple[int, ...]) -> int:
        return self.a_die * len(rolls)

    def fallen(self, fate: Fate) -> int:
        """How many figures met this fate."""
        if self.table is None:
            return self.taken if fate == "back" else 0
        return sum(self.figures(rolls) for outcome, rolls in self.decided.items() if outcome.fate == fate)

    @property
    def awaiting(self) -> int:
        """How many figures wait for their dice."""
        if self.table is None:
            return 0
        return self.taken - sum(self.figures(rolls) for rolls in self.decided.values())

    @property
    def for_the_unit(self) -> Outcome | None:
        """The one outcome that speaks for the whole unit."""
        if self.table is None or self.table.roll_for == "figure":
            return None
        return next(iter(self.decided), None)

    def changes(self, engagement_id: UnitId) -> Iterator[Change]:
        if self.table is None and self.taken:
            yield Change(engagement_id=engagement_id, what="back", figures=self.taken)
        key = self.table.key if self.table else ""
        for outcome, rolls in sorted(self.decided.items(), key=lambda item: item[0].first):
            yield Change(
                engagement_id=engagement_id,
                what=outcome.fate,
                figures=self.figures(rolls),
                games=outcome.games,
                table=key,
                rolls=rolls,
            )
        if self.awaiting:
            yield Change(engagement_id=engagement_id, what="awaiting_dice", figures=self.awaiting, table=key)


def fates_of(unit: RosterUnit, casualty: Casualty, standing: int, ruleset: Ruleset) -> Fates:
    """The fates of those `unit` lost of the `standing` who took the field; dice beyond what is needed are ignored."""
    taken = standing if casualty.destroyed else min(max(casualty.figures_lost, 0), standing)
    table = ruleset.table_for(unit.unit_class, unit.quality)
    if table is None:
        return Fates(taken=taken, table=None)
    decided: dict[Outcome, tuple[int, ...]] = {}
    for roll in (casualty.rolls or ())[: table.rolls_for(taken)]:
        if 1 <= roll <= table.reading.thrown:
            outcome = table.outcome_of(roll)
            decided[outcome] = (*decided.get(outcome, ()), roll)
    return Fates(taken=taken, table=table, decided=decided)
