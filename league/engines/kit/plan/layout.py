"""The programme of a night: supply -> good -> use at a table -> demand, with direct arcs where it matters whose it is.

Whose a piece is does not matter for shortfall and stand-ins, so the programme grows in four steps: uses (what is done
at the tables, each good as one heap), looks (what must be told apart), hands (who gives how much, what goes to their
own table, what stays as it was packed) and charges (who brings anything at all, and which holdings are packed).
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

import numpy as np

from .facts import Facts
from .model import Level
from .program import Ints, Program

USES, LOOKS, HANDS, CHARGES = 1, 2, 3, 4
STEP_OF: dict[Level, int] = {
    "changes": HANDS,
    "away": HANDS,
    "excess_ml": HANDS,
    "carriers": CHARGES,
    "lines": CHARGES,
}


@dataclass(kw_only=True, slots=True)
class Layout:
    """Which column means what, and a point that is always allowed, if seldom good."""

    facts: Facts
    program: Program = field(default_factory=Program)
    step: int = 0
    times: list[int] = field(default_factory=list)  # by use: how often it is made
    missing: list[int] = field(default_factory=list)  # by demand: pieces
    pool: dict[str, int] = field(default_factory=dict)  # by good: pieces in use
    looks: dict[tuple[int, str, str], int] = field(default_factory=dict)  # by (set apart, look, demand): 0 or 1
    taken: list[int] = field(default_factory=list)  # by supply: pieces
    kept: dict[tuple[int, str], int] = field(default_factory=dict)  # by (supply, table): pieces given as packed before
    own: dict[tuple[int, str], int] = field(default_factory=dict)  # by (supply, table): more, to the owner's table
    excess: dict[int, int] = field(default_factory=dict)  # by carrier: millilitres too many
    packs: dict[int, int] = field(default_factory=dict)  # by supply: 0 or 1
    comes: dict[int, int] = field(default_factory=dict)  # by carrier: 0 or 1

    def reach(self, step: int, point: Ints) -> Ints:
        """Grow the programme to a step; the point is grown with it, or given up where the new rows do not allow it."""
        for number, grow, grown in (
            (USES, self._uses, self._nothing),
            (LOOKS, self._apart, self._told_apart),
            (HANDS, self._hands, self._handed),
            (CHARGES, self._charges, lambda point: self.charged(self._grown(point))),
        ):
            if self.step < number <= step:
                grow()
                point = grown(point)
                self.step = number
        return point

    def aim(self, level: Level) -> tuple[dict[int, int], int]:
        """What a level counts, as terms and a constant."""
        night, constant = self.facts.night, 0
        terms: Counter[int] = Counter()
        match level:
            case "needed" | "wanted" | "pleasant":
                terms.update(self.missing[at] for at, demand in enumerate(night.demands) if demand.importance == level)
            case "rank":
                terms.update({self.times[at]: use.rank for at, use in enumerate(night.uses)})
            case "loss":
                terms.update({self.times[at]: use.loss for at, use in enumerate(night.uses)})
            case "changes":
                constant = sum(self.facts.packed.values())
                terms.update(self.taken[at] for at, _ in self.facts.carried if self.facts.has_packed(at))
                terms.subtract(dict.fromkeys(self.kept.values(), 2))
            case "away":
                terms.update(self.taken[at] for at, _ in self.facts.carried)
                terms.subtract(self.own.values())
                terms.subtract(column for key, column in self.kept.items() if self.facts.plays(*key))
            case "excess_ml":
                terms.update(self.excess.values())
            case "carriers":
                terms.update(self.comes.values())
            case "lines":
                terms.update(self.packs.values())
            case "pieces":
                terms.update(self.pool.values())
        return {column: factor for column, factor in terms.items() if factor}, constant

    def _uses(self) -> None:
        night, facts, program = self.facts.night, self.facts, self.program
        self.times = [program.column(0, most) for most in facts.most_times]
        self.missing = [program.column(0, demand.count) for demand in night.demands]
        for at, demand in enumerate(night.demands):
            covers = {use: dict(night.uses[use].covers)[demand.key] for use in facts.uses_for.get(demand.key, ())}
            # One piece for one: idle uses are ruled out at once, and the row is one of a network.
            plain = all(pieces == 1 and len(night.uses[use].covers) == 1 for use, pieces in covers.items())
            terms = {self.times[use]: pieces for use, pieces in covers.items()} | {self.missing[at]: 1}
            if plain:
                program.row(demand.count, demand.count, terms)
            else:
                program.at_least(demand.count, terms)
        used: defaultdict[str, dict[int, int]] = defaultdict(dict)
        for at, use in enumerate(night.uses):
            used[use.good][self.times[at]] = use.takes
        for good, terms in sorted(used.items()):
            most = sum(takes * program.upper[column] for column, takes in terms.items())
            self.pool[good] = program.column(0, min(facts.held.get(good, 0), most))
            program.row(0, 0, terms | {self.pool[good]: -1})

    def _apart(self) -> None:
        """No look for two demands of a set: a use is made only for the one demand that its look was chosen for."""
        night = self.facts.night
        for number, apart in enumerate(night.apart):
            by_look: defaultdict[str, defaultdict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
            for key in apart.demands:
                for use in self.facts.uses_for.get(key, ()):
                    by_look[night.uses[use].look or night.uses[use].good][key].append(use)
            for look, by_demand in sorted(by_look.items()):
                if len(by_demand) > 1:
                    self._choose(number, look, by_demand)

    def _choose(self, number: int, look: str, by_demand: dict[str, list[int]]) -> None:
        program = self.program
        for key, uses in sorted(by_demand.items()):
            chosen = self.looks[number, look, key] = program.column(0, 1)
            for use in uses:
                program.at_most(0, {self.times[use]: 1, chosen: -self.facts.most_times[use]})
        program.at_most(1, {self.looks[number, look, key]: 1 for key in by_demand})

    def _hands(self) -> None:
        night, facts, program = self.facts.night, self.facts, self.program
        self.taken = [
            program.column(
                0, min(supply.count, program.upper[self.pool[supply.good]]) if supply.good in self.pool else 0
            )
            for supply in night.supplies
        ]
        for good, column in self.pool.items():
            program.row(0, 0, {self.taken[at]: 1 for at in facts.supplies_of.get(good, ())} | {column: -1})
        self._direct()
        for number, carrier in enumerate(night.carriers):
            bulk = {self.taken[at]: night.supplies[at].bulk_ml for at in facts.supplies_by[number]}
            most = sum(each * program.upper[column] for column, each in bulk.items())
            if carrier.carries_most_ml is not None and most > carrier.carries_most_ml:
                self.excess[number] = program.column(0, most - carrier.carries_most_ml)
                program.at_most(carrier.carries_most_ml, bulk | {self.excess[number]: -1})

    def _direct(self) -> None:
        """The arcs from a supply straight to a table: as packed before, and to where the owner plays."""
        facts, program = self.facts, self.program
        from_supply: defaultdict[int, dict[int, int]] = defaultdict(dict)
        to_table: defaultdict[tuple[str, str], dict[int, int]] = defaultdict(dict)
        arcs = [(self.kept, key, count) for key, count in facts.packed.items()]
        arcs += [(self.own, (at, table), supply.count) for at, supply in facts.carried for table in self._tables(at)]
        for columns, (at, table), count in arcs:
            good = facts.night.supplies[at].good
            most = min(count, program.upper[self.taken[at]], facts.most_pieces(table, good))
            if most:
                column = columns[at, table] = program.column(0, most)
                from_supply[at][column] = to_table[table, good][column] = 1
        for at, terms in from_supply.items():
            program.at_most(0, terms | {self.taken[at]: -1})
        for key, terms in to_table.items():
            used = {self.times[use]: -facts.night.uses[use].takes for use in facts.uses_of[key]}
            program.at_most(0, terms | used)

    def _tables(self, supply: int) -> tuple[str, ...]:
        carrier = self.facts.carrier(supply)
        return carrier.tables if carrier else ()

    def _charges(self) -> None:
        facts, program = self.facts, self.program
        for at, _ in facts.carried:
            most = program.upper[self.taken[at]]
            if most:
                self.packs[at] = program.column(0, 1)
                program.at_most(0, {self.taken[at]: 1, self.packs[at]: -most})
        for number, supplies in enumerate(facts.supplies_by):
            theirs = [self.packs[at] for at in supplies if at in self.packs]
            if theirs:
                self.comes[number] = program.column(0, 1)
                for column in theirs:
                    program.at_most(0, {column: 1, self.comes[number]: -1})
        direct: defaultdict[tuple[int, str], list[int]] = defaultdict(list)
        for columns in (self.kept, self.own):
            for key, column in columns.items():
                if key[0] in self.packs:
                    direct[key].append(column)
        for (at, table), arcs in direct.items():
            most = min(program.upper[self.taken[at]], facts.most_pieces(table, facts.night.supplies[at].good))
            program.at_most(0, dict.fromkeys(arcs, 1) | {self.packs[at]: -most})

    def _nothing(self, _: Ints) -> Ints:
        point = np.zeros(len(self.program.lower), dtype=np.int64)
        point[self.missing] = [demand.count for demand in self.facts.night.demands]
        return point

    def _told_apart(self, point: Ints) -> Ints:
        grown = self._grown(point)
        uses = self.facts.night.uses
        for (_, look, key), column in self.looks.items():
            made = (use for use in self.facts.uses_for[key] if (uses[use].look or uses[use].good) == look)
            grown[column] = any(grown[self.times[use]] for use in made)
        return grown if self.program.allows(grown) else self._nothing(grown)

    def _handed(self, point: Ints) -> Ints:
        """Each heap taken from its supplies one after the other, what is at the venue first."""
        facts, grown, supplies = self.facts, self._grown(point), self.facts.night.supplies
        for good, column in self.pool.items():
            left = int(grown[column])
            for at in sorted(facts.supplies_of.get(good, ()), key=lambda at: (facts.carrier_of[at] is not None, at)):
                grown[self.taken[at]] = min(left, self.program.upper[self.taken[at]])
                left -= int(grown[self.taken[at]])
        for number, column in self.excess.items():
            carried = sum(int(grown[self.taken[at]]) * supplies[at].bulk_ml for at in facts.supplies_by[number])
            grown[column] = max(0, carried - (facts.night.carriers[number].carries_most_ml or 0))
        return grown

    def charged(self, point: Ints) -> Ints:
        """The same point with the charges that its amounts ask for, and no others."""
        point = point.copy()
        point[[*self.packs.values(), *self.comes.values()]] = 0
        for at, column in self.packs.items():
            if point[self.taken[at]]:
                point[column] = point[self.comes[self.facts.carrier_of[at] or 0]] = 1
        return point

    def _grown(self, point: Ints) -> Ints:
        return np.concatenate([point, np.zeros(len(self.program.lower) - len(point), dtype=np.int64)])
