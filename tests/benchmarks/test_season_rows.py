"""How long the table of a season of 2,000 entrants takes from rows to ranks, against the engine alone on the same games.

Run with `pytest tests/benchmarks/test_season_rows.py --benchmark-only -s`; a plain run skips them.
"""

from __future__ import annotations

import random
import time
import uuid
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from league.engines.documents.season import standings_of
from league.seasons.models import Season
from league.seasons.queries import document_of, standings
from league.seasons.services.imports import import_season
from tests import factories

ROUNDS = 7
QUERIES = 10
WORST_SECONDS = 5.0


def crowd(entrants: int) -> dict[str, Any]:
    """Everybody meets somebody drawn anew in every round."""
    dice = random.Random(entrants)
    games = []
    for number in range(1, ROUNDS + 1):
        order = dice.sample(range(entrants), entrants)
        games += [
            {
                "id": f"r{number}-{place}",
                "round": number,
                "sides": [{"entrant": f"e{who}", "score": dice.randrange(20)} for who in order[place : place + 2]],
            }
            for place in range(0, entrants, 2)
        ]
    return {
        "format": "drumhead season 1",
        "name": f"{entrants} entrants",
        "starts_on": "2026-01-15",
        "rules": {
            "scheme": {"win_x2": 2, "draw_x2": 1, "loss_x2": 0},
            "tie_breaks": [{"name": "buchholz_cut1"}, {"name": "sonneborn_berger"}, {"name": "drawn_lot"}],
        },
        "entrants": [{"id": f"e{n}", "name": f"Entrant {n}", "players": [f"Player {n}"]} for n in range(entrants)],
        "rounds": [{"number": number} for number in range(1, ROUNDS + 1)],
        "games": games,
    }


@pytest.mark.parametrize("entrants", [2, 2_000])
def test_the_table_from_rows(benchmark, club, organiser, entrants):
    ruleset = factories.EditionFactory(ruleset__club=club).ruleset
    began = time.perf_counter()
    made = import_season(club, document=crowd(entrants), ruleset=ruleset, submission=uuid.uuid4(), by=organiser)
    taken_in = time.perf_counter() - began
    season = Season.objects.select_related("club").get(pk=made.pk)
    with CaptureQueriesContext(connection) as queries:
        table = benchmark.pedantic(standings, args=(season,), rounds=3, iterations=1)
    assert len(table.rows) == entrants
    assert len(queries) == 3 * QUERIES
    document = document_of(season)
    began = time.perf_counter()
    standings_of(document)
    engine = time.perf_counter() - began
    seconds = benchmark.stats.stats.min
    print(  # noqa: T201 - a benchmark says what it measured
        f"\n{entrants} entrants: taken in {taken_in:.2f} s, table {seconds:.3f} s, "
        f"{seconds / engine:.1f} times the engine alone"
    )
    assert seconds < WORST_SECONDS
