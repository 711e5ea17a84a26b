"""JSON in: a season document, or its rules alone, checked and turned into frozen values."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from league.engines import standings
from league.engines.documents.reading import BadDocument, Fault, faults_by_schema
from league.engines.documents.season_faults import faults_of
from league.engines.documents.season_formats import Pairing, faults_of_pairing, made_of, with_limits
from league.engines.documents.season_parts import (
    ReportState,
    SeasonAdjustment,
    SeasonDivision,
    SeasonDocument,
    SeasonEntrant,
    SeasonGame,
    SeasonLeft,
    SeasonRound,
    SeasonSide,
)
from league.engines.standings import Bonus, Outcome, Rules, Scheme, TieBreak

__all__ = ["FORMAT", "OPTIONS", "outcomes_by_score", "read_rules", "read_season", "seed_number"]

FORMAT = "drumhead season 1"
# Which options of a tie-break belong to which.
OPTIONS: Mapping[str, tuple[str, ...]] = {
    "direct_encounter": ("pieces", "reapply", "wait"),
    "wins": ("with_unplayed",),
    "count_total": ("count",),
}


def read_season(document: Any) -> SeasonDocument:
    """The season a document tells of.

    Outcomes left out are worked out from the scores, days of reported games from their rounds, a seed left out is the
    season's name; so what comes back says everything that counts.

    Raises:
        BadDocument: with every fault: first by the schema, and if its parts are in order, across them.
    """
    faults = faults_by_schema("season", document) or [
        *_misplaced_options(document["rules"], "/rules"),
        *(faults_of_pairing(document["pairing"], "/pairing") if "pairing" in document else ()),
    ]
    if faults:
        raise BadDocument(faults)
    name: str = document["name"]
    seed: str = document.get("seed", name[:64])
    pairing = made_of(document["pairing"]) if "pairing" in document else Pairing()
    season = SeasonDocument(
        name=name,
        club=document.get("club", ""),
        starts_on=date.fromisoformat(document["starts_on"]),
        ends_on=_day(document.get("ends_on")),
        seed=seed,
        rules=with_limits(_rules(document["rules"], seed), pairing),
        counts=document["rules"].get("counts", "filed"),
        pairing=pairing,
        divisions=tuple(_division(each) for each in document.get("divisions", ())),
        entrants=tuple(_entrant(each) for each in document["entrants"]),
        rounds=tuple(_round(each) for each in document.get("rounds", ())),
        games=tuple(_game(each) for each in document["games"]),
        adjustments=tuple(_adjustment(each) for each in document.get("adjustments", ())),
    )
    faults = faults_of(season)
    if faults:
        raise BadDocument(faults)
    return in_order(dated(season))


def dated(season: SeasonDocument) -> SeasonDocument:
    """Every game with a report has its day: failing its own that of its round, failing that the season's first."""
    days = {each.number: each.on for each in season.rounds}
    return replace(
        season,
        games=tuple(
            game if game.on or game.report == "none" else replace(game, on=days.get(game.round) or season.starts_on)
            for game in season.games
        ),
    )


def in_order(season: SeasonDocument) -> SeasonDocument:
    """Rounds by number, games by round; apart from that the order of a document is its own."""
    return replace(
        season,
        rounds=tuple(sorted(season.rounds, key=lambda each: each.number)),
        games=tuple(sorted(season.games, key=lambda game: game.round)),
    )


def read_rules(rules: Any, seed: str) -> Rules:
    """The `rules` of a season document on their own.

    Raises:
        BadDocument: with every fault; places count from the rules.
    """
    shell = {"format": FORMAT, "name": "-", "starts_on": "2000-01-01", "rules": rules, "entrants": [], "games": []}
    faults = faults_by_schema("season", shell)
    if not faults:
        faults = list(_misplaced_options(rules, "/rules"))
    if not faults:
        made = _rules(rules, seed)
        faults = [Fault(place="/rules", text=text) for text in standings.violations_of([], [], [], made)]
        if not faults:
            return made
    raise BadDocument([Fault(place=fault.place.removeprefix("/rules"), text=fault.text) for fault in faults])


def seed_number(seed: str) -> int:
    """The number that draws the lots: the first eight bytes of the text's SHA-256, so any text will do as a seed."""
    return int.from_bytes(hashlib.sha256(seed.encode()).digest()[:8])


def outcomes_by_score(scores: list[int]) -> list[Outcome]:
    """The best score wins, a shared best draws, the rest lose."""
    best = max(scores)
    top: Outcome = "win" if scores.count(best) == 1 else "draw"
    return [top if score == best else "loss" for score in scores]


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


def _misplaced_options(rules: Mapping[str, Any], place: str) -> list[Fault]:
    faults = []
    for index, each in enumerate(rules.get("tie_breaks", ())):
        allowed = OPTIONS.get(each["name"], ())
        faults += [
            Fault(place=f"{place}/tie_breaks/{index}/{name}", text=f"This is no option of {each['name']}.")
            for name in each
            if name != "name" and name not in allowed
        ]
        if each["name"] == "count_total" and "count" not in each:
            faults.append(Fault(place=f"{place}/tie_breaks/{index}", text="'count' is missing."))
    for index, each in enumerate(rules["scheme"].get("bonuses", ())):
        if each["kind"] == "count_at_least" and not each.get("count"):
            faults.append(Fault(place=f"{place}/scheme/bonuses/{index}", text="'count' is missing."))
        elif each["kind"] != "count_at_least" and each.get("count"):
            faults.append(
                Fault(place=f"{place}/scheme/bonuses/{index}/count", text=f"This is no option of {each['kind']}.")
            )
    return faults


def _rules(rules: Mapping[str, Any], seed: str) -> Rules:
    scheme = rules["scheme"]
    points = {name: int(value) for name, value in scheme.items() if name != "bonuses"}
    return Rules(
        scheme=Scheme(**points, bonuses=tuple(_bonus(each) for each in scheme.get("bonuses", ()))),
        tie_breaks=tuple(
            TieBreak(**{**each, "pieces": tuple(each["pieces"])} if "pieces" in each else each)
            for each in rules.get("tie_breaks", ())
        ),
        unplayed_policy=rules.get("unplayed_policy", "as_scored"),
        leavers=rules.get("leavers", "keep"),
        rank_by=rules.get("rank_by", "points"),
        seed=seed_number(seed),
    )


def _bonus(each: Mapping[str, Any]) -> Bonus:
    return Bonus(
        kind=each["kind"],
        points_x2=int(each["points_x2"]),
        threshold=int(each.get("threshold", 1)),
        count=each.get("count", ""),
        name=each.get("name", ""),
    )


def _division(each: Mapping[str, Any]) -> SeasonDivision:
    return SeasonDivision(
        id=each["id"],
        name=each["name"],
        level=int(each["level"]),
        promotes=int(each.get("promotes", 0)),
        relegates=int(each.get("relegates", 0)),
    )


def _entrant(each: Mapping[str, Any]) -> SeasonEntrant:
    left = each.get("left")
    return SeasonEntrant(
        id=each["id"],
        name=each["name"],
        players=tuple(each.get("players", ())),
        left=left
        and SeasonLeft(after_round=_int(left.get("after_round")), on=_day(left.get("on")), reason=left["reason"]),
        division=each.get("division", ""),
        joined_after_round=int(each.get("joined_after_round", 0)),
        party=each.get("party", ""),
        newcomer=each.get("newcomer", False),
        seed=_int(each.get("seed")),
    )


def _int(value: float | None) -> int | None:
    """JSON knows 1.0 for 1; from here on it is the whole number."""
    return None if value is None else int(value)


def _round(each: Mapping[str, Any]) -> SeasonRound:
    return SeasonRound(number=int(each["number"]), on=_day(each.get("on")), note=each.get("note", ""))


def _game(each: Mapping[str, Any]) -> SeasonGame:
    sides = each["sides"]
    has_result = any(side.get("score") is not None or side.get("outcome") for side in sides)
    report: ReportState = each.get("report", "confirmed" if has_result else "none")
    return SeasonGame(
        id=each["id"],
        round=int(each["round"]),
        on=_day(each.get("on")),
        postponed_until=_day(each.get("postponed_until")),
        scenario=each.get("scenario"),
        report=report,
        sides=tuple(_side(side, outcome) for side, outcome in zip(sides, _outcomes(sides, report), strict=True)),
    )


def _outcomes(sides: list[Mapping[str, Any]], report: ReportState) -> list[Outcome | None]:
    """As stated; where none is, by the scores of those who played."""
    stated: list[Outcome | None] = [side.get("outcome") for side in sides]
    playing = [index for index, side in enumerate(sides) if not side.get("unplayed")]
    scores = [int(sides[index]["score"]) for index in playing if sides[index].get("score") is not None]
    if report == "none" or any(stated) or not scores or len(scores) < len(playing):
        return stated
    for index, outcome in zip(playing, outcomes_by_score(scores), strict=True):
        stated[index] = outcome
    return stated


def _side(side: Mapping[str, Any], outcome: Outcome | None) -> SeasonSide:
    return SeasonSide(
        entrant=side["entrant"],
        score=_int(side.get("score")),
        outcome=outcome,
        conceded=side.get("conceded", False),
        counts={name: int(count) for name, count in sorted(side.get("counts", {}).items())},
        value_destroyed=int(side.get("value_destroyed", 0)),
        value_lost=int(side.get("value_lost", 0)),
        unplayed=side.get("unplayed", ""),
    )


def _adjustment(each: Mapping[str, Any]) -> SeasonAdjustment:
    return SeasonAdjustment(
        entrant=each["entrant"],
        points_x2=int(each["points_x2"]),
        after_round=int(each.get("after_round", 0)),
        reason=each["reason"],
        on=_day(each.get("on")),
    )
