"""How long it takes to say what a big night needs and what could meet it: 200 tables, 400 people, 60 sorts of kit.

Run with `pytest tests/benchmarks/test_kit_needs.py --benchmark-only -s`; a plain run skips them. Processor time of this
process, the best of three; how much of it is counting out what the games ask for is printed too.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable

import pytest

from league.engines.kit.first_game import first_game
from league.engines.kit.items import Piece
from league.engines.kit.model import Carrier
from league.engines.kit.needs import Game, Side, Unit, needs_of
from league.engines.kit.night import Holding, night_of
from league.engines.rulesets import parse_ruleset
from league.rulesets.queries import shipped_documents

TABLES, PEOPLE, HOLDINGS, TIMES = 200, 400, 3_000, 3
COLOURS = ("red", "blue", "white", "green", "black", "yellow", "")
WORST_SECONDS = {"needs and uses": 1.0, "first game": 0.5}


def kinds() -> list[Piece]:
    found = [
        piece
        for colour in COLOURS
        for piece in (
            Piece(category="token", colour=colour),
            Piece(category="token", use="activation", colour=colour),
            Piece(category="die", sides=6, colour=colour),
            Piece(category="die", sides=10, colour=colour),
            Piece(category="marker", use="suppression", colour=colour),
        )
    ]
    found += [Piece(category="template", sizes_mm=each) for each in ((25,), (51,), (76,), (102,), (25, 51, 76, 102))]
    found += [Piece(category="ruler", sizes_mm=(each,)) for each in (305, 610, 914, 1219, 3000)]
    found += [
        Piece(category="scenery", use=use, scale_mm=mm) for use in ("hill", "reeds", "cart", "dyke") for mm in (20, 28)
    ]
    found += [Piece(category="mat", sizes_mm=each) for each in ((1829, 1219), (1200, 1200), (1800, 1800))]
    return [
        *found,
        Piece(category="bag"),
        Piece(category="other", use="cup"),
        Piece(category="other", use="book"),
        Piece(category="paper"),
    ]


@pytest.fixture(scope="module")
def games() -> list[Game]:
    dice = random.Random(1)
    rulesets = [parse_ruleset(each) for each in shipped_documents().values()]
    found = []
    for number in range(TABLES):
        rules = dice.choice(rulesets)
        classes = [each.key for each in rules.unit_classes]
        sides = tuple(
            Side(
                key=key,
                units=tuple(
                    Unit(
                        name=f"Unit {each}",
                        unit_class=dice.choice(classes),
                        figures=dice.randint(1, 12),
                        gear=("muskets", "smoke pots"),
                    )
                    for each in range(dice.randint(6, 16))
                ),
            )
            for key in ("east", "west")
        )
        found.append(Game(table=f"t{number}", ruleset=rules, scenario=dice.choice(rules.scenarios).key, sides=sides))
    return found


@pytest.fixture(scope="module")
def people() -> list[Carrier]:
    return [Carrier(key=f"p{each}", name=f"Member {each}", tables=(f"t{each // 2}",)) for each in range(PEOPLE)]


@pytest.fixture(scope="module")
def holdings() -> list[Holding]:
    dice, sorts = random.Random(2), kinds()
    return [
        Holding(
            key=f"h{each}",
            name=f"Box {each}",
            piece=dice.choice(sorts),
            count=dice.randint(1, 30),
            carrier=f"p{dice.randrange(PEOPLE)}",
        )
        for each in range(HOLDINGS)
    ]


def best_of(act: Callable[[], object]) -> float:
    times = []
    for _ in range(TIMES):
        start = time.process_time()
        act()
        times.append(time.process_time() - start)
    return min(times)


def say(words: str) -> None:
    print(f"\n{words}", end="")  # noqa: T201 - a benchmark says what it measured


def test_the_needs_of_a_big_night_are_reckoned_at_once(benchmark, games, people, holdings):
    def count():
        return [each for game in games for each in needs_of(game)]

    def reckon():
        return night_of(count(), holdings, people)

    night = benchmark.pedantic(reckon, rounds=1, iterations=1)
    seconds, counting = best_of(reckon), best_of(count)
    say(
        f"{len(night.demands)} demands, {len(night.uses)} uses: {seconds:.3f} s, {counting / seconds:.0%} of it counting"
    )
    assert seconds < WORST_SECONDS["needs and uses"]


def test_a_first_game_is_found_among_everybodys_kit(benchmark, games, people, holdings):
    asked = needs_of(games[0])
    lenders = {each.key: each.name for each in people}

    def find():
        return first_game(asked, holdings, newcomer="p0", lenders=lenders)

    benchmark.pedantic(find, rounds=1, iterations=1)
    seconds = best_of(find)
    say(f"{len(asked)} needs among {HOLDINGS} holdings of {PEOPLE} people: {seconds:.3f} s")
    assert seconds < WORST_SECONDS["first game"]
