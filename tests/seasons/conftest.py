from __future__ import annotations

import uuid
from datetime import date

import pytest

from league.seasons.services.entrants import enter_each
from league.seasons.services.seasons import create_season
from tests import factories

RULES = {
    "scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0, "bye_x2": 6, "forfeit_win_x2": 6},
    "tie_breaks": [{"name": "score_difference"}, {"name": "buchholz"}],
    "counts": "filed",
}


@pytest.fixture
def ruleset(club):
    """The first shipped ruleset, in the club's hands."""
    edition = factories.EditionFactory(ruleset__club=club, ruleset__name="Reeds")
    return edition.ruleset


@pytest.fixture
def season(club, ruleset, organiser):

    return create_season(
        club,
        ruleset=ruleset,
        name="Spring",
        starts_on=date(2026, 1, 15),
        rules=RULES,
        submission=uuid.uuid4(),
        by=organiser,
    )


@pytest.fixture
def cast(season, organiser, member, opponent, guest, umpire):
    """Four entrants, each a player for themselves, by name."""

    rows = enter_each(season, member_ids=[member.pk, opponent.pk, guest.pk, umpire.pk], by=organiser)
    return {row.name: row for row in rows}


@pytest.fixture
def document():
    """A small season file: results, a bye, a forfeit, a game to be played, a team, a leaver, an adjustment."""
    return {
        "format": "drumhead season 1",
        "name": "Autumn on the Sedge",
        "club": "Upper Lock Circle",
        "starts_on": "2025-09-01",
        "ends_on": "2025-12-20",
        "seed": "autumn",
        "rules": RULES,
        "entrants": [
            {"id": "brannoc", "name": "Brannoc", "players": ["Brannoc"]},
            {"id": "eels", "name": "The Eels", "players": ["Ysolde", "Tamsin"]},
            {
                "id": "hewe",
                "name": "Hewe",
                "players": ["Hewe"],
                "left": {"after_round": 1, "on": "2025-10-01", "reason": "Moved to Overbrune"},
            },
        ],
        "rounds": [{"number": 1, "on": "2025-09-12"}, {"number": 2}, {"number": 3, "note": "At the boathouse"}],
        "games": [
            {
                "id": "1a",
                "round": 1,
                "scenario": "ferry_stage",
                "sides": [
                    {"entrant": "brannoc", "score": 9, "counts": {"flags": 2}, "value_destroyed": 120},
                    {"entrant": "eels", "score": 4, "value_lost": 120},
                ],
            },
            {"id": "1b", "round": 1, "sides": [{"entrant": "hewe", "unplayed": "bye"}]},
            {
                "id": "2a",
                "round": 2,
                "sides": [
                    {"entrant": "eels", "unplayed": "forfeit_win"},
                    {"entrant": "hewe", "unplayed": "forfeit_loss"},
                ],
            },
            {"id": "3a", "round": 3, "on": "2025-11-02", "sides": [{"entrant": "eels"}, {"entrant": "brannoc"}]},
            {
                "id": "friendly",
                "round": 0,
                "report": "awaiting",
                "sides": [{"entrant": "eels", "score": 7}, {"entrant": "brannoc", "score": 7}],
            },
        ],
        "adjustments": [{"entrant": "eels", "points_x2": -1, "reason": "Left the tables standing", "after_round": 2}],
    }
