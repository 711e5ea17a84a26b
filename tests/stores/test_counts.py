"""Counting a shelf from its label."""

from __future__ import annotations

from uuid import uuid4

import pytest

from league.errors import NotYoursToDo
from league.stores.models import ShelfCount
from league.stores.services.counts import CountRefused, count_shelf
from league.stores.services.loans import agree_loan, ask_for

pytestmark = pytest.mark.django_db


@pytest.fixture
def white(write_down, member, red):
    """Six white markers in the same box as the red ones."""
    return write_down(member, 6, colour="white", label=red.label)


@pytest.fixture
def count(club, red, member):
    def counted(pieces, *, by=member, reason="Nobody knows", **more):
        told = {"label": red.label, "counted": pieces, "reason": reason, "submission": uuid4(), **more}
        return count_shelf(club, **told, by=by)

    return counted


def test_differences_are_booked_with_their_reason(red, white, count, balance):
    done = count({red.pk: 11, white.pk: 7}, reason="One was in the wrong bag")
    lines = list(done.movements.order_by("holding").values_list("change", "reason"))
    assert lines == [(-1, "One was in the wrong bag"), (1, "One was in the wrong bag")]
    assert (balance(red), balance(white)) == ((11, 0), (7, 0))


def test_what_agrees_gets_its_line_too_and_needs_no_reason(red, count, balance):
    done = count({red.pk: 12}, reason="")
    assert (done.movements.get().change, balance(red)) == (0, (12, 0))


def test_what_is_not_named_was_not_counted(red, white, count, balance):
    count({red.pk: 10})
    assert balance(white) == (6, 0)


def test_a_difference_wants_a_reason(red, count, balance):
    with pytest.raises(CountRefused, match="what explains the difference"):
        count({red.pk: 11}, reason=" ")
    assert balance(red) == (12, 0)


def test_pieces_out_on_loan_are_not_expected_there(red, lent, count, balance):
    done = count({red.pk: 8}, reason="")
    assert (done.movements.get().change, balance(red)) == (0, (12, 4))


def test_pieces_set_aside_are_still_there_and_cannot_be_counted_away(red, member, opponent, soon, count, balance):
    agree_loan(ask_for(red, count=4, due_on=soon, submission=uuid4(), by=opponent), by=member)
    assert count({red.pk: 12}, reason="").movements.get().change == 0
    with pytest.raises(CountRefused, match="4 are set aside"):
        count({red.pk: 3})
    assert balance(red) == (12, 4)


def test_sent_twice_it_is_counted_once(red, count):
    name = uuid4()
    first, second = (count({red.pk: 11}, submission=name) for _ in range(2))
    assert (first, ShelfCount.objects.count(), red.movements.count()) == (second, 1, 2)


def test_everything_wrong_is_said_at_once(red, white, count, write_down, member):
    elsewhere = write_down(member, 3)
    with pytest.raises(CountRefused) as refusal:
        count({red.pk: -1, white.pk: 100_001, elsewhere.pk: 3}, reason="x" * 201)
    wrong = refusal.value.by_field()
    assert set(wrong) == {f"counted.{red.pk}", f"counted.{white.pk}", f"counted.{elsewhere.pk}", "reason"}


def test_nothing_counted_is_no_count(count):
    with pytest.raises(CountRefused, match="at least one"):
        count({})


def test_anybody_counts_the_club_s_shelf_but_not_a_member_s(club, red, count, write_down, quartermaster, opponent):
    with pytest.raises(NotYoursToDo):
        count({red.pk: 12}, by=opponent)
    clubs = write_down(None, 4, by=quartermaster)
    done = count_shelf(club, label=clubs.label, counted={clubs.pk: 3}, reason="Lost", submission=uuid4(), by=opponent)
    assert done.movements.get().held_after == 3


def test_a_stranger_counts_nothing(red, count, outsider):
    with pytest.raises(NotYoursToDo):
        count({red.pk: 12}, by=outsider)
