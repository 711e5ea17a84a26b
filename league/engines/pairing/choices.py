"""What each pairing can choose from, and what all of them take together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

import numpy as np

from .hall import BOTH, Choice, Scenario, SeatingCriterion, SeatingPins, Table, ToSeat
from .lots import lot
from .matching import Level, lightest_matching, pack

FEW: Final = 24  # tables each pairing of a large round looks at first


def best_choices(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario],
    *,
    order: tuple[SeatingCriterion, ...],
    pins: SeatingPins,
    seed: str,
) -> tuple[list[Choice], dict[int, Choice | None]]:
    """What there was to choose from, and what each pairing takes.

    In a large hall each pairing first looks at a few tables. If all are seated so and every one as well as it could be
    if it were alone, nothing is better; else all tables are looked at.
    """
    if len(games) > FEW:
        least = _least(games, tables, scenarios, order=order, pins=pins, seed=seed)
        near = list(_choices(games, tables, scenarios, order=order, pins=pins, seed=seed, most=FEW))
        taken = match(games, tables, near, order)
        if all(choice is not None and choice.costs == least[game] for game, choice in taken.items()):
            return near, taken
    choices = list(_choices(games, tables, scenarios, order=order, pins=pins, seed=seed))
    return choices, match(games, tables, choices, order)


def _least(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario],
    *,
    order: tuple[SeatingCriterion, ...],
    pins: SeatingPins,
    seed: str,
) -> list[tuple[int, int] | None]:
    """What no table can do better for each pairing in either criterion."""
    sizes = {table.size: table for table in tables}
    found: list[tuple[int, int] | None] = []
    for game in games:
        fitting = _fitting(game, sizes, scenarios, order=order, pins=pins, seed=seed)
        played = Counter(game.scenarios)
        if game.key in pins.tables:
            pinned = next((table for table in tables if table.id == pins.tables[game.key]), None)
            fits = fitting.get(pinned.size) if pinned else None
            had = game.tables.count(pinned.id) if pinned else 0
            found.append((had, played[fits.id] if fits else 0))
            continue
        costs = [played[each.id] for each in fitting.values() if each is not None]
        found.append((0, min(costs, default=0)) if costs or not scenarios else None)
    return found


def _choices(
    games: Sequence[ToSeat],
    tables: Sequence[Table],
    scenarios: Sequence[Scenario],
    *,
    order: tuple[SeatingCriterion, ...],
    pins: SeatingPins,
    seed: str,
    most: int | None = None,
) -> Iterator[Choice]:
    """All of them, or for each pairing those at `most` tables, others for each pairing as far as there are."""
    pinned = set(pins.tables.values())
    sizes = {table.size: table for table in tables}
    places = {table.id: place for place, table in enumerate(tables)}
    for number, game in enumerate(games):
        had, played = Counter(game.tables), Counter(game.scenarios)
        fitting = _fitting(game, sizes, scenarios, order=order, pins=pins, seed=seed)
        looked_at: Iterable[int] = range(len(tables))
        if game.key in pins.tables:
            looked_at = [places[each] for each in [pins.tables[game.key]] if each in places]
        elif most is not None and most < len(tables):
            looked_at = ((number + step) % len(tables) for step in range(most))
        for place in looked_at:
            table = tables[place]
            if table.id in pinned and game.key not in pins.tables:
                continue
            scenario = fitting[table.size]
            if scenario is None and scenarios:
                continue
            yield Choice(
                game=number,
                table=place,
                scenario=scenario,
                costs=(had[table.id], played[scenario.id] if scenario else 0),
            )


def _fitting(
    game: ToSeat,
    sizes: Mapping[tuple[int, int], Table],
    scenarios: Sequence[Scenario],
    *,
    order: tuple[SeatingCriterion, ...],
    pins: SeatingPins,
    seed: str,
) -> dict[tuple[int, int], Scenario | None]:
    """The best scenario on a table of each size: one that is pinned, else by how often it was played (if that
    matters), then by lot."""
    played = Counter(game.scenarios)
    wanted = pins.scenarios.get(game.key)
    ranked = sorted(
        (each for each in scenarios if wanted in (None, each.id)),
        key=lambda each: (
            played[each.id] if "scenario" in order else 0,
            lot(seed, "scenario", game.key, each.id),
            each.id,
        ),
    )
    return {size: next((each for each in ranked if table.holds(each)), None) for size, table in sizes.items()}


def match(
    games: Sequence[ToSeat], tables: Sequence[Table], choices: Sequence[Choice], order: tuple[SeatingCriterion, ...]
) -> dict[int, Choice | None]:
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
