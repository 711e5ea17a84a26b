"""What to buy for a short night: on its page within a budget, and over the API."""

from __future__ import annotations

from uuid import uuid4

import pytest

from league.engines.kit.buy import buy
from league.stores.queries import plan_for
from league.stores.queries.buying import LeftShort, Shopping, shopping_for
from league.stores.services.kinds import add_kind, offer_pack
from tests.stores.test_pages_night import BAG, TOKENS, at, game, html, rosters, ruleset  # noqa: F401 - fixtures

pytestmark = pytest.mark.django_db


@pytest.fixture
def packs(club, game, organiser, quartermaster):  # noqa: F811 - the fixture of that name
    """Tokens in tens for £3 and in forties for £8; a bag for £5. Two tokens for each side, told apart by their colour, and a
    bag are missing."""
    tokens = add_kind(club, facts=TOKENS, submission=uuid4(), by=organiser)
    bag = add_kind(club, facts=BAG, submission=uuid4(), by=organiser)
    return {
        "ten": offer_pack(tokens, pieces=10, price_pence=300, note="market", by=quartermaster),
        "forty": offer_pack(tokens, pieces=40, price_pence=800, by=quartermaster),
        "bag": offer_pack(bag, pieces=1, price_pence=500, by=quartermaster),
    }


def bought(shopping) -> dict[str, int]:
    return {f"{line.kind.name} {line.offer.pieces}": line.bought.packs for line in shopping.lines}


def test_the_cheapest_packs_that_are_enough_are_bought(night, packs):
    shopping = shopping_for(plan_for(night))
    assert bought(shopping) == {"Activation token 10": 2, "Draw bag 1": 1}
    assert (shopping.purchase.cost_pence, shopping.purchase.proven) == (1100, True)
    assert {each.why for each in shopping.left} == {"No pack that is noted would serve."}


def test_within_a_budget_as_few_pieces_are_left_missing_as_can_be(night, packs):
    """£4 buy the tokens of one side, two pieces, and not the bag, one."""
    shopping = shopping_for(plan_for(night), budget_pence=400)
    assert bought(shopping) == {"Activation token 10": 1}
    assert [each.count for each in shopping.left if each.name.startswith("Activation tokens")] == [2]
    assert any(each.why.startswith("Within the budget") for each in shopping.left)


def test_the_page_says_what_to_buy_and_for_how_much(club, night, packs, browse, organiser):
    page = html(browse(organiser).get(at("night-kit", club, night=night.pk)))
    assert "For £11.00 in all" in page
    assert "10 for £3.00" in page and "16 left over" in page
    assert "2 packs would serve; no choice leaves less missing, or as little for less money." in page
    assert "1 in colour A and 1 in colour B." in page


def test_the_page_keeps_within_the_budget_that_was_typed(club, night, packs, browse, organiser):
    page = html(browse(organiser).get(at("night-kit", club, night=night.pk), {"budget": "4"}))
    assert "For £3.00 in all" in page
    assert 'value="4"' in page


def test_a_budget_that_is_none_is_said_so_and_kept(club, night, packs, browse, organiser):
    answer = browse(organiser).get(at("night-kit", club, night=night.pk), {"budget": "a fiver"})
    page = html(answer)
    assert answer.status_code == 200
    assert 'type="text" name="budget" value="a fiver"' in page
    assert "Enter pounds and pence, such as 12.50." in page


@pytest.mark.parametrize("typed", ["£4", " 4.00 ", "£ 4"])
def test_a_budget_is_read_as_people_write_it(club, night, packs, browse, organiser, typed):
    page = html(browse(organiser).get(at("night-kit", club, night=night.pk), {"budget": typed}))
    assert "For £3.00 in all" in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("-1", "Enter nothing or more"),
        ("4.005", "Ensure that there are no more than 2 decimal places."),
        ("NaN", "Enter pounds and pence"),
        ("9999999999", "Ensure that there are no more than 7 digits in total."),
    ],
)
def test_a_budget_that_cannot_be_is_named(club, night, packs, browse, organiser, typed, said):
    answer = browse(organiser).get(at("night-kit", club, night=night.pk), {"budget": typed})
    assert answer.status_code == 200
    assert said in html(answer) and f'value="{typed}"' in html(answer)


def test_what_stays_missing_is_told_once_for_all_tables_that_lack_it_for_one_reason():
    left = [
        ("Dice", "Table 1", 2, "Too dear."),
        ("Dice", "Table 2", 3, "Too dear."),
        ("Dice", "Table 2", 1, "None sold."),
    ]
    shopping = Shopping(
        purchase=buy([], []),
        lines=(),
        left=tuple(LeftShort(name=name, table=table, count=count, why=why) for name, table, count, why in left),
        has_packs=True,
    )
    told = [(each.name, each.count, each.tables, each.why) for each in shopping.still_short]
    assert told == [("Dice", 5, ("Table 1", "Table 2"), "Too dear."), ("Dice", 1, ("Table 2",), "None sold.")]


def test_the_list_over_the_api(night, packs, call, member):
    at_night = f"/api/v1/clubs/weir-street/nights/{night.pk}/kit/shopping/"
    told = call(member).get(at_night, {"budget_pence": 400}).json()
    assert (told["cost_pence"], told["budget_pence"], told["is_proven"]) == (300, 400, True)
    assert [(each["name"], each["packs"], each["over"]) for each in told["lines"]] == [("Activation token", 1, 8)]
    assert all(each["why"] for each in told["lines"])
    assert call(member).get(at_night, {"budget_pence": -1}).status_code == 400


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_takes_the_same_queries_however_many_packs_are_noted(
    club,
    night,
    packs,
    browse,
    organiser,
    quartermaster,
    count,
    django_assert_num_queries,
):
    for number in range(count):
        offer_pack(packs["bag"].kind, pieces=number + 2, price_pence=900, by=quartermaster)
    client = browse(organiser)
    address = at("night-kit", club, night=night.pk)
    client.get(address)
    with django_assert_num_queries(23):
        client.get(address)
