"""What is sent to addresses that look at the body before they look at the right, so that the right is what decides."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from league.rosters.models import Casualty
from league.rulesets.queries import shipped_documents
from tests.rights.walk import Address
from tests.rights.world import DAY, World, picture

SCORES = {"sides": [{"position": 1, "score": 12}, {"position": 2, "score": 7}]}


def body_for(address: Address, world: World | None) -> dict[str, Any]:
    make = BODIES.get(address.name)
    return make(world) if make and world else {}


def report(world: World) -> dict[str, Any]:
    return {"submission": str(uuid4()), "fought_on": DAY.isoformat(), **SCORES}


def correction(world: World) -> dict[str, Any]:
    return {**report(world), "reason": "Counted again"}


def rolls(world: World) -> dict[str, Any]:
    lines = Casualty.objects.filter(engagement__result__report=world.values["reports", "pk"])
    return {"rolls": [{"casualty": line.pk, "results": [4] * line.figures_lost} for line in lines]}


def ruleset(world: World) -> dict[str, Any]:
    return {"document": shipped_documents()["levee_battle"]}


def edition(world: World) -> dict[str, Any]:
    return {"document": shipped_documents()["ferry_skirmish"], "number": 1, "note": "as it was"}


def unit(world: World) -> dict[str, Any]:
    return {"version": 1, "name": "Third Company", "unit_class": "line", "figures": 8, "points": 60}


def units_as_text(world: World) -> dict[str, Any]:
    return {"version": 1, "text": "Third Company: line, 8, 60 pts", "dry_run": False}


BODIES = {
    "api-units": unit,
    "api-roster-import": units_as_text,
    "api-game-reports": report,
    "api-report-corrections": correction,
    "api-report-dispute": lambda world: {"text": "It was otherwise."},
    "api-report-settle": lambda world: {"verdict": "stands", "text": "I saw it."},
    "api-report-rolls": rolls,
    "api-game-photos": lambda world: {"file": picture(), "submission": str(uuid4())},
    "api-rulesets": ruleset,
    "api-ruleset": edition,
}
