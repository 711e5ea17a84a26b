"""Drawing a war up, part by part, until it starts."""

from __future__ import annotations

import uuid
from dataclasses import replace

import pytest
from django.utils import timezone

from league.campaigns.models import Campaign, Enlisted, Fact, Seat, Secret
from league.campaigns.queries.drawing_up import drawn_of, missing, steps_of
from league.campaigns.queries.war import war_of
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused
from league.campaigns.services.drawing_up import (
    change_about,
    found_campaign,
    import_campaign,
    set_factions,
    set_rules,
    set_start,
    write_map,
)
from league.campaigns.services.enlisting import change_force, discharge, enlist
from league.campaigns.services.seats import leave_seat, take_seat
from league.campaigns.services.starting import start_campaign
from league.clubs.models import LogEntry
from league.engines import war
from league.engines.documents.campaign import write_campaign
from league.engines.fates import seed_commitment
from league.engines.maps import Map, Region, Road
from league.errors import NotYoursToDo
from league.rosters.queries.states import states_of
from league.rosters.services.musters import MusterLine, record_muster
from league.rosters.services.records import CasualtyLine, record_engagement, record_rolls, take_snapshot
from league.rosters.services.rosters import retire_roster
from league.rulesets.queries import current_edition
from tests import factories
from tests.engines.war.world import CAMPAIGN, MAP

pytestmark = pytest.mark.django_db


def again(campaign):
    return Campaign.objects.get(pk=campaign.pk)


def codes(refusal):
    return {each.code for each in refusal.value.violations}


# founding


def test_a_founded_campaign_has_an_empty_map_and_wants_everything(draft):
    assert drawn_of(draft).map.regions == ()
    assert {each.field for each in missing(draft)} >= {"map", "factions"}


def test_founding_twice_under_one_submission_is_founding_once(club, edition, umpire):
    name = uuid.uuid4()
    one = found_campaign(club, edition=edition, name="Weirs", submission=name, by=umpire)
    two = found_campaign(club, edition=edition, name="Weirs", submission=name, by=umpire)
    assert one.pk == two.pk


def test_two_campaigns_of_a_club_do_not_share_a_name(club, draft, edition, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        found_campaign(club, edition=edition, name=draft.name, submission=uuid.uuid4(), by=umpire)
    assert codes(refusal) == {"taken"}


def test_a_member_without_office_founds_no_campaign(club, edition, member):
    with pytest.raises(NotYoursToDo):
        found_campaign(club, edition=edition, name="Mine", submission=uuid.uuid4(), by=member)


def test_a_ruleset_of_another_club_is_refused(club, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        found_campaign(club, edition=factories.EditionFactory(), name="W", submission=uuid.uuid4(), by=umpire)
    assert codes(refusal) == {"not_of_club"}


def test_everything_wrong_with_a_founding_is_said_at_once(club, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        found_campaign(
            club, edition=factories.EditionFactory(), name=" ", about="x" * 4001, submission=uuid.uuid4(), by=umpire
        )
    assert codes(refusal) == {"required", "long", "not_of_club"}


def test_a_new_name_is_the_name_of_the_document_too(draft, umpire):
    change_about(draft, name="The Long War", about="", is_public=True, by=umpire)
    assert drawn_of(again(draft)).name == "The Long War"


# the map


def test_a_map_is_written_and_read(draft, umpire):
    write_map(draft, of=MAP, by=umpire)
    assert drawn_of(again(draft)).map == MAP


def test_every_fault_of_a_map_is_named(draft, umpire):
    bad = Map(
        name="Bad",
        regions=(
            Region(key="a", name="", terrain="open", x=1, y=2000),
            Region(key="a", name="B", terrain="", x=0, y=0),
        ),
        roads=(Road(key="r", a="a", b="a"), Road(key="s", a="a", b="nowhere", kind="sea_lane")),
    )
    with pytest.raises(CampaignRefused) as refusal:
        write_map(draft, of=bad, by=umpire)
    assert codes(refusal) >= {"no_name", "off_the_map", "key_twice", "loop", "unknown_region", "no_port"}


def test_a_refused_map_leaves_the_old_one(mapped, umpire):
    with pytest.raises(CampaignRefused):
        write_map(mapped, of=replace(MAP, name=""), by=umpire)
    assert drawn_of(again(mapped)).map == MAP


def test_two_people_at_the_map_do_not_undo_each_other(draft, umpire, organiser):
    write_map(draft, of=MAP, version=draft.version, by=umpire)
    with pytest.raises(CampaignMovedOn):
        write_map(draft, of=replace(MAP, name="Other"), version=draft.version, by=organiser)
    assert drawn_of(again(draft)).map.name == MAP.name


def test_saving_the_same_map_again_is_no_change(draft, umpire):
    write_map(draft, of=MAP, version=draft.version, by=umpire)
    version = again(draft).version
    write_map(draft, of=MAP, version=draft.version, by=umpire)
    assert again(draft).version == version


def test_what_lay_in_a_region_that_goes_goes_with_it(mapped, umpire):
    smaller = replace(
        MAP,
        regions=tuple(each for each in MAP.regions if each.key != "gate"),
        roads=tuple(each for each in MAP.roads if "gate" not in {each.a, each.b}),
    )
    write_map(mapped, of=smaller, by=umpire)
    began = drawn_of(again(mapped))
    assert "gate" not in {each.region for each in (*began.holdings, *began.depots, *began.stocks)}


def test_a_region_with_a_force_in_it_stays(ready, umpire):
    smaller = replace(
        MAP,
        regions=tuple(each for each in MAP.regions if each.key != "gate"),
        roads=tuple(each for each in MAP.roads if "gate" not in {each.a, each.b}),
    )
    with pytest.raises(CampaignRefused, match="lancers"):
        write_map(ready, of=smaller, by=umpire)


def test_an_island_keeps_the_war_from_starting_but_can_be_kept(mapped, umpire):
    lonely = replace(MAP, regions=(*MAP.regions, Region(key="rock", name="The Rock", terrain="open", x=9, y=9)))
    write_map(mapped, of=lonely, by=umpire)
    assert any("The Rock" in each.message for each in missing(again(mapped)))


# factions and the start


def test_a_faction_without_a_key_gets_one_from_its_name(draft, umpire):
    set_factions(
        draft, factions=[war.Faction(key="", name="River Guild"), war.Faction(key="", name="River guild!")], by=umpire
    )
    assert [each.key for each in drawn_of(again(draft)).factions] == ["river-guild", "river-guild-2"]


def test_two_factions_of_one_name_are_refused(draft, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        set_factions(
            draft, factions=[war.Faction(key="a", name="Guild"), war.Faction(key="b", name="guild")], by=umpire
        )
    assert "name_twice" in codes(refusal)


def test_a_faction_with_forces_and_leaders_stays(ready, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        set_factions(ready, factions=[each for each in CAMPAIGN.factions if each.key == "commons"], by=umpire)
    assert codes(refusal) == {"has_forces", "is_led"}


def test_what_a_faction_that_is_gone_held_is_held_by_nobody(mapped, umpire):
    set_factions(mapped, factions=[each for each in CAMPAIGN.factions if each.key == "commons"], by=umpire)
    began = drawn_of(again(mapped))
    assert {each.faction for each in (*began.holdings, *began.depots)} == {"commons"}


def test_supply_lies_only_where_it_can_be_kept(mapped, umpire):
    with pytest.raises(CampaignRefused, match="no depot"):
        set_start(
            mapped,
            holdings=CAMPAIGN.holdings,
            stocks=[war.Stock(region="mere", faction="commons", amount=3)],
            by=umpire,
        )


def test_a_faction_without_a_source_is_missing_one(mapped, umpire):
    set_start(mapped, holdings=[war.Holding(region="mere", faction="commons")], by=umpire)
    words = [each.message for each in missing(again(mapped)) if each.field == "start"]
    assert len(words) == 2
    assert any("source" in each for each in words)


def test_rules_are_kept(mapped, umpire):
    rules = replace(drawn_of(mapped).rules, depot_price=7)
    set_rules(mapped, rules=rules, by=umpire)
    assert drawn_of(again(mapped)).rules.depot_price == 7


def test_rules_that_name_a_scenario_nobody_knows_are_refused(mapped, umpire):
    rules = replace(drawn_of(mapped).rules, grounds=(war.Ground(terrain="marsh", scenarios=("no_such",)),))
    with pytest.raises(CampaignRefused, match="no_such"):
        set_rules(mapped, rules=rules, by=umpire)


# forces


def test_an_enlisted_roster_is_written_down_with_its_units(mapped, rosters, umpire):
    enlist(mapped, roster=rosters["pikes"], faction="commons", region="mere", need=3, by=umpire)
    (force,) = drawn_of(again(mapped)).forces
    assert [each.figures for each in force.units] == [10, 10]
    assert Enlisted.objects.get().force == force.key


def test_enlisting_twice_is_enlisting_once(mapped, rosters, umpire):
    for _time in range(2):
        enlist(mapped, roster=rosters["pikes"], faction="commons", region="mere", need=3, by=umpire)
    assert len(drawn_of(again(mapped)).forces) == 1


def test_everything_wrong_with_an_enlistment_is_said_at_once(mapped, umpire, rosters, member):
    retire_roster(rosters["pikes"], by=member)
    with pytest.raises(CampaignRefused) as refusal:
        enlist(
            mapped, roster=again_roster(rosters["pikes"]), faction="x", region="y", need=-1, pace=0, key="!", by=umpire
        )
    assert codes(refusal) == {"retired", "unknown_faction", "unknown_region", "range", "bad_key"}


def again_roster(roster):
    return type(roster).objects.get(pk=roster.pk)


def test_a_roster_of_another_ruleset_is_refused(mapped, member, umpire):
    other = factories.RosterFactory(owner=member)
    factories.UnitFactory(roster=other, unit_class="foot")
    with pytest.raises(CampaignRefused) as refusal:
        enlist(mapped, roster=other, faction="commons", region="mere", need=1, by=umpire)
    assert "other_ruleset" in codes(refusal)


def test_a_force_can_be_moved_before_the_start(ready, umpire):
    change_force(ready, force="pikes", faction="commons", region="arrel", need=4, pace=2, by=umpire)
    force = next(each for each in drawn_of(again(ready)).forces if each.key == "pikes")
    assert (force.region, force.need, force.pace) == ("arrel", 4, 2)


def test_a_discharged_force_frees_its_roster(ready, umpire):
    discharge(ready, force="pikes", by=umpire)
    assert {each.key for each in drawn_of(again(ready)).forces} == {"lancers"}
    assert not Enlisted.objects.filter(force="pikes").exists()


# seats


def test_a_member_leads_one_faction_only(ready, member, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        take_seat(ready, member=member, faction="wardens", by=umpire)
    assert codes(refusal) == {"seated"}


def test_a_guest_leads_nobody(mapped, guest, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        take_seat(mapped, member=guest, faction="wardens", by=umpire)
    assert codes(refusal) == {"guest"}


def test_members_do_not_seat_themselves(mapped, member):
    with pytest.raises(NotYoursToDo):
        take_seat(mapped, member=member, faction="commons", by=member)


def test_a_seat_given_up_twice_is_given_up_once(ready, member):
    seat = Seat.objects.get(member=member)
    first = leave_seat(seat, by=member).left_at
    assert leave_seat(seat, by=member).left_at == first


def test_in_a_running_war_the_umpire_seats_a_newcomer(ready, umpire, club):
    start_campaign(ready, by=umpire)
    newcomer = factories.MemberFactory(club=club)
    assert take_seat(again(ready), member=newcomer, faction="commons", by=umpire).faction == "commons"


def test_whoever_knows_one_side_of_a_war_does_not_lead_another(ready, umpire, member):
    start_campaign(ready, by=umpire)
    leave_seat(Seat.objects.get(member=member), by=member)
    with pytest.raises(CampaignRefused) as refusal:
        take_seat(again(ready), member=member, faction="wardens", by=umpire)
    assert codes(refusal) == {"knows_others"}


def test_an_umpire_who_leads_a_faction_does_not_leave_it_to_see_everything(ready, umpire, club):
    player = factories.MemberFactory(club=club, is_umpire=True)
    seat = take_seat(ready, member=player, faction="commons", by=umpire)
    start_campaign(ready, by=umpire)
    with pytest.raises(NotYoursToDo):
        leave_seat(seat, by=player)


# the start


def test_a_war_that_lacks_something_does_not_start(mapped, umpire):
    with pytest.raises(CampaignRefused) as refusal:
        start_campaign(mapped, by=umpire)
    assert {each.field for each in refusal.value.violations} == {"forces", "seats"}
    assert again(mapped).started_at is None


def test_a_war_nobody_could_judge_does_not_start(ready, umpire, organiser):
    umpire.is_umpire = False
    umpire.save()
    assert any("umpire" in each.message for each in missing(ready))


def test_a_started_war_takes_orders_for_turn_one(ready, umpire):
    start_campaign(ready, by=umpire)
    now = war_of(again(ready))
    assert (now.turn, now.now.phase) == (1, "orders")


def test_the_seed_of_turn_one_is_promised_and_kept_secret(ready, umpire):
    start_campaign(ready, by=umpire)
    fact = Fact.objects.get(campaign=ready, kind=Fact.Kind.SEED)
    secret = Secret.objects.get(campaign=ready, turn=1)
    assert fact.data["commitment"] == seed_commitment(secret.seed)
    assert secret.seed not in str(fact.data)


def test_starting_twice_is_starting_once(ready, umpire):
    start_campaign(ready, by=umpire)
    start_campaign(ready, by=umpire)
    assert Fact.objects.filter(campaign=ready).count() == 1


def test_how_a_started_war_began_stands_for_good(ready, umpire):
    start_campaign(ready, by=umpire)
    for act in (
        lambda: write_map(ready, of=MAP, by=umpire),
        lambda: set_factions(ready, factions=CAMPAIGN.factions, by=umpire),
        lambda: set_start(ready, holdings=(), by=umpire),
        lambda: set_rules(ready, rules=war.USUAL, by=umpire),
        lambda: discharge(ready, force="pikes", by=umpire),
    ):
        with pytest.raises(CampaignMovedOn):
            act()


def test_units_are_written_down_as_they_are_at_the_start(ready, rosters, umpire):
    rosters["pikes"].units.update(figures=12)
    start_campaign(ready, by=umpire)
    force = next(each for each in drawn_of(again(ready)).forces if each.key == "pikes")
    assert [each.figures for each in force.units] == [12, 12]


def fought(roster, *, lost, unit=0):
    """A battle of before the war, in which a unit lost figures for good: every die shows a 1."""
    units = list(roster.units.order_by("position"))
    now = timezone.now()
    edition = current_edition(roster.ruleset)
    engagement = record_engagement(
        roster,
        snapshot=take_snapshot(roster, edition=edition, by=roster.owner, at=now),
        title="At the weir",
        fought_on=timezone.localdate(),
        outcome="win",
        casualties=[CasualtyLine(unit_id=units[unit].pk, figures_lost=lost)],
        at=now,
    )
    record_rolls(engagement.casualties.get(), source="table", results=[1] * lost, by=roster.owner, at=now)


def test_scars_of_before_the_war_come_along(ready, rosters, umpire):
    fought(rosters["pikes"], lost=4)
    fought(rosters["pikes"], lost=2)
    start_campaign(ready, by=umpire)
    by_roster = states_of(rosters["pikes"])
    assert sum(each.lost for each in by_roster.values()) == 6
    by_war = war_of(again(ready)).now.forces["pikes"].states
    assert dict(by_war) == by_roster


def test_a_unit_struck_off_before_the_war_is_no_part_of_it(ready, rosters, umpire):
    fought(rosters["pikes"], lost=4)
    gone = rosters["pikes"].units.order_by("position").first()
    gone.removed_at = timezone.now()
    gone.save()
    start_campaign(ready, by=umpire)
    (left,) = rosters["pikes"].units.filter(removed_at=None)
    by_war = war_of(again(ready)).now.forces["pikes"].states
    assert dict(by_war) == {left.pk: states_of(rosters["pikes"])[left.pk]}


def test_a_roster_with_roll_calls_of_another_war_starts_none(ready, rosters, umpire):
    unit = rosters["pikes"].units.first()
    fought(rosters["pikes"], lost=3)
    record_muster(
        rosters["pikes"],
        title="The other war",
        held_on=timezone.localdate(),
        lines=[MusterLine(unit_id=unit.pk, joined=2)],
        at=timezone.now(),
    )
    with pytest.raises(CampaignRefused) as refusal:
        start_campaign(ready, by=umpire)
    assert codes(refusal) == {"mustered"}


# files and the book of acts


def test_a_campaign_comes_in_from_its_document_without_forces(club, edition, umpire):
    made = import_campaign(club, edition=edition, document=write_campaign(CAMPAIGN), submission=uuid.uuid4(), by=umpire)
    began = drawn_of(made)
    assert (began.map, began.factions, began.rules) == (CAMPAIGN.map, CAMPAIGN.factions, CAMPAIGN.rules)
    assert began.forces == ()


def test_every_fault_of_a_document_is_named(club, edition, umpire):
    document = write_campaign(CAMPAIGN)
    document["holdings"].append({"region": "nowhere", "faction": "nobody"})
    document["depots"].append({"region": "moon", "faction": "commons"})
    with pytest.raises(CampaignRefused) as refusal:
        import_campaign(club, edition=edition, document=document, submission=uuid.uuid4(), by=umpire)
    words = str(refusal.value)
    assert all(name in words for name in ("nowhere", "nobody", "moon"))


def test_the_book_of_acts_tells_of_it_without_saying_where(ready, club):
    told = [str(each.details) for each in LogEntry.objects.filter(club=club)]
    assert {"campaign_founded", "map_drawn", "start_set", "roster_enlisted", "seat_taken"} <= {
        each.act for each in LogEntry.objects.filter(club=club)
    }
    assert not any("mere" in each or "arrel" in each for each in told)


def test_the_checklist_asks_the_database_three_times(ready, django_assert_num_queries):
    with django_assert_num_queries(2):
        steps_of(ready)
