"""JSON in: a night document, checked and turned into frozen values."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from league.engines.documents.night_faults import faults_of
from league.engines.documents.night_parts import NightDocument, NightTable
from league.engines.documents.reading import BadDocument, Fault, faults_by_schema, pointer
from league.engines.kit.items import Piece
from league.engines.kit.model import Carrier, Demand, Packed
from league.engines.kit.needs import Asked, Game, Peak, Side, Unit
from league.engines.kit.night import Holding
from league.engines.kit.offers import Offer
from league.engines.rulesets import BadRuleset, Ruleset, StandIn, Wanted, parse_ruleset

__all__ = ["FORMAT", "read_night"]

FORMAT = "drumhead night 1"
STEP = re.compile(r"[^.\[\]]+")


def read_night(document: Any) -> NightDocument:
    """The night a document tells of.

    Raises:
        BadDocument: with every fault: first by the schema and in its rulesets, and if these are in order, across them.
    """
    faults = faults_by_schema("night", document)
    rulesets: dict[str, Ruleset] = {}
    for key, each in _rulesets(document):
        try:
            rulesets[key] = parse_ruleset(each)
        except BadRuleset as bad:
            faults += [
                Fault(place=pointer(["rulesets", key, *STEP.findall(found.place)]), text=found.text)
                for found in bad.violations
            ]
    if faults:
        raise BadDocument(faults)
    document = _whole(document)
    faults = list(_unknown_rulesets(document["tables"], rulesets))
    if faults:
        raise BadDocument(faults)
    on = document.get("on")
    night = NightDocument(
        name=document["name"],
        club=document.get("club", ""),
        on=None if on is None else date.fromisoformat(on),
        rulesets=rulesets,
        tables=tuple(_table(each, rulesets) for each in document["tables"]),
        people=tuple(_person(each) for each in document.get("people", ())),
        holdings=tuple(_holding(each) for each in document.get("holdings", ())),
        packed=tuple(
            Packed(supply=each["holding"], table=each["table"], count=each["count"])
            for each in document.get("packed", ())
        ),
        offers=tuple(_offer(each) for each in document.get("offers", ())),
        budget_pence=document.get("budget_pence"),
    )
    faults = list(faults_of(night))
    if faults:
        raise BadDocument(faults)
    return night


def _whole(value: Any) -> Any:
    """The same with 3.0 as 3: JSON knows one kind of number, and the schema asks for whole ones only."""
    if isinstance(value, dict):
        return {key: _whole(each) for key, each in value.items()}
    if isinstance(value, list):
        return [_whole(each) for each in value]
    return int(value) if isinstance(value, float) else value


def _rulesets(document: Any) -> Iterator[tuple[str, Any]]:
    """The rulesets, if that much is in order: what is wrong inside one is told beside what is wrong around them."""
    inside = document.get("rulesets") if isinstance(document, dict) else None
    if isinstance(inside, dict):
        yield from ((key, each) for key, each in inside.items() if isinstance(each, dict))


def _unknown_rulesets(tables: list[Mapping[str, Any]], rulesets: Mapping[str, Ruleset]) -> Iterator[Fault]:
    for place, table in enumerate(tables):
        game = table.get("game")
        if game is not None and game["ruleset"] not in rulesets:
            yield Fault(place=f"/tables/{place}/game/ruleset", text="There is no such ruleset in this document.")


def _table(table: Mapping[str, Any], rulesets: Mapping[str, Ruleset]) -> NightTable:
    game = table.get("game")
    return NightTable(
        id=table["id"],
        name=table.get("name") or table["id"],
        ruleset="" if game is None else game["ruleset"],
        game=None if game is None else _game(table["id"], game, rulesets[game["ruleset"]]),
        needs=tuple(_need(table["id"], each) for each in table.get("needs", ())),
    )


def _game(table: str, game: Mapping[str, Any], ruleset: Ruleset) -> Game:
    return Game(
        table=table,
        ruleset=ruleset,
        scenario=game.get("scenario", ""),
        scale_mm=game.get("scale_mm"),
        sides=tuple(_side(each) for each in game["sides"]),
        peaks=tuple(
            Peak(need=each["need"], count=each["count"], why=each.get("why", "")) for each in game.get("peaks", ())
        ),
    )


def _side(side: Mapping[str, Any]) -> Side:
    return Side(key=side["key"], name=side.get("name", ""), units=tuple(_unit(each) for each in side["units"]))


def _unit(unit: Mapping[str, Any]) -> Unit:
    return Unit(
        name=unit["name"],
        unit_class=unit["class"],
        figures=unit["figures"],
        gear=tuple(unit.get("gear", ())),
    )


def _need(table: str, need: Mapping[str, Any]) -> Asked:
    side = need.get("side", "")
    return Asked(
        demand=Demand(
            key="/".join(part for part in (table, need["key"], side) if part),
            table=table,
            name=need["name"],
            count=need["count"],
            importance=need.get("importance", "needed"),
            why=tuple(need.get("why", ())),
        ),
        need=need["key"],
        wanted=_wanted(need["wanted"]),
        sharing=need.get("sharing", "own" if side else "shared"),
        side=side,
        make=need.get("make", ""),
        stand_ins=tuple(_stand_in(need["key"], each) for each in need.get("stand_ins", ())),
    )


def _wanted(wanted: Mapping[str, Any]) -> Wanted:
    return Wanted(**wanted)


def _stand_in(need: str, stand_in: Mapping[str, Any]) -> StandIn:
    return StandIn(need=need, **{**stand_in, "piece": _wanted(stand_in["piece"])})


def _person(person: Mapping[str, Any]) -> Carrier:
    return Carrier(
        key=person["id"],
        name=person.get("name") or person["id"],
        tables=tuple(person.get("tables", ())),
        carries_most_ml=person.get("carries_most_ml"),
        has_packed=person.get("has_packed", False),
    )


def _holding(holding: Mapping[str, Any]) -> Holding:
    return Holding(
        key=holding["id"],
        name=holding["name"],
        piece=_piece(holding["piece"]),
        count=holding["count"],
        carrier=holding.get("carrier"),
        bulk_ml=holding.get("bulk_ml", 0),
    )


def _offer(offer: Mapping[str, Any]) -> Offer:
    return Offer(
        key=offer["id"],
        name=offer["name"],
        piece=_piece(offer["piece"]),
        pieces=offer["pieces"],
        price_pence=offer["price_pence"],
        most=offer.get("most"),
    )


def _piece(piece: Mapping[str, Any]) -> Piece:
    return Piece(**{**piece, "sizes_mm": tuple(piece.get("sizes_mm", ()))})
