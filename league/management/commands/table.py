"""The table of a season file, without a database: `manage.py table SEASON.json`."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from league.engines.documents.reading import MOST_BYTES, BadDocument, parse
from league.engines.documents.season import SeasonDocument, read_season, standings_of
from league.engines.standings import Reason, Row, Table, explain
from league.engines.standings.table import written
from league.management.columns import in_columns


class Command(BaseCommand):
    help = "Print the standings of a season document, with every tie-break value. No database is touched."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("season", help="path of the season document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of columns")
        parser.add_argument("--round", type=int, dest="through_round", metavar="N", help="as it stood after round N")
        parser.add_argument(
            "--date", type=date.fromisoformat, dest="through_date", metavar="D", help="as it stood that day, YYYY-MM-DD"
        )
        parser.add_argument("--explain", metavar="ENTRANT", help="the reasons of every number of one entrant, by id")

    def handle(self, **options: Any) -> None:
        season = read(options["season"])
        if options["through_round"] is not None and options["through_round"] < 0:
            raise CommandError("There is no round before the first.")
        table = standings_of(season, through_round=options["through_round"], through_date=options["through_date"])
        if options["explain"] is None:
            self.stdout.write(as_json(table) if options["json"] else as_text(table))
            return
        try:
            reasons = reasons_of(table, options["explain"])
        except KeyError:
            raise CommandError(f"There is no entrant {options['explain']!r} in this table.") from None
        self.stdout.write(json.dumps(reasons, indent=2, ensure_ascii=False) if options["json"] else in_words(reasons))


def read(name: str) -> SeasonDocument:
    """The season in the file; CommandError with every fault."""
    try:
        data = sys.stdin.buffer.read(MOST_BYTES + 1) if name == "-" else contents(Path(name))
        return read_season(parse(data))
    except OSError as failure:
        raise CommandError(f"{name} cannot be read: {failure.strerror}.") from None
    except BadDocument as failure:
        raise CommandError(f"{name} is not a season in order:\n{failure}") from None


def contents(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(MOST_BYTES + 1)


def cells(row: Row, *, per_game: bool) -> list[str]:
    return [
        f"{row.rank}=" if row.shared else str(row.rank),
        row.name,
        *map(str, (row.played, row.won, row.drawn, row.lost, row.unplayed)),
        written(row.points_x2, 2),
        *([written(row.points_per_game or 0, 1)] if per_game else []),
        *(value.text for value in row.values),
    ]


def as_text(table: Table) -> str:
    rules = table.count.rules
    per_game = rules.rank_by == "points_per_game"
    head = ["#", "name", "played", "won", "drawn", "lost", "unplayed", "points", *(["per game"] if per_game else [])]
    lines = [
        [*head, *(each.column for each in rules.tie_breaks)],
        *(cells(row, per_game=per_game) for row in table.rows),
    ]
    return in_columns(lines)


def as_json(table: Table) -> str:
    rows = [
        {
            "rank": row.rank,
            "shared": row.shared,
            "entrant": row.entrant_id,
            "name": row.name,
            "played": row.played,
            "won": row.won,
            "drawn": row.drawn,
            "lost": row.lost,
            "unplayed": row.unplayed,
            "points_x2": row.points_x2,
            "points_per_game": None if row.points_per_game is None else written(row.points_per_game, 1),
            "tie_breaks": {value.name: value.text for value in row.values},
        }
        for row in table.rows
    ]
    return json.dumps(rows, indent=2, ensure_ascii=False)


def reasons_of(table: Table, entrant: str) -> list[dict[str, Any]]:
    row = table.row(entrant)
    columns = [("points", written(row.points_x2, 2), 2), *((each.name, each.text, each.scale) for each in row.values)]
    return [
        {
            "column": column,
            "value": text,
            "reasons": [plain(reason, scale) for reason in explain(table, entrant, column)],
        }
        for column, text, scale in columns
    ]


def plain(reason: Reason, scale: int) -> dict[str, Any]:
    return {
        "kind": reason.kind,
        "contribution": written(reason.contribution, scale),
        "divisor": reason.divisor,
        "game": reason.game_id,
        "round": reason.round,
        "opponent": reason.opponent_id,
        "note": reason.note,
    }


def in_words(columns: list[dict[str, Any]]) -> str:
    lines = []
    for column in columns:
        lines.append(f"{column['column']} {column['value']}")
        for reason in column["reasons"]:
            over = f"/{reason['divisor']}" if reason["divisor"] else ""
            where = [f"{name} {reason[name]}" for name in ("round", "game", "opponent") if reason[name] is not None]
            note = f": {reason['note']}" if reason["note"] else ""
            lines.append(f"  {reason['contribution'] + over:>8}  {reason['kind']}  {', '.join(where)}{note}".rstrip())
    return "\n".join(lines)
