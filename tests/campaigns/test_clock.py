from __future__ import annotations

import io
from datetime import timedelta

import pytest
from django.core.management import call_command
from django.utils import timezone

from league.campaigns.models import Deadline, Fact
from league.campaigns.services.turns import set_deadline
from tests.campaigns.play import begin


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


def turns():
    out = io.StringIO()
    call_command("turns", stdout=out)
    return out.getvalue()


def test_the_clock_reveals_what_is_due_once(played):
    set_deadline(played.campaign, turn=1, due_at=timezone.now() + timedelta(hours=1), by=played.umpire)
    assert turns() == ""
    Deadline.objects.update(due_at=timezone.now() - timedelta(hours=1))
    assert "revealed" in turns()
    assert turns() == ""
    assert Fact.objects.filter(kind="revealed").count() == 1


def test_a_campaign_without_a_deadline_waits_for_its_umpire(played):
    assert turns() == ""
