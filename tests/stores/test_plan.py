"""What a night needs, and who brings what."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.cache import cache

from league.battles.services.games import SidePlan, plan_game, start_game
from league.clubs.services.nights import answer_night, cancel_night
from league.rosters.services.facts import UnitFacts
from league.rosters.services.rosters import create_roster
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.stores.models import Promise
from league.stores.queries import packing_lists, plan_for, shortfalls, table_lists
from league.stores.queries import plan as plan_module
from league.stores.queries.tonight import key_of
from league.stores.services.kinds import KindFacts, add_kind
from league.stores.services.loans import lend
from league.stores.services.promises import mark_packed, promise_to_bring, say_carrying
from tests import factories

pytestmark = pytest.mark.django_db
UNITS = [
    UnitFacts(name="Leader", unit_class="leader", figures=2, points=50),
    UnitFacts(name="Red Company", unit_class="line", figures=10, points=80, gear=("muskets",)),
    UnitFacts(name="Ochre Company", unit_class="line", figures=10, points=80, gear=("muskets",)),
]


@pytest.fixture
def dice(club, organiser):
    facts = KindFacts(name="Six-sided die", category="die", sides=6, bulk_ml=5)
    return add_kind(club, facts=facts, submission=uuid4(), by=organiser)


@pytest.fixture
def ruleset(club, organiser):
    """With nothing that stands in, so that each need is met by its own kind or not at all."""
    document = shipped_documents()["ferry_skirmish"]
    document["kit"]["stand_ins"] = []
    return create_ruleset(club, document=document, by=organiser)


@pytest.fixture
def play(club, ruleset, night, organiser):
    """`play(one, other)`: a game of the night between two members, with a roster each."""

    def played(*members):
        sides = []
        for who in members:
            roster = create_roster(
                club, owner=who, ruleset=ruleset, name=f"{who.name}'s", units=UNITS, submission=uuid4(), by=who
            )
            sides.append(SidePlan(member_ids=[who.pk], roster_id=roster.pk))
        return plan_game(
            club,
            edition=current_edition(ruleset),
            scenario="",
            on=night.on,
            night=night,
            sides=sides,
            submission=uuid4(),
            by=organiser,
        )

    return played


@pytest.fixture
def game(play, member, opponent):
    return play(member, opponent)


@pytest.fixture
def come(night):
    def comes(*members):
        for who in members:
            answer_night(night, member=who, answer="coming", by=who)

    return comes


def needed(planned, need):
    return {each.side: each.demand.count for each in planned.asked if each.need == need}


def missing(planned, need):
    return sum(each.shortfall.missing for each in shortfalls(planned) if each.asked.need == need)


def brought(planned):
    """(who, what, how many) of the packing lists."""
    return [(each.name, line.name, line.count) for each in packing_lists(planned) for line in each.lines]


def test_needs_come_from_the_rosters_of_the_games(night, game):
    planned = plan_for(night)
    assert needed(planned, "activation") == {"1": 3, "2": 3}
    assert needed(planned, "dice") == {"": 10}


def test_a_game_that_has_begun_is_counted_from_its_snapshot(night, game, organiser):
    start_game(game, by=organiser)
    assert needed(plan_for(night), "activation") == {"1": 3, "2": 3}


def test_a_cancelled_game_needs_nothing(night, game):
    type(game).objects.filter(pk=game.pk).update(cancelled_at=factories.clubs.LONG_AGO)
    assert plan_for(night).tables == ()


def test_a_side_without_a_roster_is_named_as_unknown(night, club, ruleset, member, opponent, organiser):
    plan_game(
        club,
        edition=current_edition(ruleset),
        scenario="",
        on=night.on,
        night=night,
        sides=[SidePlan(member_ids=[member.pk]), SidePlan(member_ids=[opponent.pk])],
        submission=uuid4(),
        by=organiser,
    )
    [table] = plan_for(night).tables
    assert table.lacks == ("Brannoc", "Ceriden")


def test_a_player_brings_their_own_to_their_own_table(night, game, dice, write_down, member, come):
    write_down(member, 12, of=dice)
    come(member)
    planned = plan_for(night)
    assert (brought(planned), missing(planned, "dice")) == ([("Brannoc", "Six-sided die", 10)], 0)


def test_who_does_not_come_brings_nothing(night, game, dice, write_down, member, opponent, come):
    write_down(member, 12, of=dice)
    come(opponent)
    planned = plan_for(night)
    assert (brought(planned), missing(planned, "dice")) == ([], 10)


def test_what_is_kept_for_own_use_stays_at_home(night, game, dice, write_down, member, come):
    write_down(member, 12, of=dice, kept=8)
    come(member)
    assert missing(plan_for(night), "dice") == 6


def test_the_club_s_kit_at_the_venue_is_carried_by_nobody(night, game, dice, write_down, quartermaster):
    write_down(None, 30, of=dice, by=quartermaster, venue=night.venue)
    planned = plan_for(night)
    assert (brought(planned), missing(planned, "dice")) == ([], 0)


def test_the_club_s_kit_at_another_venue_or_with_somebody_away_is_not_there(
    night, club, game, dice, write_down, quartermaster, umpire
):
    write_down(None, 30, of=dice, by=quartermaster, venue=factories.VenueFactory(club=club))
    write_down(None, 30, of=dice, by=quartermaster, keeper=umpire)
    assert missing(plan_for(night), "dice") == 10


def test_who_keeps_the_club_s_kit_brings_it(night, game, dice, write_down, quartermaster, umpire, come):
    write_down(None, 30, of=dice, by=quartermaster, keeper=umpire)
    come(umpire)
    assert brought(plan_for(night)) == [("Ulmar", "Six-sided die", 10)]


def test_a_borrower_brings_what_they_borrowed(night, game, dice, write_down, member, opponent, umpire, soon, come):
    lend(
        write_down(member, 12, of=dice),
        borrower=umpire,
        count=10,
        due_on=soon + timedelta(days=1),
        submission=uuid4(),
        by=member,
    )
    come(umpire)
    assert brought(plan_for(night)) == [("Ulmar", "Six-sided die", 10)]


def test_what_is_private_is_planned_only_as_far_as_it_is_promised(night, game, dice, write_down, member, come):
    hidden = write_down(member, 12, of=dice, is_private=True)
    come(member)
    assert missing(plan_for(night), "dice") == 10
    promise_to_bring(hidden, night=night, count=4, submission=uuid4(), by=member)
    assert missing(plan_for(night), "dice") == 6


def test_what_is_promised_for_the_night_is_there_for_it(night, game, dice, write_down, member, come):
    promise_to_bring(write_down(member, 12, of=dice), night=night, count=12, submission=uuid4(), by=member)
    come(member)
    assert missing(plan_for(night), "dice") == 0


def test_what_is_promised_elsewhere_that_day_is_not(night, club, game, dice, write_down, member, come):
    beside = factories.NightFactory(club=club, on=night.on)
    promise_to_bring(write_down(member, 12, of=dice), night=beside, count=8, submission=uuid4(), by=member)
    come(member)
    assert missing(plan_for(night), "dice") == 6


def test_nobody_is_asked_over_what_they_can_carry_where_another_can(
    night, game, dice, write_down, umpire, quartermaster, come
):
    heavy = KindFacts(name="Large die", category="die", sides=6, bulk_ml=500)
    large = add_kind(night.club, facts=heavy, submission=uuid4(), by=umpire)
    for who in (umpire, quartermaster):
        write_down(who, 12, of=large)
    come(umpire, quartermaster)
    say_carrying(night, room="pocket", by=umpire)
    assert brought(plan_for(night)) == [("Quenna", "Large die", 10)]


def test_what_is_packed_stays_packed(night, game, dice, write_down, member, umpire, come):
    """Without the packing Brannoc, who plays at the table, would bring them."""
    write_down(member, 12, of=dice)
    packed = promise_to_bring(
        write_down(umpire, 12, of=dice), night=night, count=10, games={game.pk: 10}, submission=uuid4(), by=umpire
    )
    come(member, umpire)
    assert brought(plan_for(night)) == [("Brannoc", "Six-sided die", 10), ("Ulmar", "Six-sided die", 0)]
    mark_packed(packed, by=umpire)
    assert brought(plan_for(night)) == [("Ulmar", "Six-sided die", 10)]


def test_a_line_of_the_list_can_be_promised_as_it_is(night, game, dice, write_down, member, come):
    write_down(member, 12, of=dice)
    come(member)
    [mine] = packing_lists(plan_for(night))
    [line] = mine.lines
    promise_to_bring(
        line.at_hand.holding, night=night, count=line.count, games=line.games, submission=uuid4(), by=member
    )
    assert list(Promise.objects.get().tables.values_list("game", "count")) == [(game.pk, 10)]
    [mine] = packing_lists(plan_for(night))
    assert (mine.lines[0].promise, mine.bulk_ml) == (Promise.objects.get(), 50)


def test_a_table_s_list_says_how_each_need_is_met(night, game, dice, write_down, member, come):
    write_down(member, 6, of=dice)
    come(member)
    [table] = table_lists(plan_for(night))
    met = next(each for each in table.met if each.asked.need == "dice")
    assert (table.table.key, [line.count for line in met.lines], met.missing) == (key_of(game.pk), [6], 4)


def test_a_shortfall_is_proven_in_words(night, game):
    short = next(each for each in shortfalls(plan_for(night)) if each.asked.need == "dice")
    assert "10 of 10 missing" in short.shortfall.words
    assert short.shortfall.count is not None


def test_a_plan_is_not_reckoned_twice(night, game, member, come, plans_reckoned):
    come(member)
    plan_for(night)
    plan_for(night)
    assert plans_reckoned() == 1


def test_another_answer_is_another_plan(night, game, dice, write_down, member, come):
    write_down(member, 12, of=dice)
    assert missing(plan_for(night), "dice") == 10
    come(member)
    assert missing(plan_for(night), "dice") == 0


def test_a_cancelled_night_can_still_be_looked_at(night, game, organiser):
    cancel_night(night, by=organiser)
    assert len(plan_for(night).tables) == 1


@pytest.fixture
def plans_reckoned(monkeypatch):
    """How often a plan was reckoned."""
    cache.clear()
    times = []
    reckon = plan_module.plan_night
    monkeypatch.setattr(plan_module, "plan_night", lambda *given, **more: times.append(1) or reckon(*given, **more))
    return lambda: len(times)


@pytest.mark.parametrize("games", [1, 3])
def test_it_takes_the_same_queries_for_one_game_and_three(
    games, club, night, play, dice, write_down, soon, come, django_assert_num_queries
):
    for number in range(games):
        one, other = (factories.MemberFactory(club=club, name=f"P{number}{side}") for side in "ab")
        play(one, other)
        holding = write_down(one, 12, of=dice)
        lend(holding, borrower=other, count=2, due_on=soon, submission=uuid4(), by=one)
        promise_to_bring(holding, night=night, count=2, submission=uuid4(), by=one)
        come(one, other)
    with django_assert_num_queries(17):
        planned = plan_for(night)
        packing_lists(planned)
        table_lists(planned)
        shortfalls(planned)
