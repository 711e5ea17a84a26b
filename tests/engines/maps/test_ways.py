"""Ways over a map, against networkx and a published figure (tests/reference/networks)."""

from __future__ import annotations

import json
import random
from pathlib import Path

import networkx as nx
import pytest

from league.engines.maps import Map, Region, Road, nearest_supplied_way, passable_to, reachable, shortest_way

FIGURES = json.loads(
    (Path(__file__).parents[2] / "reference" / "networks" / "network_flows.json").read_text(encoding="utf-8")
)["problems"]


def map_of(*edges) -> Map:
    """Edges are (end, end) or (end, end, loss)."""
    keys = sorted({end for edge in edges for end in edge[:2]})
    return Map(
        name="Made Up",
        regions=tuple(Region(key=key, name=key, terrain="open", x=0, y=0) for key in keys),
        roads=tuple(
            Road(key=f"{number:03}", a=edge[0], b=edge[1], loss=edge[2] if len(edge) > 2 else 0)
            for number, edge in enumerate(edges)
        ),
    )


@pytest.mark.parametrize("figure", [each for each in FIGURES if each["type"] == "bfs"])
def test_steps_are_the_published_breadth_first_distances(figure):
    land = map_of(*figure["edges"])
    everywhere = set(figure["distances"])
    for end, distance in figure["distances"].items():
        assert shortest_way(land, figure["source_node"], [end], passable=everywhere).steps == distance


def at_random(seed: int) -> tuple[Map, frozenset[str], nx.MultiGraph]:
    dice = random.Random(seed)
    keys = [f"r{number:02}" for number in range(12)]
    edges = [(*dice.sample(keys, 2), dice.randrange(9)) for _ in range(18)]
    land = map_of(*edges)
    graph = nx.MultiGraph()
    graph.add_nodes_from(each.key for each in land.regions)
    graph.add_weighted_edges_from((one, other, 1000 + loss) for one, other, loss in edges)
    names = [each.key for each in land.regions]
    return land, frozenset(dice.sample(names, 8)), graph


def test_the_way_is_as_short_as_networkx_finds_it():
    found = 0
    for seed in range(300):
        land, open_ground, graph = at_random(seed)
        start, *ends = sorted(graph)[::4]
        way = shortest_way(land, start, ends, passable=open_ground)
        allowed = graph.subgraph(open_ground | {start})
        lengths = nx.single_source_dijkstra_path_length(allowed, start)
        theirs = min((lengths[end] for end in ends if end in lengths), default=None)
        assert (None if way is None else way.steps * 1000 + way.loss) == theirs
        found += way is not None
        assert reachable(land, [start], passable=open_ground) == nx.node_connected_component(allowed, start)
    assert found > 100


def test_a_way_can_be_walked():
    for seed in range(100):
        land, open_ground, graph = at_random(seed)
        start, end = min(graph), max(graph)
        way = shortest_way(land, start, [end], passable=open_ground)
        if way is None:
            continue
        assert (way.regions[0], way.end) == (start, end)
        assert set(way.regions[1:]) <= open_ground
        for key, here, there in zip(way.roads, way.regions, way.regions[1:], strict=False):
            assert land.road(key).other(here) == there


def test_the_listing_makes_no_difference_to_the_way():
    for seed in range(50):
        land, open_ground, graph = at_random(seed)
        turned = Map(name=land.name, regions=land.regions[::-1], roads=land.roads[::-1])
        start, *ends = sorted(graph)[::3]
        way = shortest_way(land, start, ends, passable=open_ground)
        assert shortest_way(turned, start, ends[::-1], passable=open_ground) == way


def test_a_beaten_force_falls_back_to_the_nearest_region_that_supply_reaches():
    land = map_of(("field", "wood"), ("field", "hill"), ("wood", "camp"), ("hill", "town"), ("town", "camp"))
    way = nearest_supplied_way(land, "field", passable={"wood", "hill", "camp", "town"}, supplied={"camp"})
    assert way.regions == ("field", "wood", "camp")


def test_a_beaten_force_does_not_stay_nor_go_where_its_enemy_came_from():
    land = map_of(("field", "wood"), ("field", "hill"))
    open_ground = {"field", "wood", "hill"}
    assert nearest_supplied_way(land, "field", passable=open_ground, supplied=open_ground).end == "hill"
    assert nearest_supplied_way(land, "field", passable=open_ground, supplied=open_ground, shun=["hill"]).end == "wood"


def test_with_no_way_out_there_is_none():
    land = map_of(("field", "wood"))
    assert nearest_supplied_way(land, "field", passable={"field"}, supplied={"field", "wood"}) is None
    assert shortest_way(land, "moon", ["wood"], passable={"wood"}) is None


def test_of_ways_with_equal_steps_the_one_of_least_loss_is_taken():
    land = map_of(("a", "b", 5), ("b", "d", 5), ("a", "c", 4), ("c", "d", 5))
    assert shortest_way(land, "a", ["d"], passable="abcd").regions == ("a", "c", "d")


def test_a_faction_passes_through_its_own_its_friends_and_what_nobody_holds():
    land = map_of(("a", "b"), ("c", "d"), ("e", "e2"))
    holders = {"a": "north", "b": "south", "c": "west", "d": "north"}
    found = passable_to("north", of=land, holders=holders, contested={"d"}, friends={"west"})
    assert found == {"a", "c", "e", "e2"}
