"""Everybody is sent what they bring: by one press of a keeper, or by the clock; once a day."""

from __future__ import annotations

from datetime import timedelta
from io import StringIO
from uuid import uuid4

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.utils import timezone

from league.clubs.services.nights import cancel_night
from league.errors import NotYoursToDo, Refused
from league.stores.models import PackingReminder
from league.stores.services.packing import remind_of_packing
from league.stores.services.promises import promise_to_bring
from tests.stores.test_pages_night import at, game, green, rosters, ruleset  # noqa: F401 - fixtures

pytestmark = pytest.mark.django_db


@pytest.fixture
def brings(green):  # noqa: F811 - the fixture of that name
    """The plan asks Brannoc for tokens."""
    return green


def test_the_letter_says_what_how_many_and_for_which_table(
    brings, night, quartermaster, member, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        assert remind_of_packing(night, by=quartermaster) == [member]
    [letter] = mail.outbox
    assert letter.to == [member.user.email]
    assert "- 2 × Activation token, green" in letter.body
    assert "Hello Brannoc" in letter.body


def test_a_second_press_on_the_same_day_sends_nothing(
    brings, night, quartermaster, organiser, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        remind_of_packing(night, by=quartermaster)
        assert remind_of_packing(night, by=organiser) == []
    assert len(mail.outbox) == 1


def test_whoever_brings_nothing_is_not_written_to(game, night, quartermaster):  # noqa: F811 - the fixture of that name
    assert remind_of_packing(night, by=quartermaster) == []


def test_what_is_promised_but_not_needed_is_not_asked_for(night, write_down, member, quartermaster):
    holding = write_down(member, 6, colour="green")
    promise_to_bring(holding, night=night, count=2, submission=uuid4(), by=member)
    assert remind_of_packing(night, by=quartermaster) == []


def test_only_those_who_keep_the_stores_remind(brings, night, member):
    with pytest.raises(NotYoursToDo):
        remind_of_packing(night, by=member)


def test_nobody_is_reminded_of_a_night_that_was_cancelled(brings, night, organiser, quartermaster):
    cancel_night(night, by=organiser)
    night.refresh_from_db()
    with pytest.raises(Refused, match="cancelled"):
        remind_of_packing(night, by=quartermaster)


def test_a_keeper_does_it_on_the_nights_page(brings, club, night, quartermaster, browse):
    page = browse(quartermaster).post(at("packing-remind", club, night=night.pk), follow=True).content.decode()
    assert "was sent their list today" in page
    assert PackingReminder.objects.count() == 1


def test_the_same_over_the_api(brings, night, quartermaster, member, call):
    address = f"/api/v1/clubs/weir-street/nights/{night.pk}/kit/reminders/"
    told = [call(quartermaster).post(address, format="json").json() for _time in range(2)]
    assert told == [[{"member": member.pk, "name": "Brannoc"}], []]


def test_the_clock_reminds_of_the_nights_that_are_near_and_of_no_others(
    brings, night, django_capture_on_commit_callbacks
):
    out = StringIO()
    call_command("remind", "--days", "6", stdout=out)
    assert out.getvalue() == ""
    with django_capture_on_commit_callbacks(execute=True):
        for _hour in range(2):
            call_command("remind", "--days", "7", stdout=out)
    assert out.getvalue() == f"Weir Street Irregulars, {timezone.localdate() + timedelta(days=7):%Y-%m-%d}: 1 sent\n"
    assert len(mail.outbox) == 1


@pytest.mark.parametrize("days", ["-1", "61"])
def test_a_clock_that_looks_too_far_is_refused(days):
    with pytest.raises(CommandError, match="Between 0 and 60"):
        call_command("remind", "--days", days)
