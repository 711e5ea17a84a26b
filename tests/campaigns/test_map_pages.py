"""The map by its forms, its text and its files; and changed while the war is on."""

from __future__ import annotations

import json
import uuid
from dataclasses import replace

import networkx as nx
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.queries.drawing_up_edits import homeless_of
from league.campaigns.queries.drawing_up_files import map_of, map_text
from league.campaigns.queries.war import war_of
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused
from league.campaigns.services.map_edits import edit_map
from league.campaigns.services.starting import start_campaign
from league.engines import war
from league.engines.documents.map import dump_graphml, read_map
from league.errors import NotYoursToDo
from tests.engines.war.world import MAP

pytestmark = pytest.mark.django_db

WITHOUT_GATE = replace(
    MAP,
    regions=tuple(each for each in MAP.regions if each.key != "gate"),
    roads=(
        *(each for each in MAP.roads if "gate" not in {each.a, each.b}),
        replace(MAP.roads[2], key="long", a="sedge", b="brune"),
    ),
)


def at(campaign, *rest):
    return "/".join([f"/clubs/weir-street/campaigns/drafts/{campaign.pk}/map", *rest, ""])


def began(campaign):
    return drawn_of(Campaign.objects.get(pk=campaign.pk))


def region(**changed):
    return {"name": "High Weir", "terrain": "hills", "x": 10, "y": 20, "worth": 1, "produces": 0, **changed}


def test_a_region_is_put_on_an_empty_map_by_a_form(browse, umpire, draft):
    browse(umpire).post(at(draft, "new-region"), region(port="on"))
    (made,) = began(draft).map.regions
    assert (made.key, made.terrain, made.port) == ("high-weir", "hills", True)


def test_a_region_of_a_name_there_is_is_refused_and_what_was_typed_stays(browse, umpire, mapped):
    answer = browse(umpire).post(at(mapped, "new-region"), region(name="the mere", worth=77))
    assert answer.status_code == 422
    assert 'value="77"' in answer.content.decode()


def test_a_region_that_changed_keeps_its_roads(browse, umpire, mapped):
    browse(umpire).post(at(mapped, "regions", "mere"), region(name="Upper Mere"))
    assert began(mapped).map.region("mere").name == "Upper Mere"
    assert began(mapped).map.roads == MAP.roads


def test_a_region_goes_with_its_roads(browse, umpire, mapped):
    browse(umpire).post(at(mapped, "regions", "isle", "remove"))
    assert {each.key for each in began(mapped).map.roads} == {"mill", "dyke", "toll", "keep"}


def test_roads_are_made_changed_and_removed_by_forms(browse, umpire, mapped):
    client = browse(umpire)
    client.post(at(mapped, "new-road"), {"a": "mere", "b": "gate", "kind": "river", "capacity": 4, "loss": 2})
    made = next(each for each in began(mapped).map.roads if each.kind == "river")
    client.post(at(mapped, "roads", made.key), {"a": "mere", "b": "gate", "kind": "road", "capacity": 9, "loss": 2})
    assert began(mapped).map.road(made.key).capacity == 9
    client.post(at(mapped, "roads", made.key, "remove"))
    assert began(mapped).map == MAP


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"a": "mere", "b": "mere", "kind": "road"}, "to itself"),
        ({"a": "mere", "b": "gate", "kind": "sea_lane"}, "is no port"),
    ],
)
def test_a_road_that_cannot_be_is_refused_in_words(browse, umpire, mapped, told, words):
    answer = browse(umpire).post(at(mapped, "new-road"), {**told, "capacity": 1, "loss": 0})
    assert answer.status_code == 422
    assert words in answer.content.decode()


def test_a_form_opened_before_somebody_else_saved_is_refused(browse, umpire, mapped):
    client = browse(umpire)
    client.post(at(mapped, "new-region"), region())
    answer = client.post(at(mapped, "new-region"), region(name="Other", version=mapped.version))
    assert answer.status_code == 422
    assert "Somebody else" in answer.content.decode()


# the text and files


def test_the_editor_sends_the_map_as_text(browse, umpire, mapped):
    client = browse(umpire)
    text = client.get(at(mapped)).context["form"]["text"].value()
    told = json.loads(text)
    told["regions"][0]["name"] = "Old Arrel"
    client.post(at(mapped), {"text": json.dumps(told), "version": mapped.version})
    assert began(mapped).map.region("arrel").name == "Old Arrel"


def test_every_fault_of_the_text_is_named_and_the_text_stays(browse, umpire, mapped):
    text = map_text(replace(MAP, roads=(replace(MAP.roads[0], b="arrel"), replace(MAP.roads[1], b="nowhere"))))
    answer = browse(umpire).post(at(mapped), {"text": text})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "to itself" in page
    assert "nowhere" in page
    assert answer.context["form"]["text"].value() == text


def test_what_the_club_downloads_is_the_map(browse, umpire, mapped):
    answer = browse(umpire).get(f"/clubs/weir-street/campaigns/{mapped.pk}/map.json")
    assert read_map(json.loads(answer.content)).map == MAP


def test_a_map_still_drawn_up_is_not_for_players(browse, member, mapped):
    assert browse(member).get(f"/clubs/weir-street/campaigns/{mapped.pk}/map.json").status_code == 403


def test_the_map_of_a_war_is_for_the_club_and_says_nothing_of_who_holds_what(browse, umpire, member, ready):
    start_campaign(ready, by=umpire)
    for ending in ("json", "graphml"):
        told = browse(member).get(f"/clubs/weir-street/campaigns/{ready.pk}/map.{ending}").content.decode()
        assert "Toll Gate" in told
        assert "wardens" not in told


def test_graphml_of_another_tool_comes_in(browse, umpire, draft):
    # networkx writes GraphML by its own reader's and writer's rules: a tool that is not ours.
    graph = nx.Graph()
    graph.add_node("a", name="Ford", terrain="marsh", x=100, y=200, produces=4)
    graph.add_node("b", name="Mill", terrain="town", x=300, y=200)
    graph.add_edge("a", "b", id="e1", capacity=5)
    text = "\n".join(nx.generate_graphml(graph))
    browse(umpire).post(at(draft, "file"), {"text": text})
    assert {each.name: each.produces for each in began(draft).map.regions} == {"Ford": 4, "Mill": 0}
    assert began(draft).map.roads[0].capacity == 5


def test_a_graphml_file_gives_the_same_map_again(browse, umpire, draft):
    file = SimpleUploadedFile("map.graphml", dump_graphml(MAP))
    browse(umpire).post(at(draft, "file"), {"file": file})
    assert began(draft).map == MAP


def test_a_refused_file_comes_back_as_text(browse, umpire, draft):
    file = SimpleUploadedFile("map.json", b'{"format": "drumhead map 1", "name": "Half"')
    answer = browse(umpire).post(at(draft, "file"), {"file": file})
    assert answer.status_code == 422
    assert "Half" in answer.content.decode()


# while the war is on


@pytest.fixture
def running(ready, umpire):
    start_campaign(ready, by=umpire)
    return Campaign.objects.get(pk=ready.pk)


def edited(campaign, *, by, of=WITHOUT_GATE, effects=(), turn=1, submission=None):
    return edit_map(
        campaign,
        of=of,
        effects=effects,
        reason="The bridge at the Gate is burnt.",
        turn=turn,
        submission=submission or uuid.uuid4(),
        by=by,
    )


def test_a_force_on_ground_that_goes_must_be_spoken_of(running, umpire):
    with pytest.raises(CampaignRefused, match="lancers"):
        edited(running, by=umpire)
    assert not Fact.objects.filter(kind=Fact.Kind.MAP_EDITED).exists()


def test_the_war_goes_on_upon_the_new_map(running, umpire):
    edited(running, by=umpire, effects=[war.PlaceForce(force="lancers", region="brune")])
    now = war_of(running).now
    assert now.map == WITHOUT_GATE
    assert now.forces["lancers"].region == "brune"
    assert map_of(running) == WITHOUT_GATE


def test_changing_the_map_twice_under_one_name_is_changing_it_once(running, umpire):
    name = uuid.uuid4()
    effects = [war.RemoveForce(force="lancers")]
    one = edited(running, by=umpire, effects=effects, submission=name)
    two = edited(running, by=umpire, effects=effects, submission=name)
    assert one.pk == two.pk


def test_supply_can_be_saved_from_ground_that_goes(running, umpire):
    now = war_of(running)
    smaller = replace(
        MAP,
        regions=tuple(each for each in MAP.regions if each.key != "arrel"),
        roads=tuple(each for each in MAP.roads if "arrel" not in {each.a, each.b}),
    )
    stock = next(each for each in homeless_of(now, smaller) if each.what == "stock")
    assert (stock.faction, stock.loads) == ("commons", 10)
    with pytest.raises(CampaignRefused, match=r"No supply of commons"):
        edited(running, by=umpire, of=smaller, effects=[war.GrantStock(region="mere", faction="commons", amount=10)])


def test_no_more_supply_is_carried_off_than_there_was(running, umpire):
    with pytest.raises(CampaignRefused, match="Only 0 loads"):
        edited(
            running,
            by=umpire,
            effects=[
                war.PlaceForce(force="lancers", region="brune"),
                war.GrantStock(region="brune", faction="wardens", amount=5),
            ],
        )


def test_players_do_not_change_the_map(running, member, organiser):
    for who in (member, organiser):
        with pytest.raises(NotYoursToDo):
            edited(running, by=who)


def test_a_turn_that_is_over_has_its_map(running, umpire):
    with pytest.raises(CampaignMovedOn):
        edited(running, by=umpire, turn=3)


def test_the_page_shows_what_changes_before_anything_is_kept(browse, running, umpire):
    client = browse(umpire)
    page = f"/clubs/weir-street/campaigns/{running.pk}/map/edit/"
    sent = {"text": map_text(WITHOUT_GATE), "turn": 1, "submission": str(uuid.uuid4()), "reason": "Burnt."}
    shown = client.post(page, sent)
    words = shown.content.decode()
    assert "Toll Gate is taken off the map." in words
    assert "lancers" in words
    assert not Fact.objects.filter(kind=Fact.Kind.MAP_EDITED).exists()
    looked = shown.context["form"]["looked"].value()
    client.post(page, {**sent, "looked": looked, "fate_0": "brune"})
    assert war_of(running).now.forces["lancers"].region == "brune"


def test_a_map_changed_again_since_it_was_looked_at_is_shown_again(browse, running, umpire):
    client = browse(umpire)
    page = f"/clubs/weir-street/campaigns/{running.pk}/map/edit/"
    sent = {"text": map_text(WITHOUT_GATE), "turn": 1, "submission": str(uuid.uuid4()), "reason": "Burnt."}
    looked = client.post(page, sent).context["form"]["looked"].value()
    other = replace(WITHOUT_GATE, name="Other")
    answer = client.post(page, {**sent, "text": map_text(other), "looked": looked, "fate_0": "brune"})
    assert answer.status_code == 200
    assert not Fact.objects.filter(kind=Fact.Kind.MAP_EDITED).exists()
