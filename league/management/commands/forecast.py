"""The forecast of a season file, without a database: `manage.py forecast SEASON.json`."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from league.engines.documents.season import SeasonDocument
from league.engines.documents.season_forecast import expectation_by, ratings_in
from league.engines.documents.season_foretold import Foretold, foretell
from league.engines.forecast import BadForecast
from league.engines.standings.table import written
from league.management.columns import in_columns
from league.management.commands.table import read

MOST_SEASONS = 1_000_000
AIMS = {
    "title": "title",
    "final": "final",
    "semi_final": "semi-final",
    "promotion": "promotion",
    "staying_up": "staying up",
}


class Command(BaseCommand):
    help = (
        "Print the odds of every place at the end of a season document, by the ratings its own games give, and who is "
        "through or out for certain. No database is touched."
    )
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("season", help="path of the season document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of columns")
        parser.add_argument(
            "--simulations", type=int, metavar="N", help="how many seasons are drawn (else as many as are fitting)"
        )
        parser.add_argument(
            "--seed", type=int, metavar="S", help="what the dice are thrown from (else the season's own)"
        )
        parser.add_argument("--division", default="", metavar="D", help="the division, by its id")

    def handle(self, **options: Any) -> None:
        season = read(options["season"])
        if options["simulations"] is not None and not 1 <= options["simulations"] <= MOST_SEASONS:
            raise CommandError(f"Between 1 and {MOST_SEASONS:,} seasons can be drawn.")
        if options["seed"] is not None and options["seed"] < 0:
            raise CommandError("A seed is a whole number from 0 up.")
        try:
            told = foretell(
                season,
                expected=expectation_by(ratings_in(season)),
                division=options["division"],
                seasons=options["simulations"],
                seed=options["seed"],
            )
        except BadForecast as failure:
            raise CommandError("\n".join(failure.violations)) from None
        names = {each.id: each.name for each in season.entrants}
        self.stdout.write(
            json.dumps(as_json(told, season, names), indent=2, ensure_ascii=False)
            if options["json"]
            else as_text(told, names)
        )


def as_json(told: Foretold, season: SeasonDocument, names: dict[str, str]) -> dict[str, Any]:
    return {
        "season": season.name,
        "open_games": len(told.fixtures),
        "rounds_to_draw": told.rounds_to_draw,
        "simulations": told.seasons,
        "entrants": [
            {
                "entrant": entrant,
                "name": names[entrant],
                "points_x2": told.points_x2[place],
                "places": list(told.places[place]),
                "errors": list(told.errors[place]),
                "aims": {
                    aim.name: {
                        "places": aim.places,
                        "chance": aim.chances[place].chance,
                        "error": aim.chances[place].error,
                        "verdict": aim.verdicts[place],
                    }
                    for aim in told.aims
                },
            }
            for place, entrant in enumerate(told.ids)
        ],
    }


def as_text(told: Foretold, names: dict[str, str]) -> str:
    head = ["#", "name", "points", *(word for aim in told.aims for word in (AIMS[aim.name], ""))]
    lines = [
        [
            str(place + 1),
            names[entrant],
            written(told.points_x2[place], 2),
            *(
                word
                for aim in told.aims
                for word in (f"{100 * aim.chances[place].chance:.1f} %", aim.verdicts[place].replace("_", " "))
            ),
        ]
        for place, entrant in enumerate(told.ids)
    ]
    return "\n\n".join([in_columns([head, *lines]), how(told)])


def how(told: Foretold) -> str:
    if told.is_over:
        return "Nothing is left to play: this is the table."
    if told.is_knockout:
        return f"{len(told.fixtures)} open games; the chances are exact, by the chance to go on in every match."
    left = f"{len(told.fixtures)} open games, {told.rounds_to_draw} rounds to be drawn"
    if not told.seasons:
        return f"{left}; every possible season was counted."
    return f"{left}; {told.seasons:,} seasons were drawn, standard error {100 * told.largest_error:.1f} % at most."
