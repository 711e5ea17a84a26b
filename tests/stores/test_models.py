"""What the database itself refuses, whoever writes."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from django.db import IntegrityError, transaction

from league.stores.models import Act, Holding, Loan, Movement
from tests import factories

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 19, 19, 0, tzinfo=UTC)


def refused_by(constraint, **facts):
    with pytest.raises(IntegrityError, match=constraint), transaction.atomic():
        factories.MovementFactory(**facts)


@pytest.fixture
def holding():
    return factories.HoldingFactory(held=12)


def test_a_holding_never_falls_below_nothing(holding):
    refused_by(
        "leaves_no_less_than_nothing", holding=holding, sequence=2, act=Act.LOST, change=-13, held_after=-1, out_after=0
    )


def test_two_lines_cannot_take_the_same_place_in_the_record(holding):
    # SQLite names the columns, PostgreSQL the constraint.
    refused_by("movement_in_order|sequence", holding=holding, sequence=1)


def test_more_than_there_is_cannot_be_lent(holding):
    loan = factories.LoanFactory(holding=holding, count=13)
    refused_by(
        "movement_lends_what_there_is",
        holding=holding,
        sequence=2,
        act=Act.LENT,
        loan=loan,
        change=0,
        out_change=13,
        held_after=12,
        out_after=13,
        loan_out_after=13,
    )


def test_nothing_goes_out_without_a_loan(holding):
    refused_by(
        "movement_of_a_loan",
        holding=holding,
        sequence=2,
        act=Act.LENT,
        change=0,
        out_change=3,
        held_after=12,
        out_after=3,
    )


def test_a_loan_is_not_returned_below_nothing(holding):
    loan = factories.LoanFactory(holding=holding)
    refused_by(
        "movement_of_a_loan",
        holding=holding,
        sequence=2,
        act=Act.RETURNED,
        loan=loan,
        change=0,
        out_change=-1,
        held_after=12,
        out_after=0,
        loan_out_after=-1,
    )


def test_what_was_not_agreed_is_not_handed_over():
    loan = factories.LoanFactory()
    with pytest.raises(IntegrityError, match="loan_handed_over_was_agreed"), transaction.atomic():
        Loan.objects.filter(pk=loan.pk).update(handed_at=NOW)


def test_the_club_s_kit_cannot_be_hidden(club):
    with pytest.raises(IntegrityError, match="holding_of_the_club_is_open"), transaction.atomic():
        factories.HoldingFactory(owner=None, kind=factories.ItemKindFactory(club=club), is_private=True)


def test_a_balance_is_that_of_the_last_line(holding):
    factories.MovementFactory(holding=holding, sequence=2, act=Act.LOST, change=-2, held_after=10)
    read = Holding.objects.with_balance().get(pk=holding.pk)
    assert (read.held, read.out) == (10, 0)


def test_a_holding_without_a_record_holds_nothing():
    holding = factories.HoldingFactory()
    read = Holding.objects.with_balance().get(pk=holding.pk)
    assert (read.held, Movement.objects.count()) == (0, 0)


def test_a_promise_can_be_made_by_a_factory():
    promise = factories.PromiseFactory()
    assert promise.night.club == promise.holding.club


class TestWhoSeesAHolding:
    def test_club_mates_see_it(self, holding):
        mate = factories.MemberFactory(club=holding.club)
        assert holding in Holding.objects.visible_to(mate.user)

    def test_strangers_do_not(self, holding, outsider):
        assert holding not in Holding.objects.visible_to(outsider.user)

    def test_a_private_one_is_its_owner_s_alone(self, club, organiser):
        holding = factories.HoldingFactory(owner=factories.MemberFactory(club=club), is_private=True)
        assert list(Holding.objects.visible_to(organiser.user)) == []
        assert list(Holding.objects.visible_to(holding.owner.user)) == [holding]
