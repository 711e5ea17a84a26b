from __future__ import annotations

import uuid

import pytest

from league.battles.models import Game
from league.battles.services.games import GameUnderWay
from league.campaigns.models import Clash, Fact, RollCall
from league.campaigns.queries.simulations import preview_of
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused
from league.campaigns.services.outcomes import accept_simulation, concede_battle, postpone_battle, tell_outcome
from league.campaigns.services.rolls import draw_rolls, enter_rolls
from league.campaigns.services.rulings import rule
from league.engines import war
from league.engines.fates import draw_rolls as drawn_from
from league.engines.war.dice import check, check_seeds
from league.errors import NotYoursToDo
from league.rosters.models import Engagement, Muster
from league.rosters.services.records import CasualtyLine
from tests.campaigns.play import begin
from tests.engines.war.world import UNFORGIVING


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


@pytest.fixture
def deadly(club, umpire, member, opponent):
    """The same war where whoever falls is lost."""
    return begin(club, umpire=umpire, commons=member, wardens=opponent, ruleset=UNFORGIVING)


def accept(played, battle):
    seen = preview_of(played.war(), battle.id).digest
    return accept_simulation(played.campaign, battle=battle.id, seen=seen, by=played.umpire)


def test_a_conceded_battle_moves_the_front_and_hurts_nobody(played):
    battle = played.meet()
    concede_battle(played.campaign, battle=battle.id, winner="commons", reason="Illness.", by=played.umpire)
    played.close()
    assert played.war().states[1].control["sedge"] == "commons"
    for force in ("pikes", "lancers"):
        by_war, by_roster = played.strength(force)
        assert by_war == by_roster == {unit.pk: 10 for unit in played.units(force)}


def test_a_battle_conceded_has_no_game_left_to_play(played):
    battle = played.meet()
    game = played.game(battle)
    concede_battle(played.campaign, battle=battle.id, winner="commons", reason="Illness.", by=played.umpire)
    assert Game.objects.get(pk=game.pk).cancelled_at is not None


def test_a_battle_that_was_reported_is_not_conceded(played):
    battle = played.meet()
    played.report(played.game(battle), winner="wardens")
    with pytest.raises((GameUnderWay, CampaignMovedOn)):
        concede_battle(played.campaign, battle=battle.id, winner="commons", reason="Illness.", by=played.umpire)


def test_somebody_who_took_no_part_cannot_have_won(played):
    battle = played.meet()
    with pytest.raises(CampaignRefused, match="took no part"):
        concede_battle(played.campaign, battle=battle.id, winner="nobody", reason="Illness.", by=played.umpire)


def test_a_simulated_battle_is_drawn_from_the_seed_that_was_promised(played):
    battle = played.meet()
    accept(played, battle)
    played.close()
    facts = played.war().facts
    assert [each.kept_word for each in check_seeds(facts)] == [True, None]
    assert {each.verdict for each in check(played.war().began, facts)} == {"right"}


def test_a_simulated_battle_stands_on_the_rosters_once_the_turn_is_over(played):
    battle = played.meet()
    accept(played, battle)
    assert not Engagement.objects.exists()
    played.close()
    assert Clash.objects.filter(campaign=played.campaign, battle=battle.id).count() == 2
    for force in ("pikes", "lancers"):
        by_war, by_roster = played.strength(force)
        assert by_war == by_roster


def test_what_is_accepted_is_what_was_seen(played):
    battle = played.meet()
    with pytest.raises(CampaignMovedOn):
        accept_simulation(played.campaign, battle=battle.id, seen="something else", by=played.umpire)
    assert not Fact.objects.filter(kind="outcome").exists()


def test_a_postponed_battle_keeps_its_game_for_the_next_turn(played):
    battle = played.meet()
    game = played.game(battle)
    postpone_battle(played.campaign, battle=battle.id, reason="The hall is shut.", by=played.umpire)
    played.close()
    assert played.game(played.battle()) == game
    played.orders("commons")
    played.orders("wardens")
    played.report(game, winner="wardens")
    played.close()
    assert played.war().states[2].control["sedge"] == "wardens"


def test_a_concession_can_be_taken_back_while_the_turn_is_open(played):
    battle = played.meet()
    concede_battle(played.campaign, battle=battle.id, winner="commons", reason="Illness.", by=played.umpire)
    postpone_battle(played.campaign, battle=battle.id, reason="They came after all.", by=played.umpire)
    assert played.battle().outcome is None
    played.close()
    assert "sedge" not in played.war().states[1].control


def test_the_umpire_tells_a_battle_that_was_fought_without_a_game(deadly):
    battle = deadly.meet()
    unit = deadly.units("lancers")[1]
    losses = {"lancers": [CasualtyLine(unit_id=unit.pk, figures_lost=3)]}
    tell_outcome(
        deadly.campaign, battle=battle.id, winner="commons", losses=losses, reason="At home.", by=deadly.umpire
    )
    deadly.close()
    by_war, by_roster = deadly.strength("lancers")
    assert by_war == by_roster
    assert by_roster[unit.pk] == 7


def test_more_dead_than_stood_there_are_refused_in_words(played):
    battle = played.meet()
    losses = {"lancers": [CasualtyLine(unit_id=played.units("lancers")[1].pk, figures_lost=11)]}
    with pytest.raises(CampaignRefused) as refused:
        tell_outcome(played.campaign, battle=battle.id, winner="", losses=losses, reason="-", by=played.umpire)
    assert [each.field for each in refused.value.violations] == ["forces.0"]


def test_players_resolve_nothing_themselves(played):
    battle = played.meet()
    for act in (
        lambda: concede_battle(played.campaign, battle=battle.id, winner="commons", reason="-", by=played.commons),
        lambda: postpone_battle(played.campaign, battle=battle.id, reason="-", by=played.commons),
        lambda: accept_simulation(played.campaign, battle=battle.id, seen="", by=played.commons),
        lambda: draw_rolls(played.campaign, turn=1, by=played.commons),
        lambda: rule(played.campaign, turn=1, reason="-", submission=uuid.uuid4(), by=played.commons),
    ):
        with pytest.raises(NotYoursToDo):
            act()


def test_dice_thrown_on_the_table_are_typed_in_once(played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("wardens", war.Move(force="lancers", roads=("toll",)))
    wanted = played.war().now.rolls_needed[0]
    first = enter_rolls(played.campaign, turn=1, label=wanted.label, results=[1] * wanted.count, by=played.umpire)
    again = enter_rolls(played.campaign, turn=1, label=wanted.label, results=[1] * wanted.count, by=played.umpire)
    assert first == again
    assert played.war().now.rolls_needed == ()


def test_dice_that_show_no_such_face_are_refused(played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("wardens", war.Move(force="lancers", roads=("toll",)))
    wanted = played.war().now.rolls_needed[0]
    with pytest.raises(CampaignRefused) as refused:
        enter_rolls(played.campaign, turn=1, label=wanted.label, results=[0, 99], by=played.umpire)
    assert len(refused.value.violations) >= 2


def test_drawn_dice_are_what_the_told_seed_gives(played):
    played.meet()
    played.close()
    seed = Fact.objects.in_force().get(kind="seed", turn=1).data["seed"]
    roll = Fact.objects.get(kind="roll").data
    assert tuple(roll["results"]) == drawn_from(seed, roll["label"], len(roll["results"]), roll["sides"])


def test_a_ruling_acts_and_says_why(played):
    effects = [war.SetControl(region="isle", faction="commons"), war.AwardPoints(faction="wardens", points=5)]
    name = uuid.uuid4()
    for _ in range(2):
        rule(played.campaign, turn=1, reason="Agreed at the table.", effects=effects, submission=name, by=played.umpire)
    now = played.war().now
    assert (now.control["isle"], now.points["wardens"]) == ("commons", 5)


def test_a_ruling_without_a_reason_or_about_nothing_there_is_refused_whole(played):
    effects = [war.SetControl(region="nowhere", faction="commons"), war.RemoveForce(force="nobody")]
    with pytest.raises(CampaignRefused) as refused:
        rule(played.campaign, turn=1, reason=" ", effects=effects, submission=uuid.uuid4(), by=played.umpire)
    assert {each.field for each in refused.value.violations} == {"reason", "effects.0", "effects.1"}
    assert not Fact.objects.filter(kind="ruling").exists()


def test_recruits_join_the_war_and_the_roster_alike(deadly):
    battle = deadly.meet()
    unit = deadly.units("lancers")[0]
    losses = {"lancers": [CasualtyLine(unit_id=unit.pk, figures_lost=6)]}
    tell_outcome(deadly.campaign, battle=battle.id, winner="wardens", losses=losses, reason="-", by=deadly.umpire)
    deadly.close()
    deadly.orders("commons")
    deadly.orders("wardens", war.Rebuild(force="lancers", replacements=(war.Replacement(unit_id=unit.pk, figures=4),)))
    deadly.close()
    by_war, by_roster = deadly.strength("lancers")
    assert by_war == by_roster
    assert by_roster[unit.pk] == 8
    assert RollCall.objects.filter(campaign=deadly.campaign, turn=2).count() == Muster.objects.count() == 1
