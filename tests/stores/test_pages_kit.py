"""The pages of the stores: what they show, what a press does, what is kept when refused."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from league.stores.models import Holding, ItemKind, Loan, LoanState, Movement, PackOffer
from league.stores.services.loans import ask_for, lend
from league.stores.services.movements import book_movement
from tests import factories

pytestmark = pytest.mark.django_db


def at(name, club, **kwargs):
    return reverse(name, kwargs={"club": club.slug, **kwargs})


def html(answer):
    return answer.content.decode()


def state_of(loan):
    return Loan.objects.with_state().get(pk=loan.pk).state


def held(holding):
    return Holding.objects.with_balance().get(pk=holding.pk).held


# --- spares ----------------------------------------------------------------------------------------------------


def test_the_front_page_asks_who_has_spare(club, member, browse):
    page = html(browse(member).get(at("club", club)))
    assert f'action="{at("kit", club)}"' in page
    assert 'name="q"' in page


def test_the_search_says_what_whose_how_many_and_where(club, red, opponent, browse):
    page = html(browse(opponent).get(at("kit", club), {"q": "red markers"}))
    assert "Suppression marker" in page
    assert "Brannoc" in page
    assert at("loan-new", club, pk=red.pk) in page


def test_nobody_is_offered_to_borrow_their_own(club, red, member, browse):
    page = html(browse(member).get(at("kit", club), {"q": "red markers"}))
    assert "yours" in page
    assert at("loan-new", club, pk=red.pk) not in page


def test_a_word_that_names_nothing_is_said_back(club, red, member, browse):
    assert "called: zeppelin" in html(browse(member).get(at("kit", club), {"q": "red zeppelin"}))


def test_a_day_that_is_no_day_is_said_so_and_finds_nothing(club, red, member, browse):
    answer = browse(member).get(at("kit", club), {"q": "red", "on": "someday"})
    assert answer.status_code == 200
    assert "Suppression marker" not in html(answer)


def test_a_request_from_a_search_for_a_day_begins_with_that_day(club, red, opponent, soon, browse):
    page = html(browse(opponent).get(at("kit", club), {"q": "red", "on": soon.isoformat()}))
    assert f"?due_on={soon.isoformat()}" in page


# --- holdings --------------------------------------------------------------------------------------------------


def test_kit_is_written_down_with_four_answers(club, kind, member, browse):
    said = {
        "submission": uuid4(),
        "kind": kind.pk,
        "count": 12,
        "colour": "grey",
        "place": "red tin",
        "condition": "good",
    }
    answer = browse(member).post(at("holding-new", club), said)
    assert answer.headers["Location"] == at("my-kit", club)
    holding = Holding.objects.get()
    assert (holding.owner, holding.colour, holding.place, held(holding)) == (member, "grey", "red tin", 12)


def test_a_double_tap_writes_kit_down_once(club, kind, member, browse):
    said = {"submission": uuid4(), "kind": kind.pk, "count": 12, "condition": "good"}
    for _tap in range(2):
        browse(member).post(at("holding-new", club), said)
    assert Holding.objects.count() == 1


def test_what_was_typed_stays_when_it_is_refused(club, kind, member, browse):
    said = {"submission": uuid4(), "kind": kind.pk, "count": 0, "colour": "grey", "condition": "good"}
    answer = browse(member).post(at("holding-new", club), said)
    assert answer.status_code == 422
    assert 'value="grey"' in html(answer)
    assert not Holding.objects.exists()


def test_only_those_who_keep_the_stores_are_asked_whose_it_is(club, kind, member, quartermaster, browse):
    assert 'name="owner"' not in html(browse(member).get(at("holding-new", club)))
    assert 'name="owner"' in html(browse(quartermaster).get(at("holding-new", club)))


def test_a_quartermaster_writes_down_what_is_the_clubs(club, kind, quartermaster, browse):
    said = {"submission": uuid4(), "kind": kind.pk, "count": 3, "owner": "", "condition": "good"}
    answer = browse(quartermaster).post(at("holding-new", club), said)
    assert answer.headers["Location"] == at("club-kit", club)
    assert Holding.objects.get().owner is None


def test_the_record_shows_every_line_with_what_there_was_after_it(club, red, member, browse):
    book_movement(red, act="lost", count=2, reason="Under the stove.", submission=uuid4(), by=member)
    page = html(browse(member).get(at("holding", club, pk=red.pk)))
    assert "Under the stove." in page
    assert "\N{MINUS SIGN}2" in page
    assert "+12" in page


@pytest.mark.parametrize(("act", "left"), [("bought", 15), ("made", 15), ("received", 15), ("lost", 9), ("given", 9)])
def test_what_came_and_went_is_booked_by_one_number(act, left, club, red, member, browse):
    browse(member).post(at("holding-book", club, pk=red.pk, act=act), {"submission": uuid4(), "count": 3})
    assert held(red) == left


def test_more_than_lie_there_cannot_be_lost(club, lent, red, member, browse):
    answer = browse(member).post(at("holding-book", club, pk=red.pk, act="lost"), {"submission": uuid4(), "count": 9})
    assert answer.status_code == 422
    assert "Only 8 lie there" in html(answer)


@pytest.mark.parametrize("act", ["lent", "counted", "nonsense"])
def test_a_loan_or_a_count_is_not_booked_by_hand(act, club, red, member, browse):
    assert browse(member).get(at("holding-book", club, pk=red.pk, act=act)).status_code == 404


def test_describing_it_anew_changes_no_number(club, red, member, browse):
    said = {"colour": "crimson", "condition": "worn", "kept": 1}
    browse(member).post(at("holding-edit", club, pk=red.pk), said)
    red.refresh_from_db()
    assert (red.colour, red.condition, red.kept, held(red)) == ("crimson", "worn", 1, 12)


def test_handing_the_clubs_kit_on_says_who_has_it_now(club, write_down, quartermaster, opponent, browse):
    mats = write_down(None, 2, by=quartermaster, colour="green")
    browse(quartermaster).post(at("holding-move", club, pk=mats.pk), {"keeper": opponent.pk, "place": "attic"})
    mats.refresh_from_db()
    assert (mats.keeper, mats.place, mats.colour) == (opponent, "attic", "green")


def test_what_its_owner_keeps_to_themselves_is_there_for_nobody_else(club, write_down, member, opponent, browse):
    hidden = write_down(member, 3, is_private=True)
    assert browse(member).get(at("holding", club, pk=hidden.pk)).status_code == 200
    assert browse(opponent).get(at("holding", club, pk=hidden.pk)).status_code == 404
    assert "Suppression" not in html(browse(opponent).get(at("member-kit", club, member=member.pk)))


def test_what_is_put_away_is_taken_out_again(club, red, member, browse):
    browse(member).post(at("holding-retire", club, pk=red.pk))
    assert "Suppression" not in html(browse(member).get(at("my-kit", club)))
    browse(member).post(at("holding-bring-back", club, pk=red.pk))
    assert "Suppression" in html(browse(member).get(at("my-kit", club)))


# --- cautions --------------------------------------------------------------------------------------------------


def test_cautions_stand_wherever_the_thing_changes_hands(club, kind, red, lent, opponent, browse):
    pages = [
        at("kind", club, pk=kind.pk),
        at("holding", club, pk=red.pk),
        at("loan-new", club, pk=red.pk),
        at("loan", club, pk=lent.pk),
        at("count", club, label=red.label),
    ]
    for address in pages:
        page = html(browse(opponent).get(address))
        assert "can choke a small child" in page, address
        assert "the law of the place go before this" in page, address


# --- kinds -----------------------------------------------------------------------------------------------------


def test_a_kind_is_described_with_sizes_as_people_type_them(club, member, browse):
    said = {
        "submission": uuid4(),
        "name": "Nested circles",
        "category": "template",
        "sizes_mm": "1, 2, 3 and 4 in",
        "cautions": ["knife"],
    }
    answer = browse(member).post(at("kind-new", club), said)
    kind = ItemKind.objects.get()
    assert answer.headers["Location"] == at("kind", club, pk=kind.pk)
    assert (kind.sizes_mm, kind.cautions) == ([25, 51, 76, 102], ["knife"])


def test_sizes_without_a_unit_are_sent_back(club, member, browse):
    said = {"submission": uuid4(), "name": "Stick", "category": "ruler", "sizes_mm": "36"}
    answer = browse(member).post(at("kind-new", club), said)
    assert answer.status_code == 422
    assert "Say the unit as well" in html(answer)


def test_a_pack_is_noted_in_pounds_and_struck_out(club, kind, quartermaster, browse):
    browse(quartermaster).post(
        at("offer-new", club, pk=kind.pk), {"pieces": 20, "price_pence": "4.50", "note": "market"}
    )
    offer = PackOffer.objects.get()
    assert offer.price_pence == 450
    assert "£4.50" in html(browse(quartermaster).get(at("kind", club, pk=kind.pk)))
    browse(quartermaster).post(at("offer-withdraw", club, pk=kind.pk, offer=offer.pk))
    assert "£4.50" not in html(browse(quartermaster).get(at("kind", club, pk=kind.pk)))


# --- loans -----------------------------------------------------------------------------------------------------


def test_a_loan_goes_from_asked_to_all_back_by_one_press_each(club, red, member, opponent, soon, browse):
    mine, theirs = browse(member), browse(opponent)
    theirs.post(at("loan-new", club, pk=red.pk), {"submission": uuid4(), "count": 4, "due_on": soon.isoformat()})
    loan = Loan.objects.get()
    assert "Ceriden asks for 4" in html(mine.get(at("loans", club)))
    for button in ("loan-agree", "loan-hand-over"):
        mine.post(at(button, club, pk=loan.pk))
    assert state_of(loan) == LoanState.OUT
    mine.post(at("loan-back", club, pk=loan.pk), {"submission": uuid4(), "count": 1})
    assert "3 of them still out" in html(mine.get(at("loan", club, pk=loan.pk)))
    mine.post(at("loan-back", club, pk=loan.pk), {"submission": uuid4(), "count": 3})
    assert state_of(loan) == LoanState.BACK


def test_more_than_is_spare_is_not_asked_for(club, red, opponent, soon, browse):
    said = {"submission": uuid4(), "count": 11, "due_on": soon.isoformat()}
    answer = browse(opponent).post(at("loan-new", club, pk=red.pk), said)
    assert answer.status_code == 422
    assert "Only 10 of these are spare" in html(answer)


def test_a_refusal_of_a_button_is_shown_on_the_page(club, red, member, opponent, soon, browse):
    loan = ask_for(red, count=2, due_on=soon, submission=uuid4(), by=opponent)
    page = browse(member).post(at("loan-hand-over", club, pk=loan.pk), follow=True)
    assert "Agree to lend it first." in html(page)


def test_what_is_overdue_stands_first_and_is_reminded_of(club, lent, today, member, opponent, mailoutbox, browse):
    Loan.objects.filter(pk=lent.pk).update(due_on=today - timedelta(days=9))
    assert "1 loan is overdue" in html(browse(member).get(at("loans", club)))
    assert "overdue" in html(browse(opponent).get(at("loans", club)))
    browse(member).post(at("loan-remind", club, pk=lent.pk))
    assert "Last reminded on" in html(browse(member).get(at("loan", club, pk=lent.pk)))


def test_some_that_will_not_come_back_are_written_off(club, lent, red, member, browse):
    said = {"submission": uuid4(), "act": "broken", "count": 1, "reason": "Trodden on."}
    browse(member).post(at("loan-lost", club, pk=lent.pk), said)
    assert held(red) == 11


def test_lending_in_the_hall_takes_one_form(club, red, member, opponent, soon, browse):
    said = {"submission": uuid4(), "borrower": opponent.pk, "count": 2, "due_on": soon.isoformat()}
    browse(member).post(at("loan-lend", club, pk=red.pk), said)
    assert state_of(Loan.objects.get()) == LoanState.OUT


# --- labels and counts -----------------------------------------------------------------------------------------


def test_a_label_is_a_code_for_a_camera_and_letters_to_type(club, red, member, browse):
    page = html(browse(member).get(at("labels", club)))
    assert '<svg aria-hidden="true"' in page
    assert "style=" not in page
    assert red.label[:4] in page
    assert at("count", club, label=red.label) in page


def test_a_count_that_differs_wants_a_reason_and_is_booked(club, red, member, browse):
    address = at("count", club, label=red.label)
    said = {"submission": uuid4(), f"counted.{red.pk}": 11}
    assert browse(member).post(address, said).status_code == 422
    browse(member).post(address, {**said, "reason": "One under the stove."})
    assert held(red) == 11
    assert Movement.objects.filter(act="counted", reason="One under the stove.").count() == 1


def test_pieces_out_on_loan_are_not_expected_on_the_shelf(club, lent, red, member, browse):
    assert "The record says 8." in html(browse(member).get(at("count", club, label=red.label)))


def test_a_label_of_another_club_is_not_known(club, other_club, red, outsider, browse):
    assert browse(outsider).get(at("count", other_club, label=red.label)).status_code == 404


# --- lists -----------------------------------------------------------------------------------------------------


@pytest.fixture
def fill(club, kind, opponent, soon):
    def rows(owner, number):
        for index in range(number):
            holding = factories.HoldingFactory(kind=kind, owner=owner, held=5, colour=f"shade {index}")
            lend(holding, borrower=opponent, count=1, due_on=soon, submission=uuid4(), by=owner)
            factories.ItemKindFactory(club=club)

    return rows


LISTS = [("kit", {"q": "marker"}), ("my-kit", {}), ("kinds", {}), ("loans", {}), ("labels", {})]


@pytest.mark.parametrize(("name", "asked"), LISTS)
def test_a_list_takes_the_same_queries_for_one_row_and_for_three(
    name, asked, club, member, fill, browse, django_assert_num_queries
):
    expected = {"kit": 9, "my-kit": 6, "kinds": 6, "loans": 8, "labels": 5}[name]
    client = browse(member)
    for number in (1, 2):
        fill(member, number)
        with django_assert_num_queries(expected):
            client.get(at(name, club), asked)
