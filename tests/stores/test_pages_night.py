"""The pages of a night's kit: what is missing and why, who brings what, and how it is promised, packed and printed."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.urls import reverse

from league.battles.services.games import SidePlan, plan_game
from league.clubs.services.nights import answer_night
from league.rosters.services.facts import UnitFacts
from league.rosters.services.rosters import create_roster
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.stores.models import Carrying, Promise
from league.stores.services.kinds import KindFacts, add_kind, offer_pack
from league.stores.services.promises import mark_packed, promise_to_bring

pytestmark = pytest.mark.django_db
NEEDS = {"activation", "draw_bag", "short_stick"}
TOKENS = KindFacts(name="Activation token", category="token", use="activation", cautions=("small_parts",), bulk_ml=1)
BAG = KindFacts(name="Draw bag", category="bag", bulk_ml=200)


def at(name, club, **kwargs):
    return reverse(name, kwargs={"club": club.slug, **kwargs})


def html(answer):
    return answer.content.decode()


@pytest.fixture
def ruleset(club, organiser):
    """Tokens told apart, a bag, and a stick that can be printed; nothing stands in but dice for tokens."""
    document = shipped_documents()["ferry_skirmish"]
    document["kit"]["needs"] = [each for each in document["kit"]["needs"] if each["key"] in NEEDS]
    document["kit"]["stand_ins"] = [{"need": "activation", "piece": {"category": "die"}, "note": "Dice of one colour"}]
    return create_ruleset(club, document=document, by=organiser)


@pytest.fixture
def rosters(club, ruleset, member, opponent):
    units = [UnitFacts(name=name, unit_class="line", figures=10, points=80) for name in ("Red", "Ochre")]
    return {
        who.pk: create_roster(
            club, owner=who, ruleset=ruleset, name=f"{who.name}'s", units=units, submission=uuid4(), by=who
        )
        for who in (member, opponent)
    }


@pytest.fixture
def game(club, ruleset, rosters, night, organiser, member, opponent):
    """Two units on each side: two tokens each, a bag and a stick."""
    sides = [SidePlan(member_ids=[who.pk], roster_id=rosters[who.pk].pk) for who in (member, opponent)]
    for who in (member, opponent):
        answer_night(night, member=who, answer="coming", by=who)
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


@pytest.fixture
def green(club, game, write_down, member, organiser):
    """Enough tokens of Brannoc's for one side, in one colour."""
    tokens = add_kind(club, facts=TOKENS, submission=uuid4(), by=organiser)
    return write_down(member, 6, of=tokens, colour="green")


@pytest.fixture
def kit_page(club, night, browse):
    def read(who):
        return html(browse(who).get(at("night-kit", club, night=night.pk)))

    return read


def test_a_night_without_games_needs_nothing(night, organiser, kit_page):
    assert "nothing is needed" in kit_page(organiser)


def test_what_is_missing_is_said_with_how_much_where_and_the_proof(game, organiser, kit_page):
    page = kit_page(organiser)
    assert "cannot do without is missing" in page
    assert "Opaque bag to draw from" in page
    assert "nobody who comes has anything that could serve" in page


def test_what_can_be_printed_is_said_so(game, organiser, kit_page):
    assert "can be printed" in kit_page(organiser)


def test_what_can_be_made_or_bought_is_told_with_how_and_in_which_packs(club, game, organiser, quartermaster, kit_page):
    stick = KindFacts(name="Stick", category="ruler", sizes_mm=(305,), can_be_made=True, how_made="Printed on card.")
    kind = add_kind(club, facts=stick, submission=uuid4(), by=organiser)
    offer_pack(kind, pieces=2, price_pence=340, note="market", by=quartermaster)
    page = kit_page(organiser)
    assert "Printed on card." in page
    assert "2 for £3.40" in page


def test_every_need_tells_its_reasons(game, organiser, kit_page):
    assert "2 units" in kit_page(organiser)


def test_the_plan_heals_when_somebody_writes_a_spare_down(
    club, game, green, write_down, opponent, organiser, kit_page, browse
):
    assert "Opaque bag to draw from</td>" in kit_page(organiser)
    bag = add_kind(club, facts=BAG, submission=uuid4(), by=organiser)
    said = {"submission": uuid4(), "kind": bag.pk, "count": 1, "condition": "good"}
    browse(opponent).post(at("holding-new", club), said)
    page = kit_page(organiser)
    assert "Opaque bag to draw from</td>" not in page
    assert "1 × Draw bag" in page


def test_what_stands_in_is_said_with_what_for(club, game, green, write_down, opponent, organiser, kit_page):
    die = add_kind(club, facts=KindFacts(name="Die", category="die", sides=6), submission=uuid4(), by=organiser)
    write_down(opponent, 4, of=die, colour="white")
    assert "Stands in for Activation tokens" in kit_page(organiser)


def test_a_side_without_a_roster_is_named(game, organiser, kit_page):
    game.sides.filter(position=2).update(roster=None)
    assert "Which roster Ceriden fields is not known" in kit_page(organiser)


def test_somebody_who_did_not_say_they_come_is_told_so(game, quartermaster, kit_page):
    assert "You have not said that you come" in kit_page(quartermaster)


def test_one_press_promises_all_that_the_plan_asks(club, night, green, member, browse):
    client = browse(member)
    page = html(client.get(at("packing", club, night=night.pk, member=member.pk)))
    assert "asked by the plan" in page
    client.post(at("take-part", club, night=night.pk), {"submission": uuid4()})
    assert Promise.objects.get(member=member).holding == green
    page = html(client.get(at("packing", club, night=night.pk, member=member.pk)))
    assert "promised" in page
    assert "I bring all of it" not in page


def test_packed_and_unpacked_are_one_press_each(club, night, green, member, browse):
    promise = promise_to_bring(green, night=night, count=2, submission=uuid4(), by=member)
    client = browse(member)
    answer = client.post(at("promise-pack", club, night=night.pk, pk=promise.pk))
    assert answer.headers["Location"] == at("packing", club, night=night.pk, member=member.pk)
    promise.refresh_from_db()
    assert promise.packed_at is not None
    client.post(at("promise-unpack", club, night=night.pk, pk=promise.pk))
    promise.refresh_from_db()
    assert promise.packed_at is None


def test_a_promise_is_taken_back(club, night, green, member, browse):
    promise = promise_to_bring(green, night=night, count=2, submission=uuid4(), by=member)
    browse(member).post(at("promise-withdraw", club, night=night.pk, pk=promise.pk))
    promise.refresh_from_db()
    assert promise.withdrawn_at is not None


def test_more_than_is_free_is_not_promised(club, night, green, member, browse):
    said = {"submission": uuid4(), "count": 7}
    answer = browse(member).post(at("promise-new", club, night=night.pk, holding=green.pk), said)
    assert answer.status_code == 422
    assert "Only 6 of these are free" in html(answer)


def test_when_somebody_who_packed_drops_out_the_page_says_that_the_plan_moved(
    night, green, member, organiser, kit_page
):
    promise = promise_to_bring(green, night=night, count=2, submission=uuid4(), by=member)
    mark_packed(promise, by=member)
    assert "The plan has moved" not in kit_page(organiser)
    answer_night(night, member=member, answer="away", by=member)
    page = kit_page(organiser)
    assert "The plan has moved" in page
    assert "Brannoc is not coming and had promised 2" in page


def test_what_one_can_carry_is_one_tap(club, night, member, browse, kit_page):
    browse(member).post(at("carry", club, night=night.pk), {"room": "bag"})
    assert Carrying.objects.get(night=night, member=member).room == "bag"
    assert 'value="bag" aria-pressed="true"' in kit_page(member)


def test_the_packing_list_warns_of_small_parts_and_has_boxes_to_tick(club, night, green, member, browse):
    page = html(browse(member).get(at("packing", club, night=night.pk, member=member.pk)))
    assert "can choke a small child" in page
    assert 'class="tick print-only"' in page


def test_a_packing_list_is_for_its_member_and_those_who_keep_the_stores(
    club, night, green, member, opponent, quartermaster, organiser, browse
):
    address = at("packing", club, night=night.pk, member=member.pk)
    got = [browse(who).get(address).status_code for who in (member, organiser, quartermaster, opponent)]
    assert got == [200, 200, 200, 403]


def test_ones_own_list_is_found_without_knowing_ones_number(club, night, member, browse):
    answer = browse(member).get(at("packing-mine", club, night=night.pk))
    assert answer.headers["Location"] == at("packing", club, night=night.pk, member=member.pk)


def test_the_sheets_tell_table_by_table_what_comes_from_where(club, night, green, organiser, browse):
    page = html(browse(organiser).get(at("kit-tables", club, night=night.pk)))
    assert "Brannoc against Ceriden" in page
    assert "2 × Activation token, green" in page
    assert "1 missing" in page


def test_a_first_game_is_sorted_from_what_one_has_to_what_is_bought(club, rosters, green, opponent, member, browse):
    mine = html(browse(member).get(at("roster-kit", club, pk=rosters[member.pk].pk)))
    assert "You have it" in mine
    theirs = html(browse(opponent).get(at("roster-kit", club, pk=rosters[opponent.pk].pk)))
    headings = ["A club mate can lend it", "Print it", "Buy it, last of all"]
    places = [theirs.index(each) for each in headings]
    assert places == sorted(places)
    assert at("loan-new", club, pk=green.pk) in theirs


@pytest.mark.parametrize("number", [1, 3])
def test_the_nights_page_takes_the_same_queries_for_any_number_of_promises(
    number, club, night, game, write_down, member, organiser, browse, django_assert_num_queries
):
    for index in range(number):
        holding = write_down(member, 3, colour=f"shade {index}")
        promise_to_bring(holding, night=night, count=1, submission=uuid4(), by=member)
    client = browse(organiser)
    client.get(at("night-kit", club, night=night.pk))
    with django_assert_num_queries(25):
        client.get(at("night-kit", club, night=night.pk))
