"""A war out of its document, turn by turn, without a database: `manage.py replay CAMPAIGN.json`."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from league.engines.documents.campaign import CampaignDocument, read_bytes
from league.engines.documents.reading import MOST_BYTES, BadDocument
from league.engines.war import TurnState, dice, replay
from league.engines.war.chronicle import sentences
from league.engines.war.fog import UMPIRE, view
from league.management.columns import in_columns

CONDITIONS = {"supplied": "supplied", "short": "short", "cut_off": "cut off"}
VERDICTS = {
    "right": "right",
    "wrong": "WRONG",
    "seed_kept": "its seed is not told yet",
    "no_seed": "no seed was promised",
}


class Command(BaseCommand):
    help = (
        "Print a war turn by turn from its campaign document, with what happened and every roll checked. No database."
    )
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("campaign", help="path of the campaign document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of text")

    def handle(self, **options: Any) -> None:
        document = read(options["campaign"])
        states = replay(document.campaign, document.facts)
        if options["json"]:
            told = [as_json(document, states, state) for state in states]
            self.stdout.write(json.dumps({"turns": told, "dice": rolls(document)}, indent=2, ensure_ascii=False))
        else:
            self.stdout.write("\n".join(Words(document, states).lines()))


def read(name: str) -> CampaignDocument:
    """The war in the file; CommandError with every fault."""
    try:
        if name == "-":
            data = sys.stdin.buffer.read(MOST_BYTES + 1)
        else:
            with Path(name).open("rb") as file:
                data = file.read(MOST_BYTES + 1)
        return read_bytes(data)
    except OSError as failure:
        raise CommandError(f"{name} cannot be read: {failure.strerror}.") from None
    except BadDocument as failure:
        raise CommandError(f"{name} is not a campaign in order:\n{failure}") from None


def as_json(document: CampaignDocument, states: tuple[TurnState, ...], state: TurnState) -> dict[str, Any]:
    """One turn, whole. What ends in `_x100` is in hundredths of a load."""
    return {
        "turn": state.turn,
        "phase": state.phase,
        "control": dict(sorted(state.control.items())),
        "points": dict(state.points),
        "depots": dict(sorted(state.depots.items())),
        "stocks": [
            {"region": region, "faction": faction, "amount_x100": amount}
            for (region, faction), amount in sorted(state.balances.items())
        ],
        "forces": [
            {
                "force": force.key,
                "faction": force.faction,
                "region": force.region,
                "road": force.road,
                "gone": force.gone,
                "condition": force.condition,
                "units": [
                    {
                        "unit": unit,
                        "present": here.present,
                        "recovering": here.recovering_figures,
                        "lost": here.lost,
                        "experience": here.experience,
                    }
                    for unit, here in force.states.items()
                ],
            }
            for force in state.forces.values()
        ],
        "battles": [
            {
                "battle": each.id,
                "region": each.region,
                "road": each.road,
                "factions": list(each.factions),
                "forces": list(each.forces),
                "told": each.outcome is not None,
                "winner": each.outcome.winner if each.outcome else "",
                "source": each.outcome.source if each.outcome else "",
            }
            for each in state.battles
        ],
        "entries": [asdict(each) for each in state.entries],
        "rolls_needed": [asdict(each) for each in state.rolls_needed],
        "ended": asdict(state.ended) if state.ended else None,
        "told": [each.text for each in told(document, states, state.turn)],
    }


def told(document: CampaignDocument, states: tuple[TurnState, ...], turn: int) -> Any:
    seen = view(document.campaign, states, viewer=UMPIRE, turn=turn)
    return sentences(document.campaign, seen) if seen else ()


def rolls(document: CampaignDocument) -> list[dict[str, Any]]:
    return [asdict(each) for each in dice.check(document.campaign, document.facts)]


class Words:
    """The war as a reader at a terminal wants it, with names for keys."""

    def __init__(self, document: CampaignDocument, states: tuple[TurnState, ...]) -> None:
        self.document, self.states = document, states
        self.factions = {each.key: each.name for each in document.campaign.factions}

    def lines(self) -> Iterator[str]:
        yield self.document.campaign.name
        for state in self.states:
            yield from ("", f"Turn {state.turn}" if state.turn else "The beginning", "")
            yield from (f"  {each.text}" for each in told(self.document, self.states, state.turn))
            yield from self.forces(state)
            yield from self.wanted(state)
        found = rolls(self.document)
        if found:
            yield from ("", "Dice", "")
            yield from (f"  turn {each['turn']}, {each['label']}: {VERDICTS[each['verdict']]}" for each in found)

    def forces(self, state: TurnState) -> Iterator[str]:
        regions = {each.key: each.name for each in state.map.regions}
        lines = [["faction", "force", "where", "figures", "lost", "supply"]]
        for each in state.forces.values():
            where = each.gone or regions.get(each.region, each.region)
            supply = "" if each.gone else CONDITIONS[each.condition]
            name = self.factions.get(each.faction, each.faction)
            lines.append([name, each.name, where, str(each.present), str(each.lost), supply])
        yield ""
        yield from (f"  {line}" for line in in_columns(lines).splitlines())
        points = ", ".join(f"{self.factions[key]} {points}" for key, points in state.points.items())
        yield f"  Points: {points}."

    def wanted(self, state: TurnState) -> Iterator[str]:
        for each in state.rolls_needed:
            yield f"  To be rolled: {each.count} of {each.sides} sides for {each.label}."
