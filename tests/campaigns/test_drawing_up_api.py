"""A campaign founded, drawn up and started by a program."""

from __future__ import annotations

import json
import uuid
from dataclasses import replace

import pytest

from league.campaigns.models import Campaign, Seat
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.queries.drawing_up_files import map_text
from league.campaigns.queries.war import war_of
from league.campaigns.services.starting import start_campaign
from league.engines.documents.campaign import write_campaign
from league.engines.documents.map import dump_graphml, read_map
from tests.engines.war.world import CAMPAIGN, MAP

pytestmark = pytest.mark.django_db

CAMPAIGNS = "/api/v1/clubs/weir-street/campaigns/"


def at(campaign, *rest):
    return "/".join([f"{CAMPAIGNS}drafts/{campaign.pk}", *rest, ""])


def began(campaign):
    return drawn_of(Campaign.objects.get(pk=campaign.pk))


def as_json(of):
    return json.loads(map_text(of))


def test_a_program_draws_a_war_up_and_starts_it(call, umpire, edition, rosters, member, opponent):
    client = call(umpire)
    told = {"name": "Weirs", "ruleset": edition.ruleset.pk, "submission": str(uuid.uuid4())}
    made = client.post(f"{CAMPAIGNS}drafts/", told, format="json")
    assert made.status_code == 201
    draft = Campaign.objects.get(pk=made.json()["id"])
    client.put(at(draft, "map"), {"map": as_json(MAP)}, format="json")
    factions = [{"key": each.key, "name": each.name} for each in CAMPAIGN.factions]
    client.put(at(draft, "factions"), {"factions": factions}, format="json")
    holdings = [{"region": each.region, "faction": each.faction} for each in CAMPAIGN.holdings]
    client.put(at(draft, "start"), {"holdings": holdings}, format="json")
    for force, faction, region in (("pikes", "commons", "mere"), ("lancers", "wardens", "gate")):
        told = {"roster": rosters[force].pk, "faction": faction, "region": region, "need": 3, "pace": 1}
        assert client.post(at(draft, "forces"), told, format="json").status_code == 201
    for who, faction in ((member, "commons"), (opponent, "wardens")):
        client.post(f"{CAMPAIGNS}{draft.pk}/seats/", {"member": who.pk, "faction": faction}, format="json")
    answer = client.post(at(draft, "begin"))
    assert answer.status_code == 200, answer.json()
    assert war_of(Campaign.objects.get(pk=draft.pk)).turn == 1


def test_what_is_missing_is_told(call, umpire, mapped):
    steps = {each["key"]: each["wanting"] for each in call(umpire).get(at(mapped)).json()["steps"]}
    assert steps["map"] == []
    assert len(steps["forces"]) == 2


def test_a_start_that_cannot_be_says_everything_that_is_missing(call, umpire, mapped):
    answer = call(umpire).post(at(mapped, "begin"))
    assert answer.status_code == 422
    assert {each["pointer"] for each in answer.json()["errors"]} == {"/forces", "/seats"}


def test_the_map_that_is_read_can_be_sent_back(call, umpire, mapped):
    client = call(umpire)
    told = client.get(at(mapped, "map")).json()
    assert client.put(at(mapped, "map"), told, format="json").json() == told


def test_every_fault_of_a_map_comes_with_its_place(call, umpire, draft):
    document = as_json(MAP)
    document["roads"][0]["b"] = document["roads"][0]["a"]
    document["regions"][1]["name"] = document["regions"][0]["name"]
    answer = call(umpire).put(at(draft, "map"), {"map": document}, format="json")
    pointers = {each["pointer"] for each in answer.json()["errors"]}
    assert answer.status_code == 422
    assert {"/map/roads/0/b", "/map/regions/0/name", "/map/regions/1/name"} <= pointers


def test_an_old_version_is_refused(call, umpire, mapped):
    told = {"map": as_json(replace(MAP, name="Other")), "version": mapped.version - 1}
    assert call(umpire).put(at(mapped, "map"), told, format="json").status_code == 409


def test_graphml_goes_in_and_out(call, umpire, draft):
    client = call(umpire)
    client.put(at(draft, "map", "graphml"), {"graphml": dump_graphml(MAP).decode()}, format="json")
    assert began(draft).map == MAP
    assert client.get(f"{CAMPAIGNS}{draft.pk}/map/graphml/").content == dump_graphml(MAP)


def test_rules_are_read_and_set_as_the_document_has_them(call, umpire, mapped):
    client = call(umpire)
    told = client.get(at(mapped, "rules")).json()
    told["rules"]["depot_price"] = 9
    client.put(at(mapped, "rules"), told, format="json")
    assert began(mapped).rules.depot_price == 9


def test_rules_nobody_knows_are_refused_with_their_place(call, umpire, mapped):
    answer = call(umpire).put(at(mapped, "rules"), {"rules": {"luck": 3, "depot_price": -1}}, format="json")
    assert answer.status_code == 422
    assert {each["pointer"] for each in answer.json()["errors"]} == {"/rules/luck", "/rules/depot_price"}


def test_the_start_that_is_read_can_be_sent_back(call, umpire, mapped):
    client = call(umpire)
    told = client.get(at(mapped, "start")).json()
    assert told["stocks"] == [{"region": "arrel", "faction": "commons", "amount": 10}]
    assert client.put(at(mapped, "start"), told, format="json").status_code == 200


def test_forces_are_changed_and_taken_out(call, umpire, ready):
    client = call(umpire)
    told = {"faction": "commons", "region": "arrel", "need": 1, "pace": 2}
    client.put(at(ready, "forces", "pikes"), told, format="json")
    assert [each["region"] for each in client.get(at(ready, "forces")).json()] == ["arrel", "gate"]
    assert client.delete(at(ready, "forces", "pikes")).status_code == 204
    assert [each.key for each in began(ready).forces] == ["lancers"]


def test_a_campaign_comes_in_from_its_document(call, umpire, edition):
    told = {
        "ruleset": edition.ruleset.pk,
        "submission": str(uuid.uuid4()),
        "document": write_campaign(CAMPAIGN),
    }
    answer = call(umpire).post(f"{CAMPAIGNS}drafts/document/", told, format="json")
    assert answer.status_code == 201
    assert began(Campaign.objects.get(pk=answer.json()["id"])).map == MAP


def test_who_leads_whom_is_for_the_club_to_read(call, member, ready):
    told = call(member).get(f"{CAMPAIGNS}{ready.pk}/seats/").json()
    assert [(each["faction"], each["name"]) for each in told] == [("commons", "Brannoc"), ("wardens", "Ceriden")]


def test_a_leader_frees_their_own_seat(call, member, opponent, ready):
    own, other = Seat.objects.get(member=member), Seat.objects.get(member=opponent)
    assert call(member).delete(f"{CAMPAIGNS}{ready.pk}/seats/{other.pk}/").status_code == 403
    assert call(member).delete(f"{CAMPAIGNS}{ready.pk}/seats/{own.pk}/").status_code == 204


@pytest.mark.parametrize("part", ["", "map", "factions", "start", "rules", "forces"])
def test_no_part_of_the_drawing_up_is_for_players(call, member, ready, part):
    assert call(member).get(at(ready, part) if part else at(ready)).status_code == 403


def test_the_map_of_a_running_war_is_changed_by_its_umpire(call, umpire, ready):
    start_campaign(ready, by=umpire)
    smaller = replace(
        MAP,
        regions=tuple(each for each in MAP.regions if each.key != "gate"),
        roads=tuple(each for each in MAP.roads if "gate" not in {each.a, each.b}),
    )
    told = {"submission": str(uuid.uuid4()), "turn": 1, "reason": "Burnt.", "map": as_json(smaller)}
    refused = call(umpire).post(f"{CAMPAIGNS}{ready.pk}/map/", told, format="json")
    assert refused.status_code == 422
    assert "lancers" in refused.json()["detail"]
    effects = [{"kind": "place_force", "force": "lancers", "region": "brune"}]
    answer = call(umpire).post(f"{CAMPAIGNS}{ready.pk}/map/", {**told, "effects": effects}, format="json")
    assert answer.status_code == 201
    assert read_map(answer.json()).map == smaller
    assert war_of(Campaign.objects.get(pk=ready.pk)).now.forces["lancers"].region == "brune"


def test_an_effect_nobody_knows_is_refused(call, umpire, ready):
    start_campaign(ready, by=umpire)
    told = {
        "submission": str(uuid.uuid4()),
        "turn": 1,
        "reason": "Why not",
        "map": as_json(replace(MAP, name="Other")),
        "effects": [{"kind": "miracle"}],
    }
    answer = call(umpire).post(f"{CAMPAIGNS}{ready.pk}/map/", told, format="json")
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["pointer"] == "/effects/0/kind"


def test_awards_have_no_place_in_a_change_of_the_map(call, umpire, ready):
    start_campaign(ready, by=umpire)
    told = {
        "submission": str(uuid.uuid4()),
        "turn": 1,
        "reason": "Why not",
        "map": as_json(replace(MAP, name="Other")),
        "effects": [{"kind": "award_points", "faction": "commons", "points": 50}],
    }
    assert call(umpire).post(f"{CAMPAIGNS}{ready.pk}/map/", told, format="json").status_code == 422
    assert war_of(Campaign.objects.get(pk=ready.pk)).now.points.get("commons", 0) == 0
