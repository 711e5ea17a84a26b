"""Who brings what to a night, from its file, without a database: `manage.py kit NIGHT.json`."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from league.engines.documents.night import NightDocument, asked_of, night_to_plan, purchase_for, read_night
from league.engines.documents.reading import MOST_BYTES, BadDocument, parse
from league.engines.kit.first_game import Answer, otherwise
from league.engines.kit.model import Demand
from league.engines.kit.offers import Purchase
from league.engines.kit.plan import Line, NightUnsound, Plan, plan_night
from league.management.commands.table import contents

SECONDS = 10.0
OTHERWISE: dict[Answer, str] = {"print": "It can be printed.", "make": "It can be made.", "buy": "It must be bought."}


class Command(BaseCommand):
    help = "Print what the tables of a night document need and who brings what. No database is touched."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("night", help="path of the night document, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print JSON instead of lines")
        parser.add_argument(
            "--seconds", type=float, default=SECONDS, metavar="S", help="search for so long at most (usually 10)"
        )

    def handle(self, **options: Any) -> None:
        night = read(options["night"])
        try:
            plan = plan_night(night_to_plan(night), seconds=options["seconds"])
        except NightUnsound as failure:
            raise CommandError("\n".join(failure.faults)) from None
        purchase = purchase_for(night, plan)
        self.stdout.write(as_json(night, plan, purchase) if options["json"] else as_text(night, plan, purchase))


def read(name: str) -> NightDocument:
    """The night in the file; CommandError with every fault."""
    try:
        data = sys.stdin.buffer.read(MOST_BYTES + 1) if name == "-" else contents(Path(name))
        return read_night(parse(data))
    except OSError as failure:
        raise CommandError(f"{name} cannot be read: {failure.strerror}.") from None
    except BadDocument as failure:
        raise CommandError(f"{name} is not a night in order:\n{failure}") from None


def as_text(night: NightDocument, plan: Plan, purchase: Purchase) -> str:
    lines = [night.name, *of_tables(night), *of_packing(night, plan), *of_shortfalls(night, plan)]
    if night.offers and plan.shortfalls:
        lines += of_purchase(night, purchase)
    if not plan.proven:
        lines += ["", "There was no time to prove that no plan is better."]
    return "\n".join(lines)


def demands_by_table(night: NightDocument) -> dict[str, list[Demand]]:
    found: defaultdict[str, list[Demand]] = defaultdict(list)
    for asked in asked_of(night):
        found[asked.demand.table].append(asked.demand)
    return found


def of_tables(night: NightDocument) -> Iterator[str]:
    demands = demands_by_table(night)
    for table in night.tables:
        yield from ("", f"{table.name} needs")
        for demand in demands[table.id]:
            yield f"{demand.count:>5}  {demand.name}{'' if demand.importance == 'needed' else f', {demand.importance}'}"
            yield from (f"         {words}" for words in demand.why)
        if not demands[table.id]:
            yield "       nothing"


def of_packing(night: NightDocument, plan: Plan) -> Iterator[str]:
    """What everybody packs, and what is there already."""
    for key, name in [*((each.key, f"{each.name} brings") for each in night.people), (None, "At the venue")]:
        lines = [line for line in plan.lines if line.carrier == key]
        if lines:
            yield from ("", name)
            yield from in_words(night, lines)


def in_words(night: NightDocument, lines: Iterable[Line]) -> Iterator[str]:
    tables = {table.id: table.name for table in night.tables}
    names = {asked.demand.key: asked.demand.name for asked in asked_of(night)}
    for line in lines:
        serves = ", ".join(names[key] for key, _pieces in line.use.covers)
        yield f"{line.count:>5}  {line.name}, for {tables[line.table]}: {serves}"
        yield from (f"         {reason.words}" for reason in line.reasons)


def of_shortfalls(night: NightDocument, plan: Plan) -> Iterator[str]:
    if not plan.shortfalls:
        yield from ("", "Nothing is missing.")
        return
    tables = {table.id: table.name for table in night.tables}
    asked = {each.demand.key: each for each in asked_of(night)}
    yield from ("", "Missing")
    for short in plan.shortfalls:
        step = otherwise(asked[short.demand])
        yield f"{short.missing:>5}  {short.name}, for {tables[short.table]}"
        yield f"         {short.words}"
        yield f"         {OTHERWISE.get(step.answer) or f'From home: {step.what}.'}"


def of_purchase(night: NightDocument, purchase: Purchase) -> Iterator[str]:
    """What to buy, at least cost, and what stays missing all the same."""
    names = {asked.demand.key: asked.demand.name for asked in asked_of(night)}
    limit = "" if purchase.budget_pence is None else f", of {money(purchase.budget_pence)}"
    yield from ("", f"To buy, for {money(purchase.cost_pence)}{limit}")
    for line in purchase.lines:
        each = f"{line.offer.pieces} for {money(line.offer.price_pence)}"
        yield f"{line.packs:>5}  {line.offer.name} ({each}): {money(line.cost_pence)}"
        yield from (f"         {count} for {names[key]}" for key, count in line.serves)
        if line.over:
            yield f"         {line.over} left over"
        yield f"         {line.why}"
    for key, count, why in purchase.left:
        yield f"       still {count} short: {names[key]}. {why}"
    if not purchase.proven:
        yield "       There was no time to prove that nothing better can be bought."


def money(pence: int) -> str:
    return f"{pence // 100}.{pence % 100:02}"


def as_json(night: NightDocument, plan: Plan, purchase: Purchase) -> str:
    asked = {each.demand.key: each for each in asked_of(night)}
    document = {
        "night": night.name,
        "needs": [
            {
                "demand": each.demand.key,
                "table": each.demand.table,
                "name": each.demand.name,
                "count": each.demand.count,
                "importance": each.demand.importance,
                "why": list(each.demand.why),
            }
            for each in asked.values()
        ],
        "packing": [
            {
                "person": line.carrier,
                "holding": line.supply,
                "name": line.name,
                "table": line.table,
                "count": line.count,
                "meets": [key for key, _pieces in line.use.covers],
                "rank": line.use.rank,
                "why": [reason.words for reason in line.reasons],
            }
            for line in plan.lines
        ],
        "shortfalls": [
            {
                "demand": each.demand,
                "table": each.table,
                "name": each.name,
                "importance": each.importance,
                "asked": each.asked,
                "missing": each.missing,
                "why": each.words,
                "otherwise": otherwise(asked[each.demand]).answer,
                "note": otherwise(asked[each.demand]).what,
            }
            for each in plan.shortfalls
        ],
        "people": [
            {
                "person": each.carrier,
                "pieces": each.pieces,
                "bulk_ml": each.bulk_ml,
                "carries_most_ml": each.carries_most_ml,
            }
            for each in plan.loads
        ],
        "measures": [
            {
                "criterion": each.criterion,
                "level": each.level,
                "value": each.value,
                "bound": each.bound,
                "proof": each.proof,
            }
            for each in plan.values
        ],
        "purchase": {
            "cost_pence": purchase.cost_pence,
            "budget_pence": purchase.budget_pence,
            "proven": purchase.proven,
            "packs": [
                {
                    "offer": line.offer.key,
                    "packs": line.packs,
                    "pieces": line.pieces,
                    "cost_pence": line.cost_pence,
                    "serves": [{"demand": key, "count": count} for key, count in line.serves],
                    "over": line.over,
                    "why": line.why,
                }
                for line in purchase.lines
            ],
            "still_missing": [{"demand": key, "missing": count, "why": why} for key, count, why in purchase.left],
        },
    }
    return json.dumps(document, indent=2, ensure_ascii=False)
