"""The pages of the drawing up, from an empty desk to the first turn, without any script."""

from __future__ import annotations

import json
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from league.campaigns.models import Campaign, Enlisted, Seat
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.services.enlisting import enlist
from league.campaigns.services.seats import take_seat
from league.campaigns.services.starting import start_campaign
from league.engines.documents.campaign import write_campaign
from tests import factories
from tests.engines.war.world import CAMPAIGN, MAP

pytestmark = pytest.mark.django_db


def at(campaign, *rest):
    return "/".join([f"/clubs/weir-street/campaigns/drafts/{campaign.pk}", *rest, ""])


def began(campaign):
    return drawn_of(Campaign.objects.get(pk=campaign.pk))


def filled(page):
    """What the form on a page would send if nobody touched it."""
    form = page.context["form"]
    told = {}
    for name in form.fields:
        value = form[name].value()
        if value is True:
            told[name] = "on"
        elif value is not False and value is not None:
            told[name] = list(value) if isinstance(value, tuple) else value
    return told


def test_founding_leads_to_the_desk(browse, umpire, edition):
    answer = browse(umpire).post(
        "/clubs/weir-street/campaigns/new/",
        {"name": "Weirs", "ruleset": edition.ruleset.pk, "about": "", "submission": uuid.uuid4()},
    )
    made = Campaign.objects.get(name="Weirs")
    assert answer.headers["Location"] == at(made)


def test_what_was_typed_stays_when_founding_is_refused(browse, umpire, edition, draft):
    answer = browse(umpire).post(
        "/clubs/weir-street/campaigns/new/",
        {"name": draft.name, "ruleset": edition.ruleset.pk, "about": "Long tale", "submission": uuid.uuid4()},
    )
    assert answer.status_code == 422
    assert "Long tale" in answer.content.decode()


def test_the_desk_says_what_is_missing(browse, umpire, mapped):
    page = browse(umpire).get(at(mapped)).content.decode()
    assert "Commons of Arrel has no force." in page
    assert "Nobody leads Wardens of Brune." in page


def test_the_desk_of_a_ready_campaign_offers_the_start(browse, umpire, ready):
    assert "/begin/" in browse(umpire).get(at(ready)).content.decode()


def test_the_start_leads_to_the_war(browse, umpire, ready):
    answer = browse(umpire).post(at(ready, "begin"))
    assert answer.headers["Location"] == f"/clubs/weir-street/campaigns/{ready.pk}/"
    assert Campaign.objects.get(pk=ready.pk).started_at


def test_what_keeps_a_war_from_starting_is_said_where_one_would_start_it(browse, umpire, mapped):
    answer = browse(umpire).post(at(mapped, "begin"))
    assert answer.status_code == 422
    assert "has no force" in answer.content.decode()


def test_a_started_campaign_has_no_desk_any_more(browse, umpire, ready):
    start_campaign(ready, by=umpire)
    answer = browse(umpire).get(at(ready))
    assert answer.headers["Location"] == f"/clubs/weir-street/campaigns/{ready.pk}/"


def test_members_who_draw_nothing_up_do_not_see_the_desk(browse, member, mapped):
    assert browse(member).get(at(mapped)).status_code == 403


@pytest.mark.parametrize("page", ["map", "map/file", "map/new-region", "factions", "start", "forces", "rules", "about"])
def test_no_page_of_the_drawing_up_is_for_players(browse, member, ready, page):
    assert browse(member).get(at(ready, page)).status_code == 403


# forms


def test_factions_are_lines_with_a_name(browse, umpire, draft):
    told = {"name_0": "River Guild", "side_0": "", "name_1": "", "name_2": "Old Watch", "side_2": "crown"}
    browse(umpire).post(at(draft, "factions"), {"version": draft.version, **told})
    assert [(each.key, each.side) for each in began(draft).factions] == [("river-guild", ""), ("old-watch", "crown")]


def test_a_renamed_faction_keeps_what_it_holds(browse, umpire, mapped):
    client = browse(umpire)
    told = filled(client.get(at(mapped, "factions"))) | {"name_0": "The Commons"}
    client.post(at(mapped, "factions"), told)
    assert began(mapped).faction("commons").name == "The Commons"
    assert any(each.faction == "commons" for each in began(mapped).holdings)


def test_two_factions_of_one_name_are_said_at_their_lines(browse, umpire, draft):
    told = {"name_0": "Guild", "name_1": "", "name_2": "guild"}
    answer = browse(umpire).post(at(draft, "factions"), told)
    assert answer.status_code == 422
    assert set(answer.context["form"].errors) == {"name_0", "name_2"}


def test_the_start_is_a_line_for_each_region(browse, umpire, mapped):
    client = browse(umpire)
    page = client.get(at(mapped, "start"))
    told = filled(page)
    sedge = [each.key for each in MAP.regions].index("sedge")
    client.post(
        at(mapped, "start"), told | {f"holder_{sedge}": "wardens", f"depot_{sedge}": "wardens", f"stock_{sedge}": 4}
    )
    there = [each for each in began(mapped).stocks if each.region == "sedge"]
    assert [(each.faction, each.amount) for each in there] == [("wardens", 4)]


def test_supply_that_could_not_be_kept_is_said_at_its_field(browse, umpire, mapped):
    client = browse(umpire)
    mere = [each.key for each in MAP.regions].index("mere")
    answer = client.post(at(mapped, "start"), filled(client.get(at(mapped, "start"))) | {f"stock_{mere}": 3})
    assert answer.status_code == 422
    assert f"stock_{mere}" in answer.context["form"].errors


def test_saving_the_rules_untouched_keeps_them(browse, umpire, mapped):
    client = browse(umpire)
    before = began(mapped).rules
    answer = client.post(at(mapped, "rules"), filled(client.get(at(mapped, "rules"))))
    assert answer.status_code == 302
    assert began(mapped).rules == before


def test_rules_are_set_in_plain_words(browse, umpire, mapped):
    client = browse(umpire)
    told = filled(client.get(at(mapped, "rules")))
    told |= {"victory_last_turn": 8, "price": "0.25", "scenarios_0": ["reed_beds"], "fog_sight": "presence"}
    client.post(at(mapped, "rules"), told)
    rules = began(mapped).rules
    assert (rules.victory.last_turn, rules.price_x100("foot", ""), rules.fog.sight) == (8, 25, "presence")
    assert rules.ground("marsh").scenarios == ("reed_beds",)


def test_wrong_rules_are_all_said_at_their_fields(browse, umpire, mapped):
    client = browse(umpire)
    told = filled(client.get(at(mapped, "rules"))) | {"captured_percent": 101, "short_lost_percent": -1}
    answer = client.post(at(mapped, "rules"), told)
    assert set(answer.context["form"].errors) == {"captured_percent", "short_lost_percent"}


def test_a_roster_enlists_by_a_form(browse, umpire, mapped, rosters):
    client = browse(umpire)
    told = {"roster": rosters["pikes"].pk, "faction": "commons", "region": "mere", "need": 3, "pace": 1}
    client.post(at(mapped, "new-force"), told)
    force = Enlisted.objects.get().force
    client.post(at(mapped, "forces", force), {"faction": "commons", "region": "arrel", "need": 2, "pace": 2})
    assert [(each.region, each.need) for each in began(mapped).forces] == [("arrel", 2)]
    client.post(at(mapped, "forces", force, "remove"))
    assert began(mapped).forces == ()


def test_seats_are_given_and_freed(browse, umpire, mapped, member):
    client = browse(umpire)
    page = f"/clubs/weir-street/campaigns/{mapped.pk}/seats/"
    client.post(page, {"faction": "commons", "member": member.pk})
    seat = Seat.objects.get(member=member, left_at=None)
    client.post(f"{page}{seat.pk}/leave/")
    assert not Seat.objects.filter(left_at=None).exists()


def test_whoever_leads_may_leave_their_seat(browse, ready, member):
    seat = Seat.objects.get(member=member)
    browse(member).post(f"/clubs/weir-street/campaigns/{ready.pk}/seats/{seat.pk}/leave/")
    assert not Seat.objects.filter(member=member, left_at=None).exists()


# files


def test_a_campaign_comes_in_from_a_file(browse, umpire, edition):
    file = SimpleUploadedFile("war.json", json.dumps(write_campaign(CAMPAIGN)).encode())
    told = {"ruleset": edition.ruleset.pk, "submission": uuid.uuid4(), "file": file}
    browse(umpire).post("/clubs/weir-street/campaigns/import/", told)
    assert began(Campaign.objects.get(name=CAMPAIGN.name)).map == MAP


def test_a_file_that_is_none_is_refused_in_words(browse, umpire, edition):
    told = {"ruleset": edition.ruleset.pk, "submission": uuid.uuid4(), "file": SimpleUploadedFile("war.json", b"{")}
    answer = browse(umpire).post("/clubs/weir-street/campaigns/import/", told)
    assert answer.status_code == 422
    assert "not JSON" in answer.content.decode()


@pytest.mark.parametrize(("page", "queries"), [("", 8), ("map", 6), ("start", 6), ("forces", 7)])
@pytest.mark.parametrize("more", [0, 3])
def test_a_page_asks_the_same_number_of_questions_however_many_forces_and_leaders(
    browse, umpire, ready, edition, club, page, queries, more, django_assert_num_queries
):
    for number in range(more):
        roster = factories.RosterFactory(owner__club=club, ruleset=edition.ruleset)
        factories.UnitFactory(roster=roster, unit_class="foot", figures=5, points=10)
        enlist(ready, roster=roster, faction="commons", region="arrel", need=number, by=umpire)
        take_seat(ready, member=roster.owner, faction="commons", by=umpire)
    client = browse(umpire)
    client.get(at(ready))
    with django_assert_num_queries(queries):
        client.get(at(ready, page) if page else at(ready))
