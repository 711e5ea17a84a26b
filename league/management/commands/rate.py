"""The ratings a season file comes to, without a database: `manage.py rate SEASON.json`."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from collections import Counter
from typing import Any

from django.core.management.base import BaseCommand

from league.engines.documents.season import SeasonDocument
from league.engines.documents.season_ratings import many_games, month_of, rated_games
from league.engines.ratings import History, Quality, SkillHistory, quality, rate, rate_many
from league.management.columns import in_columns
from league.management.commands.table import read

BINS = 5


class Command(BaseCommand):
    help = "Print what the games of a season document make of its entrants' ratings. No database is touched."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("season", help="path of the season document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of columns")

    def handle(self, **options: Any) -> None:
        told = ratings_of(read(options["season"]))
        self.stdout.write(json.dumps(told, indent=2, ensure_ascii=False) if options["json"] else as_text(told))


def ratings_of(season: SeasonDocument) -> dict[str, Any]:
    """Everything there is to say, as plain values."""
    singles, others = rated_games(season), many_games(season)
    history, skills = rate(singles), rate_many(others)
    names = {each.id: each.name for each in season.entrants}
    games = Counter(entrant for game in singles for entrant in (game.first, game.second))
    many = Counter(entrant for game in others for side in game.sides for entrant in side)
    return {
        "ratings": rows_of(history, names, games),
        "many_sided": skills_of(skills, names, many),
        "forecasts": quality_of(quality(history.forecasts(), bins=BINS)),
    }


def rows_of(history: History, names: dict[str, str], games: Counter[str]) -> list[dict[str, Any]]:
    last = history.last
    rows = [
        {
            "entrant": entrant,
            "name": names[entrant],
            "rating": round(point.rating.rating, 1),
            "deviation": round(point.rating.deviation, 1),
            "volatility": round(point.rating.volatility, 6),
            "games": games[entrant],
            "curve": [
                {
                    "month": f"{month_of(each.period):%Y-%m}",
                    "rating": round(each.rating.rating, 1),
                    "deviation": round(each.rating.deviation, 1),
                    "games": each.games,
                }
                for each in history.curve(entrant)
            ],
        }
        for entrant in (last.players if last is not None else ())
        if (point := last.point(entrant) if last is not None else None) is not None
    ]
    return sorted(rows, key=lambda row: (-float(str(row["rating"])), str(row["entrant"])))


def skills_of(skills: SkillHistory, names: dict[str, str], games: Counter[str]) -> list[dict[str, Any]]:
    rated = sorted(skills.last.items(), key=lambda one: (-one[1].cautious, one[0]))
    return [
        {
            "entrant": entrant,
            "name": names[entrant],
            "mu": round(skill.mu, 3),
            "sigma": round(skill.sigma, 3),
            "at_least": round(skill.cautious, 3),
            "games": games[entrant],
        }
        for entrant, skill in rated
    ]


def quality_of(found: Quality | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "games": found.games,
        "log_loss": round(found.log_loss, 4),
        "brier": round(found.brier, 4),
        "base_rate": round(found.base_rate, 4),
        "base_log_loss": round(found.base_log_loss, 4),
        "base_brier": round(found.base_brier, 4),
    }


def as_text(told: dict[str, Any]) -> str:
    parts = []
    if told["ratings"]:
        lines = [
            [str(place), row["name"], f"{row['rating']:.0f}", f"± {row['deviation']:.0f}", str(row["games"])]
            for place, row in enumerate(told["ratings"], start=1)
        ]
        parts.append(in_columns([["#", "name", "rating", "deviation", "games"], *lines]))
    if told["many_sided"]:
        lines = [
            [
                str(place),
                row["name"],
                f"{row['mu']:.1f}",
                f"± {row['sigma']:.1f}",
                f"{row['at_least']:.1f}",
                str(row["games"]),
            ]
            for place, row in enumerate(told["many_sided"], start=1)
        ]
        parts.append(in_columns([["#", "name (many sides)", "skill", "deviation", "at least", "games"], *lines]))
    if told["forecasts"]:
        parts.append(
            "forecasts of {games} games: log loss {log_loss:.4f} (base rate {base_log_loss:.4f}), "
            "Brier {brier:.4f} (base rate {base_brier:.4f})".format(**told["forecasts"])
        )
    return "\n\n".join(parts) or "No game counts yet."
