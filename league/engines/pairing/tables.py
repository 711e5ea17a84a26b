"""The second step of a round: which table and which scenario each pairing gets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np

from .lots import lot
from .matching import Level, lightest_matching, pack
from .model import BadRound
from .words import times

SeatingCriterion = Literal["table", "scenario"]
BOTH: Final[tuple[SeatingCriterion, ...]] = ("table", "scenario")
TITLES: Final[Mapping[SeatingCriterion, str]] = {"table": "New tables", "scenario": "New scenarios"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """A table of the hall, in millimetres."""

    id: str
    width_mm: int
    depth_mm: int
    name: str = ""

    def holds(self, scenario: Scenario) -> bool:
        """Whether the scenario fits, turned by a quarter if need be."""
        mine = sorted((self.width_mm, self.depth_mm))
        needed = sorted((scenario.width_mm, scenario.depth_mm))
        return mine[0] >= needed[0] and mine[1] >= needed[1]


@dataclass(frozen=True, kw_only=True, slots=True)
class Scenario:
    """A scenario and the room it needs."""

    id: str
    width_mm: int = 0
    depth_mm: int = 0
    name: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class ToSeat:
    """A pairing that wants a table. `tables` and `scenarios` are the ids its entrants have had, once per entrant and
    time."""

    key: str
    tables: tuple[str, ...] = ()
    scenarios: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatingPins:
    """What the organiser has fixed, by the key of the pairing."""

    tables: Mapping[str, str] = field(default_factory=dict)
    scenarios: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Seat:
    """What one pairing got: no table (None) where none was left, no scenario where there are none to choose from."""

    key: str
    table: str | None
    scenario: str | None
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatingGaveWay:
    """A criterion that could not be kept for all: `total` is the least possible while as many as possible are seated
    and the criterion before it is as good as can be; `unavoidable` if that is so whatever else is given up."""

    criterion: SeatingCriterion
    total: int
    keys: tuple[str, ...]
    unavoidable: bool
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Seating:
    """Seats in the order asked for. `totals` by criterion, in order."""

    seats: tuple[Seat, ...]
    totals: tuple[tuple[SeatingCriterion, int], ...]
    gave_way: tuple[SeatingGaveWay, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Choice:
    """One pairing at one table, with the best scenario there."""

    game: int
    table: int
    scenario: Scenario | None
    costs: tuple[int, int]


def seat_games(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario] = (),
    *,
    seed: str,
    order: tuple[SeatingCriterion, ...] = BOTH,
    pins: SeatingPins = SeatingPins(),
) -> Seating:
    """A table for as many pairings as possible, each large enough for its scenario; among those the tables and
    scenarios most new to the entrants, in the `order` of the criteria. Exact: a lightest matching of pairings and
    tables, each edge with the best scenario that fits. Lots from `seed` decide between equals; the order of the
    arguments plays no part. Scenarios may be played at several tables.

    Raises `BadRound` with everything wrong, pins that do not fit among it.
    """
    violations = tuple(_violations(games, tables, scenarios, order, pins))
    if violations:
        raise BadRound(violations)
    drawn = sorted(games, key=lambda game: (lot(seed, "game", game.key), game.key))
    hall = sorted(tables, key=lambda table: (lot(seed, "table", table.id), table.id))
    choices = list(_choices(drawn, hall, scenarios, order=order, pins=pins, seed=seed))
    taken = _match(drawn, hall, choices, order)
    able = {choice.game for choice in choices}
    seats = {
        drawn[game].key: _seat(drawn[game], hall, choice, pins, has_choice=game in able)
        for game, choice in taken.items()
    }
    totals = tuple((name, sum(choice.costs[BOTH.index(name)] for choice in taken.values() if choice)) for name in order)
    return Seating(
        seats=tuple(seats[game.key] for game in games),
        totals=totals,
        gave_way=tuple(_gave_way(drawn, hall, choices, taken, totals)),
    )


def _choices(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario],
    *,
    order: tuple[SeatingCriterion, ...],
    pins: SeatingPins,
    seed: str,
) -> Iterator[_Choice]:
    pinned = set(pins.tables.values())
    for number, game in enumerate(games):
        had, played = Counter(game.tables), Counter(game.scenarios)
        wanted = pins.scenarios.get(game.key)
        # The best scenario first: one that is pinned, else by how often it was played (if that matters), then by lot.
        ranked = sorted(
            (each for each in scenarios if wanted in (None, each.id)),
            key=lambda each: (
                played[each.id] if "scenario" in order else 0,
                lot(seed, "scenario", game.key, each.id),
                each.id,
            ),
        )
        for place, table in enumerate(tables):
            if pins.tables.get(game.key) != table.id and (game.key in pins.tables or table.id in pinned):
                continue
            fitting = next((each for each in ranked if table.holds(each)), None)
            if fitting is None and scenarios:
                continue
            yield _Choice(
                game=number,
                table=place,
                scenario=fitting,
                costs=(had[table.id], played[fitting.id] if fitting else 0),
            )


def _match(
    games: Sequence[ToSeat], tables: Sequence[Table], choices: Sequence[_Choice], order: tuple[SeatingCriterion, ...]
) -> dict[int, _Choice | None]:
    """Which choice each pairing takes."""
    if not choices:
        return dict.fromkeys(range(len(games)))
    levels = [
        Level(
            costs=np.array([choice.costs[BOTH.index(name)] for choice in choices], dtype=np.int64),
            at_most=min(len(games), len(tables)),
        )
        for name in order
    ]
    weights = pack(levels, len(choices)).weights
    first = np.array([choice.game for choice in choices], dtype=np.int64)
    second = np.array([len(games) + choice.table for choice in choices], dtype=np.int64)
    matched = dict(lightest_matching(len(games) + len(tables), first, second, weights))
    by_pair = {(choice.game, choice.table): choice for choice in choices}
    return {game: by_pair[game, matched[game] - len(games)] if game in matched else None for game in range(len(games))}


def _seat(
    game: ToSeat, tables: Sequence[Table], choice: _Choice | None, pins: SeatingPins, *, has_choice: bool
) -> Seat:
    if choice is None:
        none = "All tables that are large enough are taken." if has_choice else "No table left is large enough."
        return Seat(key=game.key, table=None, scenario=None, reasons=(none,))
    table, scenario = tables[choice.table], choice.scenario
    had, played = choice.costs
    reasons = ["The organiser chose the table."] if game.key in pins.tables else []
    reasons.append(f"Had by them {times(had)} before." if had else "The table is new to all of them.")
    if scenario is not None:
        if scenario.width_mm or scenario.depth_mm:
            needed = f"{scenario.width_mm} × {scenario.depth_mm} mm"
            reasons.append(
                f"{scenario.name or scenario.id} needs {needed}, the table has {table.width_mm} × {table.depth_mm} mm."
            )
        if game.key in pins.scenarios:
            reasons.append("The organiser chose the scenario.")
        reasons.append(f"Played by them {times(played)} before." if played else "The scenario is new to all of them.")
    return Seat(key=game.key, table=table.id, scenario=scenario.id if scenario else None, reasons=tuple(reasons))


def _gave_way(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    choices: Sequence[_Choice],
    taken: Mapping[int, _Choice | None],
    totals: Sequence[tuple[SeatingCriterion, int]],
) -> Iterator[SeatingGaveWay]:
    seated = sum(choice is not None for choice in taken.values())
    for name, total in totals:
        if not total:
            continue
        level = BOTH.index(name)
        keys = tuple(sorted(games[game].key for game, choice in taken.items() if choice and choice.costs[level]))
        free = [choice for choice in choices if not choice.costs[level]]
        most = sum(choice is not None for choice in _match(games, tables, free, ()).values())
        why = (
            "No way to seat as many avoids it."
            if most < seated
            else "Every way that avoids it is worse in what is before."
        )
        yield SeatingGaveWay(
            criterion=name,
            total=total,
            keys=keys,
            unavoidable=most < seated,
            words=f"{TITLES[name]}: gave way {times(len(keys))}. {why}",
        )


def _violations(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario],
    order: tuple[SeatingCriterion, ...],
    pins: SeatingPins,
) -> Iterator[str]:
    keys = [game.key for game in games]
    for what, ids in (
        ("The pairing", keys),
        ("The table", [table.id for table in tables]),
        ("The scenario", [scenario.id for scenario in scenarios]),
    ):
        yield from (f"{what} {each} is listed {count} times." for each, count in Counter(ids).items() if count > 1)
    yield from (f"There is no criterion called {name!r} for tables." for name in order if name not in BOTH)
    for pinned in (pins.tables, pins.scenarios):
        yield from (f"{key} is pinned, which is not a pairing of the round." for key in pinned if key not in keys)
    for table, count in Counter(pins.tables.values()).items():
        if count > 1:
            yield f"The table {table} is pinned {count} times."
    yield from _misfits(games, tables, scenarios, pins)


def _misfits(
    games: Sequence[ToSeat], tables: Sequence[Table], scenarios: Sequence[Scenario], pins: SeatingPins
) -> Iterator[str]:
    hall = {table.id: table for table in tables}
    known = {scenario.id: scenario for scenario in scenarios}
    for game in games:
        table_id, scenario_id = pins.tables.get(game.key), pins.scenarios.get(game.key)
        if table_id is not None and table_id not in hall:
            yield f"There is no table {table_id} to pin {game.key} to."
        if scenario_id is not None and scenario_id not in known:
            yield f"There is no scenario {scenario_id} to pin to {game.key}."
        table = hall.get(table_id or "")
        wanted = [each for each in scenarios if scenario_id in (None, each.id)]
        if table is not None and wanted and not any(table.holds(each) for each in wanted):
            which = f"the scenario {scenario_id}" if scenario_id else "any of the scenarios"
            yield f"The table {table_id}, pinned to {game.key}, is too small for {which}."
