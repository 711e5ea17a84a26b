"""Tables and scenarios for the pairings of a round."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from league.engines.pairing import BadRound, Scenario, SeatingPins, Table, ToSeat, choices, seat_games

LARGE = Table(id="large", width_mm=1800, depth_mm=1200)
SMALL = Table(id="small", width_mm=1200, depth_mm=1200)
SIEGE = Scenario(id="siege", width_mm=1200, depth_mm=1800)
RAID = Scenario(id="raid", width_mm=1200, depth_mm=900)


def seats(seating):
    return {seat.key: (seat.table, seat.scenario) for seat in seating.seats}


def test_a_scenario_may_lie_across_the_table():
    seating = seat_games([ToSeat(key="a")], [LARGE, SMALL], [SIEGE], seed="s")
    assert seats(seating) == {"a": ("large", "siege")}


def test_where_there_is_choice_table_and_scenario_are_new():
    games = [ToSeat(key="a", tables=("small", "small"), scenarios=("raid",)), ToSeat(key="b", tables=("large",))]
    seating = seat_games(games, [LARGE, SMALL], [SIEGE, RAID], seed="s")
    assert seats(seating) == {"a": ("large", "siege"), "b": ("small", "raid")}
    assert seating.gave_way == ()


def test_a_table_they_had_is_given_where_no_other_is_and_that_is_said():
    seating = seat_games([ToSeat(key="a", tables=("large", "large"))], [LARGE], seed="s")
    (gave_way,) = seating.gave_way
    assert (gave_way.criterion, gave_way.total, gave_way.keys, gave_way.unavoidable) == ("table", 2, ("a",), True)
    assert "They have been at this table twice before." in seating.seats[0].reasons


def test_what_comes_first_in_the_order_is_kept_first():
    """New table or new scenario: the new table is too small for the new scenario."""
    game = ToSeat(key="a", tables=("large",), scenarios=("raid",))
    assert seats(seat_games([game], [LARGE, SMALL], [SIEGE, RAID], seed="s")) == {"a": ("small", "raid")}
    turned = seat_games([game], [LARGE, SMALL], [SIEGE, RAID], seed="s", order=("scenario", "table"))
    assert seats(turned) == {"a": ("large", "siege")}
    assert [each.unavoidable for each in turned.gave_way] == [False]


def test_as_many_as_possible_are_seated_even_on_tables_they_had():
    games = [ToSeat(key="a", tables=("small",)), ToSeat(key="b")]
    pins = SeatingPins(scenarios={"b": "siege"})
    seating = seat_games(games, [LARGE, SMALL], [SIEGE, RAID], seed="s", pins=pins)
    assert seats(seating) == {"a": ("small", "raid"), "b": ("large", "siege")}


def test_without_a_table_the_reason_is_given():
    seating = seat_games([ToSeat(key="a"), ToSeat(key="b")], [SMALL], [RAID], seed="s")
    (left,) = [seat for seat in seating.seats if seat.table is None]
    assert left.reasons == ("All tables that are large enough are taken.",)
    assert seat_games([ToSeat(key="a")], [SMALL], [SIEGE], seed="s").seats[0].reasons == (
        "No table left is large enough.",
    )


def test_no_scenarios_are_wanted_where_there_are_none():
    assert seats(seat_games([ToSeat(key="a")], [SMALL], seed="s")) == {"a": ("small", None)}


@pytest.mark.parametrize("run", range(40))
def test_pins_stay_and_no_table_is_given_twice(run):
    dice = random.Random(run)
    games, tables, scenarios = hall(dice)
    key, table = dice.choice(games).key, dice.choice(tables)
    fitting = [each.id for each in scenarios if table.holds(each)]
    pins = SeatingPins(tables={key: table.id} if fitting else {}, scenarios={key: fitting[0]} if fitting else {})
    seating = seat_games(games, tables, scenarios, seed="s", pins=pins)
    taken = [seat.table for seat in seating.seats if seat.table]
    assert len(taken) == len(set(taken))
    assert not fitting or seats(seating)[key] == (table.id, fitting[0])


@pytest.mark.parametrize("run", range(40))
def test_the_order_of_what_is_told_changes_nothing(run):
    dice = random.Random(run)
    games, tables, scenarios = hall(dice)
    turned = seat_games(games[::-1], tables[::-1], scenarios[::-1], seed="s")
    assert seats(turned) == seats(seat_games(games, tables, scenarios, seed="s"))


@pytest.mark.parametrize("few", [1, 3, 24])
@pytest.mark.parametrize("run", range(100))
def test_scipy_finds_no_better_assignment(run, few, monkeypatch):
    """Also where each pairing looks at a few tables first."""
    monkeypatch.setattr(choices, "FEW", few)
    dice = random.Random(run)
    games, tables, scenarios = hall(dice)
    order = dice.choice((("table", "scenario"), ("scenario", "table")))
    costs = np.full((len(games), len(tables)), 10**9)
    for row, game in enumerate(games):
        for column, table in enumerate(tables):
            played = [game.scenarios.count(each.id) for each in scenarios if table.holds(each)]
            if played:
                price = {"table": game.tables.count(table.id), "scenario": min(played)}
                costs[row, column] = price[order[0]] * 10**4 + price[order[1]]
    rows, columns = linear_sum_assignment(costs)
    chosen = costs[rows, columns]
    seating = seat_games(games, tables, scenarios, seed="s", order=order)
    assert sum(seat.table is not None for seat in seating.seats) == (chosen < 10**9).sum()
    first, second = (total for _, total in seating.totals)
    assert first * 10**4 + second == chosen[chosen < 10**9].sum()


def hall(dice: random.Random) -> tuple[list[ToSeat], list[Table], list[Scenario]]:
    sizes = (900, 1200, 1500, 1800)
    tables = [
        Table(id=f"t{n}", width_mm=dice.choice(sizes), depth_mm=dice.choice(sizes)) for n in range(dice.randrange(1, 9))
    ]
    scenarios = [
        Scenario(id=f"s{n}", width_mm=dice.choice(sizes), depth_mm=dice.choice(sizes))
        for n in range(dice.randrange(1, 5))
    ]
    games = [
        ToSeat(
            key=f"g{n}",
            tables=tuple(dice.choice(tables).id for _ in range(dice.randrange(6))),
            scenarios=tuple(dice.choice(scenarios).id for _ in range(dice.randrange(6))),
        )
        for n in range(dice.randrange(1, 8))
    ]
    return games, tables, scenarios


def test_everything_wrong_is_said_at_once():
    with pytest.raises(BadRound) as refused:
        seat_games(
            [ToSeat(key="a"), ToSeat(key="a"), ToSeat(key="b")],
            [SMALL, SMALL],
            [SIEGE],
            seed="s",
            order=("table", "weather"),  # type: ignore[arg-type]
            pins=SeatingPins(tables={"a": "small", "b": "small", "c": "nowhere"}, scenarios={"b": "none"}),
        )
    assert {
        "The pairing a is listed 2 times.",
        "The table small is listed 2 times.",
        "There is no criterion called 'weather' for tables.",
        "c is pinned, which is not a pairing of the round.",
        "The table small is pinned 2 times.",
        "There is no scenario none to pin to b.",
        "The table small, pinned to a, is too small for any of the scenarios.",
    } <= set(refused.value.violations)
