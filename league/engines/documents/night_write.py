"""JSON out: the one canonical form of a night document."""

from __future__ import annotations

import json
from typing import Any

from league.engines.documents.night_parts import NightDocument, NightTable
from league.engines.documents.night_read import FORMAT
from league.engines.documents.reading import in_schema_order, schema_of
from league.engines.kit.items import Piece
from league.engines.kit.model import Carrier
from league.engines.kit.needs import Asked, Game
from league.engines.kit.night import Holding
from league.engines.kit.offers import Offer
from league.engines.rulesets import ruleset_to_document, stand_in_to_document, wanted_to_document

__all__ = ["dump_night", "write_night"]


def dump_night(night: NightDocument) -> bytes:
    """The document as bytes: keys in the schema's order, two spaces of indent, UTF-8, one line feed at the end."""
    return (json.dumps(write_night(night), indent=2, ensure_ascii=False) + "\n").encode()


def write_night(night: NightDocument) -> dict[str, Any]:
    """The night as plain JSON values. Everything is said but for what a thing has no use for; rulesets come by key, each
    as it is written by itself."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "name": night.name,
        "club": night.club,
        "on": None if night.on is None else night.on.isoformat(),
        "rulesets": {},
        "tables": [_table(each) for each in night.tables],
        "people": [_person(each) for each in night.people],
        "holdings": [_holding(each) for each in night.holdings],
        "packed": [{"holding": each.supply, "table": each.table, "count": each.count} for each in night.packed],
        "offers": [_offer(each) for each in night.offers],
        "budget_pence": night.budget_pence,
    }
    schema = schema_of("night")
    ordered: dict[str, Any] = in_schema_order(document, schema, schema)
    # Their fields keep the order of rulesets, which is not this schema's affair.
    ordered["rulesets"] = {key: ruleset_to_document(night.rulesets[key]) for key in sorted(night.rulesets)}
    return ordered


def _table(table: NightTable) -> dict[str, Any]:
    return {
        "id": table.id,
        "name": table.name,
        "game": None if table.game is None else _game(table.game, table.ruleset),
        "needs": [_need(each) for each in table.needs],
    }


def _game(game: Game, ruleset: str) -> dict[str, Any]:
    return {
        "ruleset": ruleset,
        "scenario": game.scenario,
        "scale_mm": game.scale_mm,
        "sides": [
            {
                "key": side.key,
                "name": side.name,
                "units": [
                    {"name": unit.name, "class": unit.unit_class, "figures": unit.figures, "gear": list(unit.gear)}
                    for unit in side.units
                ],
            }
            for side in game.sides
        ],
        "peaks": [{"need": each.need, "count": each.count, "why": each.why} for each in game.peaks],
    }


def _need(asked: Asked) -> dict[str, Any]:
    return {
        "key": asked.need,
        "name": asked.demand.name,
        "wanted": wanted_to_document(asked.wanted),
        "count": asked.demand.count,
        "importance": asked.demand.importance,
        "sharing": asked.sharing,
        "side": asked.side,
        "make": asked.make,
        "why": list(asked.demand.why),
        "stand_ins": [
            {name: value for name, value in stand_in_to_document(each).items() if name != "need"}
            for each in asked.stand_ins
        ],
    }


def _person(person: Carrier) -> dict[str, Any]:
    return {
        "id": person.key,
        "name": person.name,
        "tables": list(person.tables),
        "carries_most_ml": person.carries_most_ml,
        "has_packed": person.has_packed,
    }


def _holding(holding: Holding) -> dict[str, Any]:
    return {
        "id": holding.key,
        "name": holding.name,
        "piece": _piece(holding.piece),
        "count": holding.count,
        "carrier": holding.carrier,
        "bulk_ml": holding.bulk_ml,
    }


def _offer(offer: Offer) -> dict[str, Any]:
    return {
        "id": offer.key,
        "name": offer.name,
        "piece": _piece(offer.piece),
        "pieces": offer.pieces,
        "price_pence": offer.price_pence,
        "most": offer.most,
    }


def _piece(piece: Piece) -> dict[str, Any]:
    fields = {
        "use": piece.use,
        "sides": piece.sides,
        "sizes_mm": list(piece.sizes_mm),
        "scale_mm": piece.scale_mm,
        "colour": piece.colour,
    }
    return {"category": piece.category} | {name: value for name, value in fields.items() if value}
