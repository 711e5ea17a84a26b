"""Reminding of what is to come back."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.core import mail

from league.errors import NotYoursToDo
from league.stores.services.loans import LoanRefused, lend, take_back
from league.stores.services.reminders import remind_loan

pytestmark = pytest.mark.django_db


def test_the_borrower_gets_a_letter_that_says_what_and_by_when(
    lent, member, opponent, django_capture_on_commit_callbacks
):
    take_back(lent, count=1, submission=uuid4(), by=member)
    with django_capture_on_commit_callbacks(execute=True):
        assert remind_loan(lent, by=member).reminded_at is not None
    [letter] = mail.outbox
    assert letter.to == [opponent.user.email]
    assert "3 × Suppression marker (red)" in letter.body


def test_a_second_press_on_the_same_day_sends_nothing(lent, member, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        remind_loan(lent, by=member)
        remind_loan(lent, by=member)
    assert len(mail.outbox) == 1


def test_a_guest_without_an_address_is_marked_as_reminded(red, member, guest, soon, django_capture_on_commit_callbacks):
    loan = lend(red, borrower=guest, count=1, due_on=soon, submission=uuid4(), by=member)
    with django_capture_on_commit_callbacks(execute=True):
        assert remind_loan(loan, by=member).reminded_at is not None
    assert mail.outbox == []


def test_nobody_is_reminded_of_nothing(lent, member):
    take_back(lent, count=4, submission=uuid4(), by=member)
    with pytest.raises(LoanRefused, match="Nothing of this loan is out"):
        remind_loan(lent, by=member)


def test_only_the_owner_reminds(lent, organiser):
    with pytest.raises(NotYoursToDo):
        remind_loan(lent, by=organiser)
