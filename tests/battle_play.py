"""Playing a game in a test by the services, as members do."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

from league.battles.models import Report
from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import GamePlan, SidePlan
from league.battles.services.reports import log_game
from league.clubs.models import Member
from league.rulesets.models import Edition
from tests import factories


def play_quick_game(
    first: Member, second: Member, *, scores: tuple[int, int] = (12, 7), on: date = date(2026, 3, 19)
) -> Report:
    """Two members, no rosters, no scenario; the first files the report."""
    edition = Edition.objects.filter(ruleset__club=first.club).first() or factories.EditionFactory(
        ruleset__club=first.club
    )
    plan = GamePlan(edition=edition, on=on, sides=[SidePlan(member_ids=[player.pk]) for player in (first, second)])
    sides = [SideClaim(position=position, score=score) for position, score in enumerate(scores, 1)]
    return log_game(first.club, plan=plan, claim=ReportClaim(fought_on=on, sides=sides), submission=uuid4(), by=first)
