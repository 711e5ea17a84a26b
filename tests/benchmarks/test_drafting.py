"""How long an organiser waits: from the service call to the draft, and from the press to the published round.

A season in the database after eight Swiss rounds: everybody rated, newcomers, households, roles; a table for every
game and scenarios to choose from. Run with `pytest tests/benchmarks/test_drafting.py --benchmark-only -s`; a plain run
skips them. Times are processor time of this process, the best of three, so that other work on the machine does not
count; wall time is printed too.
"""

from __future__ import annotations

import random
import time
import uuid
from collections.abc import Callable
from typing import Any

import pytest

from league.engines.documents.season import read_season
from league.engines.documents.season_draft import draft_round
from league.seasons.models import Season
from league.seasons.queries.drafts import draft_of
from league.seasons.services.drafts import as_it_is, publish_round
from league.seasons.services.imports import import_season
from league.seasons.services.rounds import add_round
from tests import factories

ROUNDS = 8
TIMES = 3
WORST_SECONDS = {250: 0.5, 500: 0.7, 1_000: 1.0, 2_000: 4.0}
WORST_PUBLISHED = 4.0


def crowd(entrants: int) -> dict[str, Any]:
    """A season document after eight rounds, drawn near in score and without repeats, quickly."""
    dice = random.Random(entrants)
    points = dict.fromkeys((f"e{number}" for number in range(entrants)), 0)
    met: dict[str, set[str]] = {each: set() for each in points}
    attacks = dict.fromkeys(points, 0)
    games = []
    for number in range(1, ROUNDS + 1):
        left = sorted(points, key=lambda each: (-points[each], dice.random()))
        while left:
            one = left.pop(0)
            other = next((each for each in left if each not in met[one]), left[0])
            left.remove(other)
            met[one].add(other)
            met[other].add(one)
            pair = sorted((one, other), key=lambda each: (attacks[each], dice.random()))
            attacks[pair[0]] += 1
            scores = (dice.randrange(8), dice.randrange(8))
            sides = [{"entrant": each, "score": score} for each, score in zip(pair, scores, strict=True)]
            games.append({"id": f"r{number}-{len(games)}", "round": number, "sides": sides})
            for mine, theirs, each in (*zip(scores, scores[::-1], pair, strict=True),):
                points[each] += 2 * (mine > theirs) + (mine == theirs)
    return {
        "format": "drumhead season 1",
        "name": f"{entrants} entrants",
        "starts_on": "2026-01-15",
        "rules": {
            "scheme": {"win_x2": 2, "draw_x2": 1, "loss_x2": 0},
            "tie_breaks": [{"name": "buchholz_cut1"}, {"name": "sonneborn_berger"}, {"name": "drawn_lot"}],
        },
        "pairing": {"format": "swiss", "rounds": ROUNDS + 1},
        "entrants": [
            {"id": each, "name": f"Entrant {each}", "players": [f"Player {each}"]}
            | ({"newcomer": True} if dice.random() < 0.1 else {})
            | ({"party": f"p{dice.randrange(entrants // 3)}"} if dice.random() < 0.3 else {})
            for each in points
        ],
        "rounds": [{"number": number} for number in range(1, ROUNDS + 1)],
        "games": games,
    }


def timed(work: Callable[[], object], times: int = TIMES) -> tuple[float, float]:
    """Processor and wall seconds, the best of some."""
    found = []
    for _ in range(times):
        wall, own = time.perf_counter(), time.process_time()
        work()
        found.append((time.process_time() - own, time.perf_counter() - wall))
    return min(each[0] for each in found), min(each[1] for each in found)


def season_of(entrants: int, club, organiser) -> Season:
    ruleset = factories.EditionFactory(ruleset__club=club).ruleset
    venue = factories.VenueFactory(club=club)
    for number in range(1, entrants // 2 + 1):
        factories.TableFactory(venue=venue, number=number, width_mm=1800, depth_mm=1200)
    made = import_season(club, document=crowd(entrants), ruleset=ruleset, submission=uuid.uuid4(), by=organiser)
    return Season.objects.select_related("club").get(pk=made.pk)


@pytest.mark.parametrize("entrants", sorted(WORST_SECONDS))
def test_from_the_service_call_to_the_draft_and_to_the_published_round(benchmark, club, organiser, entrants):
    season = season_of(entrants, club, organiser)
    ninth = as_it_is(add_round(season, by=organiser))
    draft = benchmark.pedantic(draft_of, args=(ninth,), rounds=1, iterations=1)
    assert len(draft.lines) == entrants // 2
    assert all(line.reasons and line.table for line in draft.lines)
    assert draft.is_exact
    seconds, wall = timed(lambda: draft_of(ninth))
    document = read_season(crowd(entrants))
    engine, _ = timed(lambda: draft_round(document, ROUNDS + 1))
    published, published_wall = timed(lambda: publish_round(ninth, seen=draft.digest, by=organiser), 1)
    print(  # noqa: T201 - a benchmark says what it measured
        f"\n{entrants} entrants: draft {seconds:.2f} s ({wall:.2f} s on the wall), {seconds / engine:.1f} times the "
        f"engine alone; published {published:.2f} s ({published_wall:.2f} s)",
        end="",
    )
    assert seconds < WORST_SECONDS[entrants]
    assert published < WORST_PUBLISHED * max(1, entrants / 1_000)
