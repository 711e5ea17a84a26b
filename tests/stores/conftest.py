"""Kit to lend: red suppression markers of a member, a club's mat, and short ways to do the usual."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from league.stores.models import Holding
from league.stores.services.holdings import HoldingFacts, add_holding
from league.stores.services.kinds import KindFacts, add_kind
from league.stores.services.loans import lend
from tests import factories

MARKERS = KindFacts(
    name="Suppression marker", category="marker", use="suppression", bulk_ml=1, cautions=("small_parts",)
)


@pytest.fixture
def today(db):
    return timezone.localdate()


@pytest.fixture
def soon(today):
    return today + timedelta(days=7)


@pytest.fixture
def kind(club, organiser):
    return add_kind(club, facts=MARKERS, submission=uuid4(), by=organiser)


@pytest.fixture
def write_down(kind):
    """`write_down(member, 12, colour="red")` is that member's holding; `write_down(None, 4, by=quartermaster)` the club's."""

    def written(owner, count, *, by=None, of=None, **facts):
        return add_holding(
            of or kind, owner=owner, count=count, facts=HoldingFacts(**facts), submission=uuid4(), by=by or owner
        )

    return written


@pytest.fixture
def red(write_down, member):
    """Twelve red markers of Brannoc's, two of which he keeps."""
    return write_down(member, 12, colour="red", kept=2)


@pytest.fixture
def lent(red, member, opponent, soon):
    """Four of the red markers, out with Ceriden."""
    return lend(red, borrower=opponent, count=4, due_on=soon, submission=uuid4(), by=member)


@pytest.fixture
def night(club, soon):
    return factories.NightFactory(club=club, on=soon)


@pytest.fixture
def balance():
    """`balance(holding)` is (held, out) as the record says now."""

    def read(holding):
        row = Holding.objects.with_balance().get(pk=holding.pk)
        return row.held, row.out

    return read
