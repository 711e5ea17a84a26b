"""Who gets what supply on a map file, and why no more, without a database: `manage.py supply MAP.json`."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from league.engines.documents.map import MapDocument, read_map, unready
from league.engines.documents.reading import MOST_BYTES, BadDocument, parse
from league.engines.supply import Cut, Delivery, Distribution, ForceSupply, Sent, distribute, send
from league.management.columns import in_columns

STATES = {"supplied": "supplied", "short": "short", "cut_off": "cut off"}


class Command(BaseCommand):
    help = "Print what each force on a map document gets this turn, by which roads, and why no more. No database."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("map", help="path of the map document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of columns")

    def handle(self, **options: Any) -> None:
        document = read(options["map"])
        found = distribute(document.situation)
        sent = send(document.situation, found, document.sendings)
        if options["json"]:
            self.stdout.write(json.dumps(as_json(document, found, sent), indent=2, ensure_ascii=False))
        else:
            self.stdout.write(Words(document).of(found, sent))


def read(name: str) -> MapDocument:
    """The map in the file; CommandError with every fault."""
    try:
        if name == "-":
            data = sys.stdin.buffer.read(MOST_BYTES + 1)
        else:
            with Path(name).open("rb") as file:
                data = file.read(MOST_BYTES + 1)
        return read_map(parse(data))
    except OSError as failure:
        raise CommandError(f"{name} cannot be read: {failure.strerror}.") from None
    except BadDocument as failure:
        raise CommandError(f"{name} is not a map in order:\n{failure}") from None


def as_json(document: MapDocument, found: Distribution, sent: Sequence[Sent]) -> dict[str, Any]:
    """Everything there is to say. What ends in `_x100` is in hundredths of a load."""
    return {
        "not_ready": [each.text for each in unready(document)],
        "forces": [
            {
                "force": each.force,
                "faction": each.faction,
                "state": each.state,
                "need": each.need,
                "loads": each.loads,
                "arrived_x100": each.arrived,
                "why": None if each.why is None else asdict(each.why),
            }
            for each in found.forces
        ],
        "deliveries": [delivery(each, "force") for each in found.deliveries],
        "stocks": [
            {
                "faction": each.faction,
                "region": each.region,
                "held": each.held,
                "produced": each.produced,
                "sent": each.sent,
                "kept": each.kept,
                "arrived_x100": each.arrived,
                "spoilt_x100": each.spoilt,
            }
            for each in found.stocks
        ],
        "roads": [{**asdict(each), "full": each.full} for each in found.roads],
        "sendings": [
            {
                "sending": each.key,
                "faction": each.faction,
                "origin": each.origin,
                "to": each.to,
                "asked": each.asked,
                "loads": each.loads,
                "arrived_x100": each.arrived,
                "spoilt_x100": each.spoilt,
                "deliveries": [delivery(one, "sending") for one in each.deliveries],
            }
            for each in sent
        ],
    }


def delivery(each: Delivery, to: str) -> dict[str, Any]:
    return {
        to: each.force,
        "faction": each.faction,
        "stock": each.stock,
        "loads": each.loads,
        "steps": [asdict(step) for step in each.steps],
        "loss_x100": each.loss,
        "arrived_x100": each.arrived,
        "spoilt_x100": each.spoilt,
    }


class Words:
    """The answer as a reader at a terminal wants it, with names for keys."""

    def __init__(self, document: MapDocument) -> None:
        self.document = document
        self.regions = {each.key: each.name for each in document.map.regions}
        self.factions = {each.key: each.name for each in document.factions}
        self.forces = {each.key: each for each in document.forces}

    def of(self, found: Distribution, sent: Sequence[Sent]) -> str:
        parts = [f"Not ready for a war: {each.text}" for each in unready(self.document)]
        for faction, name in self.factions.items():
            forces = [each for each in found.forces if each.faction == faction]
            parts.append("\n".join([name, *self.table(forces), *self.reasons(forces)]))
        parts += ["\n".join(each) for each in (list(self.stocks(found)), list(self.sendings(sent))) if each]
        return "\n\n".join(parts) or "There is no faction on this map."

    def table(self, forces: Sequence[ForceSupply]) -> list[str]:
        if not forces:
            return ["No forces."]
        lines = [["order", "force", "need", "sent", "arrived", "state"]]
        for each in forces:
            force = self.forces[each.force]
            numbers = (each.need, each.loads, hundredths(each.arrived))
            name = f"{force.name} in {self.regions[force.region]}"
            lines.append([str(force.importance), name, *map(str, numbers), STATES[each.state]])
        return in_columns(lines).splitlines()

    def reasons(self, forces: Sequence[ForceSupply]) -> Iterator[str]:
        for each in forces:
            if each.why is not None:
                told = "; ".join(self.reason(each.why)) or "no road leads to it from any stock"
                yield f"{self.forces[each.force].name} is {STATES[each.state]}: {told}."

    def reason(self, cut: Cut) -> Iterator[str]:
        for key in cut.full_roads:
            yield f"the road from {self.road(key)} is full"
        if cut.spent:
            yield f"nothing is left in {', '.join(self.regions[key] for key in cut.spent)}"
        if cut.shared_with:
            yield f"what came went to {', '.join(self.forces[key].name for key in cut.shared_with)} as well"
        for each in cut.barriers:
            holder = f"held by {self.factions[each.holder]}" if each.holder else "held by nobody"
            yield f"{self.regions[each.region]} blocks ({'contested' if each.contested else holder})"

    def road(self, key: str) -> str:
        road = self.document.map.road(key)
        return key if road is None else f"{self.regions[road.a]} to {self.regions[road.b]}"

    def stocks(self, found: Distribution) -> Iterator[str]:
        if found.stocks:
            lines = [["faction", "stock in", "held", "produced", "sent", "kept", "spoilt on the way"]]
            lines += [
                [
                    self.factions[each.faction],
                    self.regions[each.region],
                    *map(str, (each.held, each.produced, each.sent, each.kept, hundredths(each.spoilt))),
                ]
                for each in found.stocks
            ]
            yield from in_columns(lines).splitlines()

    def sendings(self, sent: Sequence[Sent]) -> Iterator[str]:
        for each in sent:
            yield (
                f"Sent from {self.regions[each.origin]} to {self.regions[each.to]}: {each.loads} of {each.asked}, "
                f"of which {hundredths(each.arrived)} arrived."
            )


def hundredths(value: int) -> str:
    return f"{value // 100}.{value % 100:02}"
