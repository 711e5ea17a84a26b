"""What there is to look at in the demo's league."""

from __future__ import annotations

from datetime import date

from league.battles.queries.balance import balance_of
from league.seasons.models import Round, Season
from league.seasons.queries import standings
from league.seasons.queries.drafts import draft_of
from league.seasons.queries.ratings import ratings_of


def test_the_demo_carries_a_season_in_which_everybody_has_a_place(demo):
    table = standings(Season.objects.get(name="The Sedge League"))
    assert sorted(row.rank for row in table.rows) == [1, 2, 3, 4, 5, 6, 7]


def test_the_demo_plays_a_season_of_every_kind(demo):
    formats = set(Season.objects.values_list("format", flat=True))
    assert formats == {"typed", "round_robin", "open", "groups_knockout", "ladder", "swiss"}
    assert Season.objects.filter(divisions__isnull=False).distinct().count() == 2


def test_the_demo_has_a_draft_in_which_something_gave_way(demo):
    draft = draft_of(Round.objects.get(season__name="The Sluice Rounds", number=4))
    assert draft.refusal == ()
    assert [line.pin.table.number for line in draft.pins] == [1]
    assert all(each.words for each in draft.gave_way)
    assert {each.criterion for each in draft.gave_way} >= {"distance"}
    assert len(draft.waiting) == 1


def test_the_demo_has_games_enough_for_ratings_and_balance(demo):
    ratings = ratings_of(demo, viewer=demo.members.get(name="Odalys Fenn"), today=date(2026, 3, 18))
    assert ratings.says_quality
    assert ratings.quality.beats_the_base_rate
    assert ratings.teams
    balance = balance_of(demo)
    assert [line.finding for line in balance.scenarios if line.name == "The Ferry Stage"] == ["uneven"]
    # The war's seeds are drawn anew each time, so the share may fall just beyond even odds; the players account for it.
    assert {line.finding for line in balance.factions} <= {"even", "players"}
