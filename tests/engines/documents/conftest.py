from __future__ import annotations

import pytest


@pytest.fixture
def spring():
    """A small season by hand: three players, a bye a round, one result a round; wins count 3, draws 1."""
    return {
        "format": "drumhead season 1",
        "name": "Spring on the Weir",
        "club": "Weir Street Irregulars",
        "starts_on": "2026-01-15",
        "ends_on": None,
        "seed": "spring",
        "rules": {
            "scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0, "bye_x2": 6},
            "tie_breaks": [{"name": "score_difference"}],
        },
        "entrants": [
            {"id": "brannoc", "name": "Brannoc", "players": ["Brannoc"]},
            {"id": "ceriden", "name": "Ceriden", "players": ["Ceriden"]},
            {"id": "gorran", "name": "Gorran", "players": ["Gorran"]},
        ],
        "rounds": [{"number": 1, "on": "2026-01-22"}, {"number": 2, "on": "2026-02-05"}],
        "games": [
            {
                "id": "r1-1",
                "round": 1,
                "sides": [{"entrant": "brannoc", "score": 12}, {"entrant": "ceriden", "score": 7}],
            },
            {"id": "r1-2", "round": 1, "sides": [{"entrant": "gorran", "unplayed": "bye"}]},
            {
                "id": "r2-1",
                "round": 2,
                "sides": [{"entrant": "ceriden", "score": 9}, {"entrant": "gorran", "score": 4}],
            },
            {"id": "r2-2", "round": 2, "sides": [{"entrant": "brannoc", "unplayed": "bye"}]},
        ],
    }
