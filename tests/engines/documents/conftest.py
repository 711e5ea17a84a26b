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


@pytest.fixture
def thursday():
    """A small night by hand: one table with a game, one with a need told outright, two who come, three holdings."""
    needs = [
        {
            "key": "tokens",
            "name": "Tokens",
            "wanted": {"category": "token"},
            "per": "unit",
            "sharing": "apart",
        },
        {"key": "dice", "name": "Dice", "wanted": {"category": "die", "sides": 6}, "per": "pool", "sharing": "shared"},
    ]
    company = {"name": "Company", "class": "line", "figures": 12, "gear": ["muskets"]}
    return {
        "format": "drumhead night 1",
        "name": "Thursday",
        "club": "Weir Street Irregulars",
        "on": "2026-03-19",
        "rulesets": {
            "ponds": {
                "format": "drumhead ruleset 1",
                "name": "Two Ponds",
                "summary": "",
                "qualities": [],
                "unit_classes": [{"key": "line", "name": "Line", "figures_least": 1, "figures_most": 20}],
                "kit": {"needs": needs},
            }
        },
        "tables": [
            {
                "id": "t1",
                "name": "By the window",
                "game": {
                    "ruleset": "ponds",
                    "sides": [
                        {
                            "key": "east",
                            "name": "East",
                            "units": [company, {"name": "Runners", "class": "line", "figures": 6}],
                        },
                        {"key": "west", "name": "West", "units": [{"name": "Watch", "class": "line", "figures": 4}]},
                    ],
                },
            },
            {
                "id": "t2",
                "needs": [
                    {
                        "key": "tea",
                        "name": "Tea",
                        "wanted": {"category": "consumable", "use": "tea"},
                        "count": 2,
                        "importance": "pleasant",
                    }
                ],
            },
        ],
        "people": [
            {"id": "quenna", "name": "Quenna", "tables": ["t1"]},
            {"id": "ulmar", "name": "Ulmar", "carries_most_ml": 2000},
        ],
        "holdings": [
            {
                "id": "red",
                "name": "Red tokens",
                "piece": {"category": "token", "colour": "red"},
                "count": 5,
                "carrier": "quenna",
                "bulk_ml": 1,
            },
            {
                "id": "blue",
                "name": "Blue tokens",
                "piece": {"category": "token", "colour": "blue"},
                "count": 5,
                "carrier": "ulmar",
            },
            {"id": "dice", "name": "White dice", "piece": {"category": "die", "sides": 6}, "count": 20},
        ],
        "packed": [],
    }


@pytest.fixture
def weir_war():
    """Four regions in a row, the last by sea; the Irregulars and their friends the Bargees against the Wardens."""
    return {
        "format": "drumhead map 1",
        "name": "The Weir",
        "regions": [
            {"key": "ford", "name": "Harrow Ford", "terrain": "open", "x": 100, "y": 500, "produces": 4},
            {"key": "mill", "name": "Millstone", "terrain": "hills", "x": 400, "y": 450, "port": True},
            {"key": "tor", "name": "Tor", "terrain": "hills", "x": 700, "y": 300, "stronghold": False, "produces": 3},
            {"key": "quay", "name": "Weir Quay", "terrain": "marsh", "x": 600, "y": 800, "port": True},
        ],
        "roads": [
            {"key": "ford-mill", "a": "ford", "b": "mill", "capacity": 8, "loss": 5},
            {"key": "mill-tor", "a": "mill", "b": "tor", "kind": "river", "capacity": 6, "loss": 2},
            {"key": "lane", "a": "mill", "b": "quay", "kind": "sea_lane", "capacity": 3, "loss": 10},
        ],
        "factions": [
            {"key": "irregulars", "name": "The Irregulars", "side": "weir"},
            {"key": "wardens", "name": "The Wardens"},
            {"key": "bargees", "name": "The Bargees", "side": "weir"},
        ],
        "holders": {"ford": "irregulars", "mill": "irregulars", "tor": "wardens", "quay": "bargees"},
        "stocks": [
            {"region": "ford", "faction": "irregulars", "loads": 6},
            {"region": "tor", "faction": "wardens", "loads": 1},
        ],
        "forces": [
            {
                "key": "rear",
                "name": "Rear Guard",
                "faction": "irregulars",
                "region": "mill",
                "need": 4,
                "importance": 2,
            },
            {"key": "van", "name": "Vanguard", "faction": "irregulars", "region": "quay", "need": 5},
            {"key": "watch", "name": "Tor Watch", "faction": "wardens", "region": "tor", "need": 6},
            {"key": "lost", "name": "Lost Company", "faction": "wardens", "region": "ford", "need": 2},
        ],
        "sendings": [{"key": "wagons", "faction": "irregulars", "origin": "ford", "to": "mill", "loads": 5}],
    }
