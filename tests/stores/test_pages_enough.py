"""How many markers are enough: the curve and its figures, from the club's own reports."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from uuid import uuid4

import pytest
from django.urls import reverse

from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import SidePlan, plan_game
from league.battles.services.reports import file_report
from league.engines.kit.stock import per_table
from league.rosters.services.facts import UnitFacts
from league.rosters.services.rosters import create_roster
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.stores.queries.dice_peaks import dice_of_games
from league.stores.queries.enough_page import enough_page, usual_prior
from tests import factories
from tests.battle_play import play_quick_game

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 19)


def test_without_reports_the_usual_table_is_all_there_is(club):
    page = enough_page(club, tables=6, percent=95)
    assert page.reports == 0
    assert page.enough == per_table([], prior=usual_prior()).enough_for(6, Fraction(95, 100))
    assert page.mean == 8


def test_one_fewer_would_not_be_enough(club):
    page = enough_page(club, tables=6, percent=95)
    chances = {step.stock: step.chance for step in page.steps}
    assert chances[page.enough] >= 0.95 > chances[page.enough - 1]


def test_the_curve_has_its_figures_beside_it_and_no_style_of_its_own(club, member, browse):
    page = browse(member).get(reverse("enough", kwargs={"club": club.slug}), {"tables": 4, "percent": 90})
    text = page.content.decode()
    enough = enough_page(club, tables=4, percent=90).enough
    assert f"{enough} markers for 4 tables at 90 %" in text
    assert "<polyline" in text
    assert f'<tr class="mine"><td class="num">{enough}</td>' in text
    assert "style=" not in text


@pytest.mark.parametrize("tables", ["0", "-1", "201", "many", ""])
def test_an_absurd_number_of_tables_is_said_so(tables, club, member, browse):
    page = browse(member).get(reverse("enough", kwargs={"club": club.slug}), {"tables": tables})
    assert page.status_code == 200
    assert "There is a problem" in page.content.decode()


# --- dice -------------------------------------------------------------------------------


def battle(club, first, second, figures):
    """A game fought by two forces of one company each, of so many figures."""
    ruleset = Ruleset.objects.filter(club=club).first() or create_ruleset(
        club, document=shipped_documents()["ferry_skirmish"], by=factories.MemberFactory(club=club, is_organiser=True)
    )
    sides = []
    for who, number in zip((first, second), figures, strict=True):
        units = [UnitFacts(name="Company", unit_class="line", figures=number, points=80, gear=("muskets",))]
        roster = create_roster(
            club, owner=who, ruleset=ruleset, name=str(uuid4()), units=units, submission=uuid4(), by=who
        )
        sides.append(SidePlan(member_ids=[who.pk], roster_id=roster.pk))
    game = plan_game(
        club, edition=current_edition(ruleset), scenario="", on=ON, sides=sides, submission=uuid4(), by=first
    )
    claims = [SideClaim(position=position, score=score) for position, score in enumerate((5, 3), 1)]
    file_report(game, claim=ReportClaim(fought_on=ON, sides=claims), submission=uuid4(), by=first)
    return game


def test_dice_are_counted_by_the_forces_that_stood_on_the_tables(club, member, opponent):
    """Ten figures roll ten dice, and another seven: of what the sides use in turn the most counts, and spare ones come on
    top as the ruleset says."""
    played = [battle(club, member, opponent, figures) for figures in ((10, 7), (4, 4))]
    document = shipped_documents()["ferry_skirmish"]
    (pool,) = [each for each in document["kit"]["needs"] if each["per"] == "pool"]
    spare = pool.get("spare", 0)
    assert len(played) == 2
    assert sorted(dice_of_games(club)) == [4 + spare, 10 + spare]


def test_a_game_without_its_forces_says_nothing_of_dice(club, member, opponent):
    play_quick_game(member, opponent)
    assert dice_of_games(club) == []


def test_the_page_tells_dice_beside_markers(club, member, browse):
    answer = browse(member).get(reverse("enough", kwargs={"club": club.slug}), {"what": "dice", "tables": 6})
    enough = enough_page(club, tables=6, percent=95, what="dice").enough
    text = answer.content.decode()
    assert f"{enough} dice for 6 tables at 95 %" in text
    assert "In 0 games of the club the forces are known" in text


@pytest.mark.parametrize("count", [1, 3])
def test_dice_take_two_queries_however_many_games(club, member, opponent, count, django_assert_num_queries):
    for _each in range(count):
        battle(club, member, opponent, (10, 7))
    dice_of_games(club)
    with django_assert_num_queries(2):
        assert len(dice_of_games(club)) == count
