"""Maps as GraphML, against networkx, which reads and writes it, and the Primer's example (tests/reference/graphml)."""

from __future__ import annotations

import io
from pathlib import Path

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.documents.map import dump_graphml, read_graphml, read_map
from league.engines.documents.map_xml import MOST_XML_BYTES
from league.engines.documents.reading import BadDocument
from league.engines.maps import Map, Region, Road
from tests.engines.supply.wars import war_at_random

PRIMER = Path(__file__).parents[2] / "reference" / "graphml" / "attributes.graphml"
HEAD = '<graphml xmlns="http://graphml.graphdrawing.org/xmlns">'


def graph(inside: str, *, head: str = HEAD, facts: str = 'edgedefault="undirected"') -> bytes:
    return f"{head}<graph {facts}>\n{inside}\n</graph></graphml>".encode()


def faults(data: bytes) -> list[str]:
    with pytest.raises(BadDocument) as failure:
        read_graphml(data)
    return [str(fault) for fault in failure.value.faults]


def test_a_map_goes_round(weir_war):
    read = read_map(weir_war)
    again = read_graphml(dump_graphml(read.map, read.holders))
    assert (again.map, again.holders, again.notes) == (read.map, read.holders, ())
    assert dump_graphml(again.map, again.holders) == dump_graphml(read.map, read.holders)


@given(
    st.integers(0, 10**9),
    st.text(st.characters(min_codepoint=32, exclude_categories=["Cs", "Cc"]), min_size=1, max_size=60),
)
@settings(max_examples=100, deadline=None)
def test_any_map_goes_round_whatever_its_names(seed, name):
    made = war_at_random(seed).map
    first, *rest = made.regions
    named = Map(
        name=f"!{name}",
        regions=(Region(key=first.key, name=f"!{name}", terrain=name[:40], x=first.x, y=first.y), *rest),
        roads=made.roads,
    )
    try:
        again = read_graphml(dump_graphml(named)).map
    except BadDocument:
        # Characters that XML 1.0 does not allow at all: U+FFFE and U+FFFF.
        assert {"\ufffe", "\uffff"} & set(name)
    else:
        assert again == named


def test_networkx_reads_what_we_write(weir_war):
    read = read_map(weir_war)
    told = nx.read_graphml(io.BytesIO(dump_graphml(read.map, read.holders)), force_multigraph=True)
    assert not told.is_directed()
    assert told.graph["name"] == "The Weir"
    assert told.nodes["mill"] == {
        "name": "Millstone",
        "terrain": "hills",
        "x": 400,
        "y": 450,
        "worth": 0,
        "stronghold": False,
        "port": True,
        "produces": 0,
        "holder": "irregulars",
    }
    assert told.edges["mill", "quay", "lane"] == {"kind": "sea_lane", "capacity": 3, "loss": 10}
    assert set(told.edges(keys=True)) == {(each.a, each.b, each.key) for each in read.map.roads}


@given(st.integers(0, 10**9))
@settings(max_examples=60, deadline=None)
def test_we_read_what_networkx_writes(seed):
    made = war_at_random(seed).map
    theirs = nx.MultiGraph(name=made.name)
    for each in made.regions:
        theirs.add_node(each.key, name=each.name, terrain=each.terrain, x=each.x, y=each.y, produces=each.produces)
    for each in made.roads:
        theirs.add_edge(each.a, each.b, key=each.key, capacity=each.capacity, loss=each.loss)
    file = io.BytesIO()
    nx.write_graphml(theirs, file)
    read = read_graphml(file.getvalue()).map
    assert set(read.regions) == set(made.regions)
    assert {(each.key, frozenset((each.a, each.b)), each.capacity, each.loss) for each in read.roads} == {
        (each.key, frozenset((each.a, each.b)), each.capacity, each.loss) for each in made.roads
    }


def test_the_primers_example_is_read_to_the_graph_that_networkx_reads():
    theirs = nx.read_graphml(PRIMER)
    read = read_graphml(PRIMER.read_bytes())
    assert [each.key for each in read.map.regions] == list(theirs) == ["n0", "n1", "n2", "n3", "n4", "n5"]
    assert {frozenset((each.a, each.b)) for each in read.map.roads} == {frozenset(each) for each in theirs.edges}
    assert [each.key for each in read.map.roads] == ["e0", "e1", "e2", "e3", "e4", "e5", "e6"]
    assert read.notes == (
        "Not every node has an x and a y, so all stand in a ring.",
        "Left out, as it says nothing of regions here: color.",
        "Left out, as it says nothing of roads here: weight.",
    )


def test_a_default_stands_where_nothing_is_said():
    key = '<key id="k" for="edge" attr.name="capacity" attr.type="int"><default>4</default></key>'
    read = read_graphml(
        graph(
            '<node id="a"/><node id="b"/><edge id="1" source="a" target="b"/>'
            '<edge id="2" source="b" target="a"><data key="k">7</data></edge>',
            head=HEAD + key,
        )
    )
    assert [each.capacity for each in read.map.roads] == [4, 7]


def test_coordinates_of_another_scale_are_fitted_to_the_map():
    keys = "".join(f'<key id="{name}" for="node" attr.name="{name}" attr.type="double"/>' for name in "xy")
    nodes = "".join(
        f'<node id="{name}"><data key="x">{x}</data><data key="y">{y}</data></node>'
        for name, x, y in (("a", -20.5, 0), ("b", 19.5, 10), ("c", 0, 20))
    )
    read = read_graphml(graph(nodes, head=HEAD + keys))
    assert [(each.x, each.y) for each in read.map.regions] == [(60, 60), (940, 280), (511, 500)]
    assert read.notes == ("The coordinates were fitted to the map.",)


def test_ids_that_are_no_keys_are_numbered_and_stay_names():
    read = read_graphml(graph('<node id="Harrow Ford"/><node id="Tor"/><edge source="Tor" target="Harrow Ford"/>'))
    assert [(each.key, each.name) for each in read.map.regions] == [("n1", "Harrow Ford"), ("n2", "Tor")]
    assert [(each.key, each.a, each.b) for each in read.map.roads] == [("e1", "n2", "n1")]


def test_edges_that_lead_one_way_become_roads_both_ways_and_that_is_said():
    data = graph('<node id="a"/><node id="b"/><edge source="a" target="b"/>', facts='edgedefault="directed"')
    assert "1 edges lead one way in the file; roads are usable both ways." in read_graphml(data).notes


def test_every_fault_is_named_with_its_line():
    inside = """<node id="a"/><node id="a"/>
<node><data key="produces">1.5</data></node>
<node id="b"><graph edgedefault="undirected"/><data key="port">perhaps</data></node>
<edge id="1" source="a" target="moon"/>
<edge id="1" source="a" target="b"/>
<hyperedge/>"""
    assert faults(graph(inside)) == [
        "line 4: A region cannot hold a map of its own.",
        "line 7: A map has no use for a 'hyperedge'.",
        "line 2: 2 nodes have the id 'a'.",
        "line 2: 2 nodes have the id 'a'.",
        "line 3: This node has no id.",
        "line 5: 2 edges have the id '1'.",
        "line 5: This edge leads to 'moon', which is no node.",
        "line 6: 2 edges have the id '1'.",
        "line 3: produces is '1.5', no whole number.",
        "line 4: port is 'perhaps', neither true nor false.",
    ]


def test_what_no_map_may_be_is_refused_at_its_line():
    inside = f"""<node id="a"/>
<node id="b"><data key="name">{"b" * 81}</data></node>
<edge id="1" source="a" target="b"><data key="capacity">-1</data></edge>"""
    assert faults(graph(inside)) == [
        "line 3: This is longer than 80 characters.",
        "line 4: This must be 0 or more; it is -1.",
    ]
    assert faults(graph('<node id="a"/><edge id="1" source="a" target="a"/>')) == [
        "line 2: The road 1 leads from a to itself."
    ]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "not XML"),
        (b"not a graph", "not XML"),
        (b"<graphml>", "not XML"),
        (b'<?xml version="1.0" encoding="klingon"?><graphml/>', "not XML"),
        (b"<svg/>", "no GraphML"),
        (b"<graphml/>", "There must be one graph in the file; there are 0."),
        (b"<graphml><graph/><graph/></graphml>", "there are 2."),
        (b"<graphml>" + b"<desc>" * 40 + b"</desc>" * 40 + b"</graphml>", "parts in parts"),
        (b"<graphml>" + b"<desc/>" * 200_001 + b"</graphml>", "more parts"),
        (b" " * (MOST_XML_BYTES + 1), "larger than 5 MB"),
    ],
)
def test_what_is_no_graph_is_refused(data, words):
    assert words in " ".join(faults(data))


@pytest.mark.parametrize(
    "attack",
    [
        '<!DOCTYPE g [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>',
        '<!DOCTYPE g [<!ENTITY a SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE g SYSTEM "http://example.org/g.dtd">',
        '<!DOCTYPE g [<!ENTITY % p SYSTEM "http://example.org/p.dtd"> %p;]>',
    ],
)
def test_a_document_type_is_refused_before_it_says_anything(attack):
    [fault] = faults(f"{attack}<graphml><graph><node id='x'/></graph></graphml>".encode())
    assert "declares a document type" in fault


def test_text_that_would_be_markup_is_written_as_text():
    made = Map(
        name="<&\"'>",
        regions=(
            Region(key="a", name="]]><node id='x'/>", terrain="&amp;", x=1, y=2),
            Region(key="b", name="b", terrain="", x=3, y=4),
        ),
        roads=(Road(key="1", a="a", b="b"),),
    )
    assert read_graphml(dump_graphml(made)).map == made
