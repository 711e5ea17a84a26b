"""The second step of a round: which table and which scenario each pairing gets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from .choices import best_choices, match
from .hall import (
    BOTH,
    TITLES,
    Choice,
    Scenario,
    Seat,
    Seating,
    SeatingCriterion,
    SeatingGaveWay,
    SeatingPins,
    Table,
    ToSeat,
)
from .lots import lot
from .model import BadRound
from .words import times

NOTHING_PINNED: Final = SeatingPins()


def seat_games(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario] = (),
    *,
    seed: str,
    order: tuple[SeatingCriterion, ...] = BOTH,
    pins: SeatingPins = NOTHING_PINNED,
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
    choices, taken = best_choices(drawn, hall, scenarios, order=order, pins=pins, seed=seed)
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


def _seat(game: ToSeat, tables: Sequence[Table], choice: Choice | None, pins: SeatingPins, *, has_choice: bool) -> Seat:
    if choice is None:
        none = "All tables that are large enough are taken." if has_choice else "No table left is large enough."
        return Seat(key=game.key, table=None, scenario=None, reasons=(none,))
    table, scenario = tables[choice.table], choice.scenario
    had, played = choice.costs
    reasons = ["The organiser chose the table."] if game.key in pins.tables else []
    reasons.append(f"They have been at this table {times(had)} before." if had else "The table is new to all of them.")
    if scenario is not None:
        if scenario.width_mm or scenario.depth_mm:
            needed = f"{scenario.width_mm} × {scenario.depth_mm} mm"
            reasons.append(
                f"{scenario.name or scenario.id} needs {needed}, the table has {table.width_mm} × {table.depth_mm} mm."
            )
        if game.key in pins.scenarios:
            reasons.append("The organiser chose the scenario.")
        reasons.append(
            f"They have played this scenario {times(played)} before."
            if played
            else "The scenario is new to all of them."
        )
    return Seat(key=game.key, table=table.id, scenario=scenario.id if scenario else None, reasons=tuple(reasons))


def _gave_way(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    choices: Sequence[Choice],
    taken: Mapping[int, Choice | None],
    totals: Sequence[tuple[SeatingCriterion, int]],
) -> Iterator[SeatingGaveWay]:
    seated = sum(choice is not None for choice in taken.values())
    for name, total in totals:
        if not total:
            continue
        level = BOTH.index(name)
        keys = tuple(sorted(games[game].key for game, choice in taken.items() if choice and choice.costs[level]))
        free = [choice for choice in choices if not choice.costs[level]]
        most = sum(choice is not None for choice in match(games, tables, free, ()).values())
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
