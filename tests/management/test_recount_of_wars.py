from __future__ import annotations

import uuid

import pytest
from django.db.models import F

from league.campaigns.models import Fact, RollCall, Secret
from league.campaigns.services.outcomes import tell_outcome
from league.engines import war
from league.management.recount import campaigns, mismatches, stores
from league.rosters.models import Muster
from league.rosters.services.records import CasualtyLine
from league.stores.models import Movement
from tests import factories
from tests.campaigns.play import begin
from tests.engines.war.world import UNFORGIVING


@pytest.fixture
def played(club, organiser, umpire, member, opponent):
    """Two turns: a battle told by the umpire, then recruits."""
    played = begin(club, umpire=umpire, commons=member, wardens=opponent, ruleset=UNFORGIVING)
    battle = played.meet()
    unit = played.units("lancers")[0]
    losses = {"lancers": [CasualtyLine(unit_id=unit.pk, figures_lost=6)]}
    tell_outcome(played.campaign, battle=battle.id, winner="wardens", losses=losses, reason="-", by=umpire)
    played.close()
    played.orders("commons")
    played.orders("wardens", war.Rebuild(force="lancers", replacements=(war.Replacement(unit_id=unit.pk, figures=6),)))
    played.close()
    return played


def test_a_war_as_it_was_played_has_no_mismatch(played):
    assert [each for each in mismatches() if not each.startswith("the database file")] == []


def test_a_recruit_missing_on_the_rosters_record_is_found(played):
    assert RollCall.objects.exists()
    Muster.objects.update(joined=F("joined") - 1)
    assert list(campaigns.roll_calls()) or list(campaigns.rosters())


def test_a_casualty_changed_behind_the_wars_back_is_found(played):
    casualty = played.roster("lancers").engagements.get().casualties.get()
    type(casualty).objects.update(figures_lost=9)
    assert list(campaigns.rosters())


def test_a_seed_that_was_not_the_promised_one_is_found(played):
    told = Fact.objects.in_force().get(kind="seed", turn=1)
    Fact.objects.filter(pk=told.pk).update(data={**told.data, "seed": "00" * 32})
    assert any("another seed" in each for each in campaigns.dice())
    assert Secret.objects.count() == 3


def test_a_balance_that_is_not_the_sum_of_its_lines_is_found(member):
    holding = factories.HoldingFactory(owner=member)
    row = factories.MovementFactory(holding=holding)
    assert list(stores.movements()) == []
    Movement.objects.filter(pk=row.pk).update(held_after=row.held_after + 1)
    assert len(list(stores.movements())) == 1


def test_submissions_have_names_of_their_own(played):
    assert len(set(Fact.objects.values_list("submission", flat=True))) == Fact.objects.count()
    assert uuid.UUID(str(Fact.objects.first().submission))
