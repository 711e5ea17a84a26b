from __future__ import annotations

import uuid

import pytest

from league.campaigns.models import Campaign, Fact, Fight
from league.campaigns.services.campaigns import CampaignMovedOn
from league.campaigns.services.orders import OrdersRefused
from league.campaigns.services.turns import close_turn, reveal_orders
from league.engines import war
from league.errors import NotYoursToDo
from league.rosters.services.records import CasualtyLine
from tests.campaigns.play import begin


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


def test_the_first_set_of_orders_stays_secret(played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    assert played.war().now.phase == "orders"
    assert played.war().now.orders == {}


def test_the_last_missing_set_reveals_them_all(played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("wardens")
    assert played.war().now.phase == "battles"
    assert played.war().now.forces["pikes"].region == "sedge"


def test_the_last_set_before_the_reveal_counts(played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("commons", war.Hold(force="pikes"))
    played.orders("wardens")
    assert played.war().now.forces["pikes"].region == "mere"


def test_everything_wrong_with_orders_is_said_at_once_each_at_its_order(played):
    with pytest.raises(OrdersRefused) as refused:
        played.orders(
            "commons",
            war.Move(force="pikes", roads=("keep",)),
            war.Hold(force="sappers"),
            war.DigIn(force="sappers"),
            war.SendSupply(origin="arrel", to="mere", amount=999),
        )
    assert {"orders.0", "orders.3"} <= {each.field for each in refused.value.violations}
    assert any(each.field in ("orders.1", "orders.2") for each in refused.value.violations)
    assert not Fact.objects.filter(kind="orders").exists()


def test_orders_are_given_by_those_who_lead_the_faction_alone(played, organiser):
    for stranger in (played.wardens, played.umpire, organiser):
        played.commons = stranger
        with pytest.raises(NotYoursToDo):
            played.orders("commons")


def test_a_set_sent_twice_is_one_set(played):
    name = uuid.uuid4()
    first = played.orders("commons", war.Hold(force="pikes"), submission=name)
    assert played.orders("commons", war.Hold(force="pikes"), submission=name) == first
    assert Fact.objects.filter(kind="orders").count() == 1


def test_orders_that_arrive_again_after_the_reveal_are_those_that_counted(played):
    name = uuid.uuid4()
    first = played.orders("commons", war.Hold(force="pikes"), turn=1, submission=name)
    played.orders("wardens")
    assert played.orders("commons", war.Hold(force="pikes"), turn=1, submission=name) == first


def test_after_the_reveal_the_turn_takes_no_orders(played):
    played.orders("commons")
    played.orders("wardens")
    with pytest.raises(CampaignMovedOn):
        played.orders("commons", turn=1)


def test_the_umpire_reveals_although_somebody_gave_no_orders(played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    reveal_orders(played.campaign, turn=1, by=played.umpire)
    reveal_orders(played.campaign, turn=1, by=played.umpire)
    assert played.war().now.forces["pikes"].region == "sedge"
    assert Fact.objects.filter(kind="revealed").count() == 1


def test_an_umpire_who_leads_a_faction_neither_reveals_nor_closes(played):
    played.commons.is_umpire = True
    played.commons.save()
    with pytest.raises(NotYoursToDo):
        reveal_orders(played.campaign, turn=1, by=played.commons)


def test_where_two_forces_meet_a_game_is_planned_with_their_rosters_and_players(played):
    battle = played.meet()
    game = played.game(battle)
    assert {side.roster for side in game.sides.all()} == {played.roster("pikes"), played.roster("lancers")}
    assert {player.member for player in game.players.all()} == {played.commons, played.wardens}
    assert game.scenario in battle.scenarios


def test_a_battle_is_booked_once(played):
    played.meet()
    assert Fight.objects.filter(campaign=played.campaign).count() == 1


def test_a_report_moves_the_front_when_the_turn_closes(played):
    battle = played.meet()
    played.report(played.game(battle), winner="wardens")
    played.close()
    now = played.war()
    assert now.states[1].control["sedge"] == "wardens"
    assert now.states[1].forces["pikes"].region == "mere"
    assert now.turn == 2


def test_the_dead_of_a_report_are_gone_from_the_war_and_from_the_roster_alike(played):
    battle = played.meet()
    unit = played.units("pikes")[0]
    played.report(
        played.game(battle), winner="wardens", losses={"pikes": [CasualtyLine(unit_id=unit.pk, figures_lost=4)]}
    )
    by_war, by_roster = played.strength("pikes")
    assert by_war == by_roster
    assert by_war[unit.pk] == 6
    played.close()
    by_war, by_roster = played.strength("pikes")
    assert by_war == by_roster


def test_a_battle_nobody_told_of_goes_on_in_the_next_turn(played):
    battle = played.meet()
    played.close()
    assert [each.id for each in played.war().now.battles] == [battle.id]


def test_a_turn_closes_once(played):
    played.orders("commons")
    played.orders("wardens")
    close_turn(played.campaign, turn=1, by=played.umpire)
    close_turn(played.campaign, turn=1, by=played.umpire)
    assert Fact.objects.filter(kind="closed").count() == 1
    assert played.war().turn == 2


def test_a_turn_still_being_planned_does_not_close(played):
    with pytest.raises(CampaignMovedOn):
        close_turn(played.campaign, turn=1, by=played.umpire)


def test_the_seed_is_told_when_the_turn_is_over_and_not_before(played):
    promise = Fact.objects.get(kind="seed")
    assert "seed" not in promise.data
    played.quiet_turn()
    told = Fact.objects.in_force().get(kind="seed", turn=1)
    assert told.data["commitment"] == promise.data["commitment"]
    assert len(told.data["seed"]) == 64
    assert "seed" not in Fact.objects.in_force().get(kind="seed", turn=2).data


def test_ten_quiet_turns_keep_every_unit(played):
    for _ in range(10):
        played.quiet_turn()
    assert played.war().turn == 11
    assert Campaign.objects.get().ended_at is None
