"""What members promise to bring, pack and can carry."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest

from league.errors import NotYoursToDo
from league.stores.models import Carrying, Promise
from league.stores.services.loans import LoanRefused, ask_for, lend
from league.stores.services.promises import (
    PromiseRefused,
    mark_packed,
    mark_unpacked,
    promise_to_bring,
    say_carrying,
    withdraw_promise,
)
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def promise(night):
    def promised(holding, count, by, *, on=None, **more):
        told = {"night": on or night, "count": count, "submission": uuid4(), **more}
        return promise_to_bring(holding, **told, by=by)

    return promised


def test_what_is_free_that_day_can_be_promised(red, member, promise):
    assert promise(red, 10, member).count == 10


def test_what_is_kept_cannot(red, member, promise):
    with pytest.raises(PromiseRefused, match="Only 10 of these are free"):
        promise(red, 11, member)


def test_another_number_takes_the_place_of_the_old_promise(red, member, promise):
    promise(red, 10, member)
    promise(red, 4, member)
    assert list(Promise.objects.filter(withdrawn_at=None).values_list("count", flat=True)) == [4]


def test_the_same_number_is_the_same_promise(red, member, promise):
    assert promise(red, 4, member) == promise(red, 4, member)


def test_sent_twice_it_is_promised_once(red, member, promise):
    name = uuid4()
    first = promise(red, 4, member, submission=name)
    withdraw_promise(first, by=member)
    assert promise(red, 4, member, submission=name) == first


def test_what_goes_to_one_night_is_back_for_the_next(red, club, member, promise, soon):
    promise(red, 10, member)
    later = factories.NightFactory(club=club, on=soon + timedelta(days=7))
    assert promise(red, 10, member, on=later).count == 10


def test_two_nights_of_one_day_share_what_there_is(red, club, member, promise, soon):
    promise(red, 6, member)
    beside = factories.NightFactory(club=club, on=soon)
    with pytest.raises(PromiseRefused, match="Only 4"):
        promise(red, 6, member, on=beside)


def test_what_is_lent_over_the_day_is_not_promised(red, lent, member, promise):
    with pytest.raises(PromiseRefused, match="Only 6"):
        promise(red, 7, member)


def test_what_is_to_be_back_before_the_day_is_free_then(red, member, opponent, soon, promise):
    lend(red, borrower=opponent, count=10, due_on=soon - timedelta(days=1), submission=uuid4(), by=member)
    assert promise(red, 10, member).count == 10


def test_what_is_promised_is_not_lent_over_that_day(red, member, opponent, soon, promise):
    promise(red, 8, member)
    with pytest.raises(LoanRefused, match="Only 2"):
        ask_for(red, count=3, due_on=soon, submission=uuid4(), by=opponent)


def test_what_comes_back_before_the_day_is_lent_all_the_same(red, member, opponent, soon, promise):
    promise(red, 8, member)
    loan = ask_for(red, count=10, due_on=soon - timedelta(days=1), submission=uuid4(), by=opponent)
    assert loan.count == 10


def test_a_borrower_promises_what_they_borrowed_and_the_owner_the_rest(red, lent, member, opponent, promise):
    assert promise(red, 4, opponent).loan == lent
    assert promise(red, 6, member).loan is None
    with pytest.raises(PromiseRefused, match="Only 4"):
        promise(red, 5, opponent)


def test_nobody_promises_what_lies_at_another_s_home(red, opponent, organiser, promise):
    for who in (opponent, organiser):
        with pytest.raises(NotYoursToDo):
            promise(red, 1, who)


def test_the_quartermaster_promises_for_the_owner(red, member, quartermaster, promise):
    made = promise(red, 1, quartermaster, member=member)
    assert (made.member, made.by) == (member, quartermaster)


def test_anybody_brings_the_club_s_that_lies_with_nobody(write_down, quartermaster, opponent, promise):
    assert promise(write_down(None, 3, by=quartermaster), 2, opponent).member == opponent


def test_everything_wrong_is_said_at_once(red, member, club, today, promise):
    over = factories.NightFactory(club=club, on=today - timedelta(days=1))
    with pytest.raises(PromiseRefused) as refusal:
        promise(red, 100_001, member, on=over)
    assert set(refusal.value.by_field()) == {"night", "count"}
    assert len(refusal.value.violations) == 3


def test_packed_twice_is_packed_once_and_can_be_undone(red, member, promise):
    made = promise(red, 4, member)
    first, second = (mark_packed(made, by=member).packed_at for _ in range(2))
    assert first == second is not None
    assert mark_unpacked(made, by=member).packed_at is None


def test_what_was_taken_back_is_not_packed(red, member, promise):
    made = promise(red, 4, member)
    withdraw_promise(made, by=member)
    with pytest.raises(PromiseRefused, match="taken back"):
        mark_packed(made, by=member)


def test_others_do_not_take_a_promise_back(red, member, opponent, promise):
    with pytest.raises(NotYoursToDo):
        withdraw_promise(promise(red, 4, member), by=opponent)


class TestCarrying:
    def test_the_last_word_counts(self, night, member):
        say_carrying(night, room="bag", by=member)
        say_carrying(night, room="car", by=member)
        assert list(Carrying.objects.values_list("member", "room")) == [(member.pk, "car")]

    def test_organisers_answer_for_guests_and_others_do_not(self, night, organiser, member, guest):
        assert say_carrying(night, room="box", member=guest, by=organiser).member == guest
        with pytest.raises(NotYoursToDo):
            say_carrying(night, room="box", member=guest, by=member)

    def test_a_lorry_is_not_foreseen(self, night, member):
        with pytest.raises(PromiseRefused, match="a bag, a box or a car"):
            say_carrying(night, room="lorry", by=member)
