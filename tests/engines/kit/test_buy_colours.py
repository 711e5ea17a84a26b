"""Buying what must be told apart by colour: a pack is of one colour, and no two sides of a table have the same."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.kit.buy import buy
from league.engines.kit.items import Piece
from league.engines.kit.model import Demand
from league.engines.kit.needs import Asked
from league.engines.kit.offers import Offer
from league.engines.rulesets import Wanted


def side(table: str, name: str) -> Asked:
    """The tokens of one side of a table, told apart from those of its other sides."""
    return Asked(
        demand=Demand(key=f"{table}/{name}", table=table, name=name, count=0),
        need="tokens",
        wanted=Wanted(category="token"),
        sharing="apart",
        side=name,
    )


def dice(name: str, colour: str) -> Asked:
    return Asked(
        demand=Demand(key=name, table="t", name=name, count=0), need=name, wanted=Wanted(category="die", colour=colour)
    )


def pack(pieces: int, price: int, category: str = "token", *, most: int | None = None) -> Offer:
    made = Piece(category=category)  # type: ignore[arg-type]
    return Offer(key=f"{pieces} for {price}", name="Pack", piece=made, pieces=pieces, price_pence=price, most=most)


def bought(missing, offers, budget=None) -> dict[str, int]:
    return {line.offer.key: line.packs for line in buy(missing, offers, budget_pence=budget).lines}


def test_a_pack_of_one_colour_does_not_serve_both_sides_of_a_table():
    missing = [(side("t1", "east"), 2), (side("t1", "west"), 2)]
    assert bought(missing, [pack(10, 300)]) == {"10 for 300": 2}


def test_it_serves_sides_of_different_tables():
    """East of both tables in one colour, west of both in another."""
    missing = [(side(table, name), 2) for table in ("t1", "t2") for name in ("east", "west")]
    assert bought(missing, [pack(10, 300)]) == {"10 for 300": 2}


def test_two_small_packs_may_do_what_one_large_one_cannot():
    missing = [(side("t1", "east"), 5), (side("t1", "west"), 5)]
    assert bought(missing, [pack(10, 500), pack(5, 300)]) == {"5 for 300": 2}


def test_the_line_says_how_many_packs_are_of_one_colour():
    missing = [(side("t1", "east"), 12), (side("t1", "west"), 2)]
    (line,) = buy(missing, [pack(10, 300)]).lines
    assert (line.packs, line.over) == (3, 16)
    assert "2 in colour A and 1 in colour B." in line.why


def test_packs_of_several_sizes_tell_their_colours_by_the_same_letters():
    missing = [(side("t1", "east"), 2), (side("t1", "west"), 20)]
    few, many = buy(missing, [pack(5, 200), pack(20, 500)]).lines
    assert (few.packs, many.packs) == (1, 1)
    assert "1 in colour A." in few.why
    assert "1 in colour B." in many.why


def test_where_there_is_one_colour_it_is_not_spoken_of():
    (line,) = buy([(side("t1", "east"), 2), (side("t2", "east"), 2)], [pack(10, 300)]).lines
    assert line.why == "No other pack that is noted would serve."


def test_packs_that_run_out_serve_one_side():
    purchase = buy([(side("t1", "east"), 2), (side("t1", "west"), 2)], [pack(10, 300, most=1)])
    assert [count for _key, count, _why in purchase.left] == [2]


def test_what_must_be_red_and_what_must_be_blue_come_in_packs_of_their_own():
    (line,) = buy([(dice("stress", "red"), 3), (dice("orders", "Blue"), 3)], [pack(12, 500, "die")]).lines
    assert line.packs == 2
    assert line.why.endswith("1 in blue and 1 in red.")


def test_what_may_be_of_any_colour_is_taken_from_what_must_be_of_one():
    missing = [(dice("stress", "red"), 3), (dice("rolls", ""), 9)]
    assert bought(missing, [pack(12, 500, "die")]) == {"12 for 500": 1}


# --- every way of colouring the sides ---------------------------------------------------


def least_for(pieces: int, offers: list[Offer]) -> tuple[int, int]:
    """The fewest pence, then packs, for so many pieces of one colour; by dynamic programming."""
    best = [(0, 0)]
    for count in range(1, pieces + 1):
        tried = []
        for each in offers:
            pence, packs = best[max(0, count - each.pieces)]
            tried.append((pence + each.price_pence, packs + 1))
        best.append(min(tried))
    return best[pieces]


@settings(deadline=None, max_examples=80)
@given(
    st.lists(st.lists(st.integers(1, 6), min_size=1, max_size=3), min_size=1, max_size=3),
    st.lists(st.tuples(st.integers(1, 8), st.integers(1, 9)), min_size=1, max_size=3, unique=True),
)
def test_no_way_to_colour_the_sides_is_cheaper(tables, sold):
    """As many colours as the most sides that are told apart at one table."""
    offers = [pack(pieces, price) for pieces, price in sold]
    asked = [(f"t{at}", f"s{number}", count) for at, counts in enumerate(tables) for number, count in enumerate(counts)]
    colours = max(len(counts) for counts in tables)
    costs = []
    for chosen in product(range(colours), repeat=len(asked)):
        pairs = Counter((table, colour) for (table, _side, _count), colour in zip(asked, chosen, strict=True))
        if max(pairs.values()) == 1:
            wanted = Counter()
            for (_table, _side, count), colour in zip(asked, chosen, strict=True):
                wanted[colour] += count
            parts = [least_for(count, offers) for count in wanted.values()]
            costs.append((sum(pence for pence, _packs in parts), sum(packs for _pence, packs in parts)))
    purchase = buy([(side(table, name), count) for table, name, count in asked], offers)
    assert (purchase.cost_pence, sum(line.packs for line in purchase.lines)) == min(costs)
    assert purchase.proven and not purchase.left


@pytest.mark.parametrize("tables", [4, 20])
def test_many_tables_are_proven_too(tables):
    """Each side has five tokens short; ten go into a pack: as many packs as half the sides, if the tables are even."""
    missing = [(side(f"t{at}", name), 5) for at in range(tables) for name in ("east", "west")]
    purchase = buy(missing, [pack(10, 300)])
    assert purchase.cost_pence == tables * 300
    assert purchase.proven
