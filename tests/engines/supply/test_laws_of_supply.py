"""Laws of any war: nothing is lost but what spoils, and more never makes less."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.supply import Stock, distribute
from league.engines.supply.flow import is_a_flow, negative_circle, without_negative_circles
from league.engines.supply.ground import ground_of
from league.engines.supply.simplex import least_cost_flow
from tests.engines.supply.recount import check, met
from tests.engines.supply.wars import war_at_random

wars = st.builds(
    war_at_random,
    st.integers(0, 10**9),
    regions=st.integers(3, 16),
    forces=st.integers(0, 10),
    ranks=st.integers(1, 10),
    factions=st.integers(1, 3),
)
LAW = settings(max_examples=120, deadline=None)


@given(wars)
@LAW
def test_everything_adds_up(situation):
    check(distribute(situation), situation)


@given(wars, st.integers(1, 9))
@LAW
def test_a_larger_stock_never_leaves_the_important_with_less(situation, more):
    if not situation.stocks:
        return
    first, *rest = situation.stocks
    richer = replace(situation, stocks=(replace(first, loads=first.loads + more), *rest))
    before = met(distribute(situation), situation, first.faction)
    after = met(distribute(richer), richer, first.faction)
    assert list(after.values()) >= list(before.values())


@given(wars)
@LAW
def test_a_cut_off_force_with_no_barrier_would_be_so_on_open_ground(situation):
    """A barrier is named if and only if, with no enemy and no contest, a way would lead to it."""
    mine = [each for each in distribute(situation).forces if each.faction == "side0"]
    opened = replace(
        situation,
        contested=frozenset(),
        holders={key: "side0" for key, holder in situation.holders.items() if holder == "side0"},
        stocks=tuple(each for each in situation.stocks if each.faction == "side0"),
    )
    open_state = {each.force: each.state for each in distribute(opened).forces}
    for each in mine:
        if each.state == "cut_off":
            assert bool(each.why.barriers) == (open_state[each.force] != "cut_off")


@given(wars)
@LAW
def test_cancelling_circles_from_nothing_ends_at_a_flow_as_good(situation):
    """M. Klein's method in whole numbers, which knows nothing of linear programming."""
    network = ground_of(situation, "side0").network
    slow = without_negative_circles(network, np.zeros(len(network.tail), dtype=np.int64))
    fast = least_cost_flow(network)
    assert is_a_flow(network, slow)
    assert negative_circle(network, fast) is None
    assert int(network.weighed() @ slow) == int(network.weighed() @ fast)


@given(wars)
@LAW
def test_a_flow_that_is_none_is_not_believed(situation):
    network = ground_of(situation, "side0").network
    right = least_cost_flow(network)
    mended = without_negative_circles(network, right + 1)
    assert int(network.weighed() @ mended) == int(network.weighed() @ right)


@given(wars)
@LAW
def test_an_empty_depot_more_changes_what_nobody_gets(situation):
    taken = {(each.faction, each.region) for each in situation.stocks}
    own = [key for key, holder in situation.holders.items() if holder == "side0" and ("side0", key) not in taken]
    depots = tuple(Stock(region=key, faction="side0", loads=0) for key in own)
    before = {each.force: each.loads for each in distribute(situation).forces}
    more = replace(situation, stocks=situation.stocks + depots)
    assert sum(before.values()) == sum(each.loads for each in distribute(more).forces)
