"""Lending and what comes back."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest

from league.errors import NotYoursToDo
from league.stores.models import Loan
from league.stores.services.holdings import retire_holding
from league.stores.services.loans import (
    LoanRefused,
    agree_loan,
    ask_for,
    book_lost,
    hand_over,
    lend,
    refuse_loan,
    take_back,
    withdraw_loan,
)
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def asked(red, opponent, soon):
    """Ceriden asks for four of the red markers."""
    return ask_for(red, count=4, due_on=soon, note="Thursday", submission=uuid4(), by=opponent)


def state(loan):
    row = Loan.objects.with_state().get(pk=loan.pk)
    return row.state, row.outstanding


class TestAsking:
    def test_it_sets_nothing_aside(self, red, asked, balance):
        assert (state(asked), balance(red)) == (("asked", 0), (12, 0))

    def test_sent_twice_it_is_asked_once(self, red, opponent, soon):
        name = uuid4()
        first, second = (ask_for(red, count=4, due_on=soon, submission=name, by=opponent) for _ in range(2))
        assert (first, Loan.objects.count()) == (second, 1)

    def test_more_than_is_spare_is_not_asked_for(self, red, opponent, soon):
        with pytest.raises(LoanRefused, match="Only 10 of these are spare"):
            ask_for(red, count=11, due_on=soon, submission=uuid4(), by=opponent)

    def test_everything_wrong_is_said_at_once(self, red, member, today):
        retire_holding(red, by=member)
        with pytest.raises(LoanRefused) as refusal:
            ask_for(red, count=0, due_on=today - timedelta(days=1), note="x" * 201, submission=uuid4(), by=member)
        assert set(refusal.value.by_field()) == {"", "borrower", "due_on", "count", "note"}

    def test_a_loan_is_for_a_year_at_most(self, red, opponent, today):
        with pytest.raises(LoanRefused, match="Check the year"):
            ask_for(red, count=1, due_on=today + timedelta(days=367), submission=uuid4(), by=opponent)

    def test_a_stranger_asks_for_nothing(self, red, outsider, soon):
        with pytest.raises(NotYoursToDo):
            ask_for(red, count=1, due_on=soon, submission=uuid4(), by=outsider)

    def test_what_is_private_cannot_be_asked_for(self, write_down, member, opponent, soon):
        hidden = write_down(member, 5, is_private=True)
        with pytest.raises(NotYoursToDo):
            ask_for(hidden, count=1, due_on=soon, submission=uuid4(), by=opponent)

    def test_nobody_asks_in_another_s_name(self, red, organiser, opponent, soon):
        with pytest.raises(NotYoursToDo):
            ask_for(red, count=1, due_on=soon, borrower=opponent, submission=uuid4(), by=organiser)


class TestAgreeing:
    def test_it_sets_the_pieces_aside(self, red, asked, member, balance):
        agree_loan(asked, by=member)
        assert (state(asked), balance(red)) == (("agreed", 4), (12, 4))

    def test_twice_is_once(self, red, asked, member, balance):
        for _time in range(2):
            agree_loan(asked, by=member)
        assert balance(red) == (12, 4)

    def test_what_was_lent_meanwhile_is_not_lent_again(self, red, asked, member, umpire, soon, balance):
        lend(red, borrower=umpire, count=7, due_on=soon, submission=uuid4(), by=member)
        with pytest.raises(LoanRefused, match="Only 3 of these are spare"):
            agree_loan(asked, by=member)
        assert (state(asked), balance(red)) == (("asked", 0), (12, 7))

    def test_it_is_for_the_owner(self, asked, opponent, organiser):
        for who in (opponent, organiser):
            with pytest.raises(NotYoursToDo):
                agree_loan(asked, by=who)

    def test_not_after_a_refusal(self, asked, member):
        refuse_loan(asked, reason="I need them.", by=member)
        with pytest.raises(LoanRefused, match="refused"):
            agree_loan(asked, by=member)

    def test_the_quartermaster_lends_the_club_s(self, write_down, quartermaster, opponent, soon):
        mats = write_down(None, 4, by=quartermaster)
        loan = lend(mats, borrower=opponent, count=1, due_on=soon, submission=uuid4(), by=quartermaster)
        assert state(loan) == ("out", 1)


class TestHandingOver:
    def test_it_changes_no_balance(self, red, asked, member, balance):
        agree_loan(asked, by=member)
        hand_over(asked, by=member)
        hand_over(asked, by=member)
        assert (state(asked), balance(red)) == (("out", 4), (12, 4))

    def test_not_before_it_was_agreed(self, asked, member):
        with pytest.raises(LoanRefused, match="Agree to lend it first"):
            hand_over(asked, by=member)


class TestReturning:
    def test_in_part_and_then_the_rest(self, red, lent, member, balance):
        take_back(lent, count=3, submission=uuid4(), by=member)
        assert (state(lent), balance(red)) == (("out", 1), (12, 1))
        take_back(lent, count=1, submission=uuid4(), by=member)
        assert (state(lent), balance(red)) == (("back", 0), (12, 0))

    def test_sent_twice_it_came_back_once(self, red, lent, member, balance):
        name = uuid4()
        for _time in range(2):
            take_back(lent, count=2, submission=name, by=member)
        assert balance(red) == (12, 2)

    def test_more_than_is_out_does_not_come_back(self, red, lent, member, balance):
        with pytest.raises(LoanRefused, match="Only 4 of this loan are out"):
            take_back(lent, count=5, submission=uuid4(), by=member)
        assert balance(red) == (12, 4)

    def test_nothing_comes_back_twice(self, lent, member):
        take_back(lent, count=4, submission=uuid4(), by=member)
        with pytest.raises(LoanRefused, match="Only 0 of this loan are out"):
            take_back(lent, count=4, submission=uuid4(), by=member)

    def test_another_loan_s_pieces_are_not_this_one_s(self, red, lent, member, umpire, soon):
        lend(red, borrower=umpire, count=5, due_on=soon, submission=uuid4(), by=member)
        with pytest.raises(LoanRefused, match="Only 4"):
            take_back(lent, count=5, submission=uuid4(), by=member)

    def test_what_the_borrower_lost_is_gone(self, red, lent, member, balance):
        book_lost(lent, act="lost", count=1, reason="Down the grate", submission=uuid4(), by=member)
        assert (state(lent), balance(red)) == (("out", 3), (11, 3))

    def test_it_is_for_the_owner_to_say(self, lent, opponent):
        with pytest.raises(NotYoursToDo):
            take_back(lent, count=4, submission=uuid4(), by=opponent)


class TestCallingOff:
    def test_what_was_set_aside_is_free_again(self, red, asked, member, opponent, balance):
        agree_loan(asked, by=member)
        withdraw_loan(asked, by=opponent)
        withdraw_loan(asked, by=opponent)
        assert (state(asked), balance(red)) == (("withdrawn", 0), (12, 0))

    def test_not_once_it_was_handed_over(self, lent, opponent):
        with pytest.raises(LoanRefused, match="Take it back instead"):
            withdraw_loan(lent, by=opponent)

    def test_a_refusal_says_why(self, asked, member):
        refuse_loan(asked, reason="  I need them.  ", by=member)
        asked.refresh_from_db()
        assert (state(asked), asked.reason) == (("refused", 0), "I need them.")

    def test_what_was_agreed_is_called_off_and_not_refused(self, asked, member):
        agree_loan(asked, by=member)
        with pytest.raises(LoanRefused, match="Call it off instead"):
            refuse_loan(asked, by=member)

    def test_others_have_no_say(self, asked):
        with pytest.raises(NotYoursToDo):
            withdraw_loan(asked, by=factories.MemberFactory(club=asked.holding.club))
