"""The next round of a season file, without a database: `manage.py pair SEASON.json`."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from league.engines.documents.season import SeasonDocument
from league.engines.documents.season_draft import DivisionDraft, draft_round
from league.engines.documents.season_players import last_round
from league.engines.pairing import BadRound, Reason
from league.management.commands.table import read


class Command(BaseCommand):
    help = "Print the next round of a season document with the reasons of every pairing. No database is touched."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("season", help="path of the season document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of lines")
        parser.add_argument("--round", type=int, metavar="N", help="this round instead of the next one")

    def handle(self, **options: Any) -> None:
        season = read(options["season"])
        number = options["round"] or last_round(season) + 1
        try:
            drafts = draft_round(season, number)
        except BadRound as failure:
            raise CommandError("\n".join(failure.violations)) from None
        self.stdout.write(as_json(season, number, drafts) if options["json"] else as_text(season, number, drafts))


def as_text(season: SeasonDocument, number: int, drafts: tuple[DivisionDraft, ...]) -> str:
    names = {each.id: each.name for each in season.entrants}
    titles = {each.id: each.name for each in season.divisions}
    lines = [f"Round {number} of {season.name}"]
    for each in drafts:
        if each.division:
            lines.append(titles[each.division])
        for place, pairing in enumerate(each.pairings, start=1):
            lines.append(f"{place:>3}  {' - '.join(names[key] for key in pairing.ids)}")
            lines += told(pairing.reasons)
        for bye in each.byes:
            lines.append(f"     {names[bye.id]} has the bye")
            lines += told(bye.reasons)
        lines += [f"  !  {given.words}" for given in each.gave_way]
    return "\n".join(lines)


def told(reasons: tuple[Reason, ...]) -> list[str]:
    return [f"       {reason.words}" for reason in reasons if reason.words]


def as_json(season: SeasonDocument, number: int, drafts: tuple[DivisionDraft, ...]) -> str:
    return json.dumps(
        {
            "season": season.name,
            "round": number,
            "divisions": [
                {
                    "division": each.division or None,
                    "pairings": [
                        {"entrants": list(pairing.ids), "reasons": plain(pairing.reasons)} for pairing in each.pairings
                    ],
                    "byes": [{"entrant": bye.id, "reasons": plain(bye.reasons)} for bye in each.byes],
                    "gave_way": [
                        {
                            "criterion": given.criterion,
                            "total": given.total,
                            "where": [list(where) for where in given.where],
                            "unavoidable": given.unavoidable,
                            "words": given.words,
                        }
                        for given in each.gave_way
                    ],
                }
                for each in drafts
            ],
        },
        indent=2,
        ensure_ascii=False,
    )


def plain(reasons: tuple[Reason, ...]) -> list[dict[str, Any]]:
    return [{"criterion": each.criterion, "cost": each.cost, "words": each.words} for each in reasons]
