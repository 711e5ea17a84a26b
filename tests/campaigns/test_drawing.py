"""A drawn map: what it shows, that it reads without colour, and that it says in words all that it draws."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise

import pytest
from django.template.loader import render_to_string
from django.utils import translation

from league.campaigns.queries.drawing import ForceMark, drawing_of
from league.engines.maps import Map, Region, Road
from league.engines.war import Faction
from tests.engines.war.world import CAMPAIGN, MAP

HELD = {each.region: each.faction for each in CAMPAIGN.holdings}


def drawn(of=MAP, **told):
    return drawing_of(of, **{"control": HELD, "factions": CAMPAIGN.factions, **told})


def region(key, **told):
    return next(each for each in drawn(**told).regions if each.key == key)


def road(key, **told):
    return next(each for each in drawn(**told).roads if each.key == key)


def page(drawing, **context):
    return render_to_string("campaigns/map_drawing.html", {"drawing": drawing, **context})


def svg(drawing):
    text = page(drawing)
    return ET.fromstring(re.search(r"<svg class=\"map-sheet\".*?</svg>", text, re.DOTALL).group())  # noqa: S314 - our own page


def test_every_region_and_road_is_drawn():
    drawing = drawn()
    assert {each.key for each in drawing.regions} == {each.key for each in MAP.regions}
    assert {each.key for each in drawing.roads} == {each.key for each in MAP.roads}


def test_a_region_bears_the_letter_of_whoever_holds_it():
    assert region("arrel").letter == "C"
    assert region("brune").letter == "W"


def test_a_region_nobody_holds_bears_no_letter():
    assert region("sedge").letter == ""


def test_a_region_whose_holder_is_not_known_bears_a_question_mark_and_no_pattern():
    there = region("brune", unknown={"brune"})
    assert (there.letter, there.number) == ("?", 0)
    assert "Wardens" not in there.told


def test_no_two_factions_share_letter_or_number():
    names = ["Men of the Mill", "Mill Guard", "mill", "Millers", "Old Mill", "M"]
    factions = [Faction(key=f"f{at}", name=name) for at, name in enumerate(names)]
    drawing = drawing_of(MAP, control={}, factions=factions)
    assert len({each.letter for each in drawing.factions}) == len(names)
    assert len({each.number for each in drawing.factions}) == len(names)


def test_the_first_eight_factions_have_patterns_of_their_own():
    factions = [Faction(key=f"f{at}", name=f"Band {at}") for at in range(8)]
    assert len({each.pattern for each in drawing_of(MAP, control={}, factions=factions).factions}) == 8


def test_a_foreign_force_of_unknown_size_says_so_and_no_number():
    scout = ForceMark(key="x", name="The guard", faction="wardens", region="brune", known="presence", figures=70)
    (force,) = region("brune", forces=[scout]).forces
    assert "70" not in force.words + force.told
    assert "size not known" in force.told


def test_a_force_seen_from_afar_is_told_in_about_so_many():
    scout = ForceMark(key="x", name="The guard", faction="wardens", region="brune", known="size", figures=20)
    (force,) = region("brune", forces=[scout]).forces
    assert "about 20" in force.told


def test_the_sentence_of_a_region_says_all_that_is_drawn_there():
    told = region("gate", depots={"gate": "wardens"}, contested={"gate"}, regions_marked={"gate": "blocked"}).told
    for words in ("Toll Gate", "open", "held by Wardens of Brune", "depot of Wardens of Brune", "battle", "blocked"):
        assert words in told


def test_a_full_road_says_so():
    assert "full" in road("dyke", roads_marked={"dyke": "full"}).told


def test_two_roads_between_the_same_regions_do_not_lie_on_one_another():
    twice = replace(MAP, roads=(*MAP.roads, Road(key="stream", a="sedge", b="mere", kind="river", capacity=2)))
    dyke, stream = road("dyke", of=twice), road("stream", of=twice)
    assert (dyke.x, dyke.y) != (stream.x, stream.y)


def test_places_that_lie_close_are_drawn_apart():
    close = Map(
        name="Close",
        regions=tuple(Region(key=f"r{at}", name=f"R{at}", terrain="open", x=500 + 40 * at, y=500) for at in range(4)),
        roads=(),
    )
    across = sorted(each.x for each in drawing_of(close, control={}, factions=()).regions)
    assert min(later - earlier for earlier, later in pairwise(across)) >= 150


def test_every_place_lies_within_the_sheet():
    left, top, width, height = map(int, drawn().view_box.split())
    for each in drawn().regions:
        assert left < each.x < left + width
        assert top < each.y < top + height


def test_an_empty_map_can_be_drawn():
    drawing = drawing_of(Map(name="Nothing yet", regions=(), roads=()), control={}, factions=())
    assert drawing.regions == ()
    assert "0 regions" in drawing.told


def test_the_drawing_is_well_formed_with_title_and_words():
    root = svg(drawn())
    names = {each.tag.rsplit("}", 1)[1] for each in root}
    assert {"title", "desc"} <= names


@pytest.mark.parametrize("language", ["en-gb", "de"])
def test_coordinates_are_written_the_same_in_every_language(language):
    large = replace(MAP, regions=tuple(replace(each, x=each.x + 200) for each in MAP.regions))
    with translation.override(language):
        root = svg(drawn(of=large))
    for each in root.iter():
        for name in ("x", "y", "cx", "cy", "width", "height"):
            assert re.fullmatch(r"-?\d+(\.\d+)?", each.get(name, "0")), each.attrib


def test_every_region_is_a_link_where_there_is_a_page_for_it():
    drawing = drawn(links={each.key: f"/r/{each.key}/" for each in MAP.regions})
    anchors = [each for each in svg(drawing).iter() if each.tag.endswith("}a")]
    assert {each.get("href") for each in anchors} == {f"/r/{each.key}/" for each in MAP.regions}
    assert all(each.get("aria-label") for each in anchors)


def test_the_table_behind_the_map_tells_the_same():
    forces = [ForceMark(key="x", name="The pikes", faction="commons", region="mere", figures=20)]
    table = page(drawn(forces=forces)).split("<table", 1)[1]
    for each in MAP.regions:
        assert each.name in table
    assert "The pikes (Commons of Arrel, 20 figures)" in table


def test_two_drawings_on_a_page_share_no_title():
    first, second = page(drawn()), page(drawn(prefix="then"))
    assert 'id="map-title"' in first
    assert 'id="map-title"' not in second


def test_a_name_from_a_form_cannot_leave_the_drawing():
    bad = replace(MAP, regions=tuple(replace(each, name='<script>"x') for each in MAP.regions))
    assert "<script>" not in page(drawn(of=bad))
