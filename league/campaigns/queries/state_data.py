"""A turn as plain data for programs: exactly what `fog` lets the reader see, nothing else."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from league.campaigns.queries.seen import Seen, sentence_in_words
from league.engines.documents.campaign import write_orders
from league.engines.war.fog import SeenBattle, SeenForce, View

__all__ = ["turn_data"]


def turn_data(seen: Seen, view: View) -> dict[str, Any]:
    """One turn. What ends in `_x100` is in hundredths; a region missing in `control` is nobody's, or unknown where it
    is not among `control_known`."""
    return {
        "turn": view.turn,
        "phase": view.phase,
        "viewer": "umpire" if seen.is_umpire else view.viewer or "spectator",
        "control": dict(sorted(view.control.items())),
        "control_known": sorted(view.control_known),
        "seen": sorted(view.seen),
        "depots": dict(sorted(view.depots.items())),
        "points": dict(view.points),
        "forces": [force_data(each) for each in view.forces.values()],
        "battles": [battle_data(each) for each in view.battles],
        "stocks": [
            {"region": region, "faction": faction, "amount_x100": amount}
            for (region, faction), amount in sorted(view.balances.items())
        ],
        "entries": [asdict(each) for each in view.entries],
        "supply": [asdict(each) for told in view.supply.values() for each in told.forces],
        "orders": [
            {"faction": each.faction, "orders": write_orders(each.orders), "importance": list(each.importance)}
            for each in view.orders.values()
        ],
        "told": [sentence_in_words(each) for each in seen.sentences(view)],
        "rolls_needed": [asdict(each) for each in view.rolls_needed],
        "ended": asdict(view.ended) if view.ended else None,
    }


def force_data(force: SeenForce) -> dict[str, Any]:
    """`figures` is about right where `known` is `size`, and null where only its presence is known."""
    whole = force.force
    return {
        "force": force.key,
        "name": force.name,
        "faction": force.faction,
        "region": force.region,
        "road": force.road,
        "battle": force.battle,
        "gone": force.gone,
        "known": force.known,
        "figures": force.figures,
        "condition": force.condition,
        "units": [
            {"unit": unit, "present": state.present, "lost": state.lost, "experience": state.experience}
            for unit, state in whole.states.items()
        ]
        if whole
        else [],
    }


def battle_data(battle: SeenBattle) -> dict[str, Any]:
    told = asdict(battle)
    return {**told, "fell": dict(battle.fell)}
