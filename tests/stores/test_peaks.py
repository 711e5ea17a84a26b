"""Reports tell how many markers were in use at once; the needs of the next table go by it."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from uuid import uuid4

import pytest

from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import GamePlan, SidePlan
from league.battles.services.reports import correct_report, log_game
from league.engines.kit.stock import per_table
from league.rulesets.queries import current_edition
from league.stores.queries import plan_for
from league.stores.queries.peaks import FEWEST_REPORTS, usual_prior
from tests.stores.test_plan import game, needed, play, ruleset  # noqa: F401 - fixtures

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 19)


@pytest.fixture
def report(club, ruleset, member, opponent):  # noqa: F811 - the fixture of that name
    """`report(11)`: a game of the ruleset was played, with so many suppression markers in use at once."""

    def reported(peak):
        plan = GamePlan(
            edition=current_edition(ruleset),
            on=ON,
            sides=[SidePlan(member_ids=[who.pk]) for who in (member, opponent)],
        )
        sides = [SideClaim(position=position, score=score) for position, score in enumerate((5, 3), 1)]
        claim = ReportClaim(fought_on=ON, sides=sides, markers_peak=peak)
        return log_game(club, plan=plan, claim=claim, submission=uuid4(), by=member)

    return reported


def reasons(planned) -> list[str]:
    return [words for each in planned.asked if each.need == "suppression" for words in each.demand.why]


def test_before_there_are_reports_enough_the_rulesets_own_rule_says_how_many(night, game, report):  # noqa: F811
    by_rule = needed(plan_for(night), "suppression")
    for _each in range(FEWEST_REPORTS - 1):
        report(30)
    assert needed(plan_for(night), "suppression") == by_rule


def test_enough_for_nineteen_games_in_twenty_and_the_rulesets_spare_one(night, game, report):  # noqa: F811
    peaks = [14, 15, 15, 16, 18, 20, 14, 15]
    for peak in peaks:
        report(peak)
    planned = plan_for(night)
    enough = per_table(peaks, prior=usual_prior()).enough_for(1, Fraction(95, 100))
    assert needed(planned, "suppression") == {"": enough + 1}
    assert any(f"By 8 reports, {enough} are enough at once" in words for words in reasons(planned))


def test_a_corrected_report_tells_the_corrected_number(club, night, game, report, member):  # noqa: F811
    filed = [report(16) for _each in range(8)]
    before = needed(plan_for(night), "suppression")
    for each in filed:
        sides = [SideClaim(position=position, score=score) for position, score in enumerate((5, 3), 1)]
        claim = ReportClaim(fought_on=ON, sides=sides, markers_peak=1)
        correct_report(each, claim=claim, reason="Counted the spares too", submission=uuid4(), by=member)
    assert needed(plan_for(night), "suppression")[""] < before[""]
