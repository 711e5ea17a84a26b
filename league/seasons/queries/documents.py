"""A season's rows as its document: what the table is reckoned from and what is exported are one and the same."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from typing import Any, cast

from league.battles.models import Game, ReportState
from league.battles.queries import GameResult, SideOutcome, results_of
from league.clubs.models import Member
from league.engines.documents.season import (
    Counts,
    Pairing,
    SeasonAdjustment,
    SeasonDivision,
    SeasonDocument,
    SeasonEntrant,
    SeasonGame,
    SeasonLeft,
    SeasonRound,
    SeasonSide,
    dump,
    read_pairing,
    read_rules,
    write_season,
)
from league.engines.documents.season_formats import with_limits
from league.engines.standings import Outcome, Rules, Unplayed
from league.seasons import permissions
from league.seasons.models import Entrant, PairingSide, Season

__all__ = ["document_of", "pairing_of_season", "rules_of_season", "season_document", "season_file"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Seat:
    """One seat with its pairing, as one row of the database."""

    pairing_id: int
    key: str
    number: int
    on: date | None
    postponed_until: date | None
    game_id: int | None
    scenario: str | None
    entrant: str
    unplayed: Unplayed


def season_document(season: Season) -> dict[str, Any]:
    """The season as plain JSON values, in the order of the schema."""
    return write_season(document_of(season))


def season_file(season: Season, *, reader: Member | None) -> bytes:
    """The season as the bytes of its document, for a reader. Who lives or travels with whom is for its organisers only."""
    document = document_of(season)
    if not permissions.can_run_season(reader, season):
        document = replace(document, entrants=tuple(replace(each, party="") for each in document.entrants))
    return dump(document)


def rules_of_season(season: Season) -> Rules:
    """The rules the table is reckoned by."""
    return with_limits(_rules(json.dumps(season.rules), season.seed), pairing_of_season(season))


@lru_cache(maxsize=256)
def _rules(rules: str, seed: str) -> Rules:
    return read_rules(json.loads(rules), seed)


def pairing_of_season(season: Season) -> Pairing:
    """How its rounds come about."""
    return read_pairing({"format": season.format, **season.pairing})


def document_of(season: Season) -> SeasonDocument:
    """The season as its document: ten queries (and one for the club, if it was not fetched), however large it is."""
    results = results_of(cast("Iterable[Game]", Game.objects.filter(pairing__round__season=season)))
    rows = list(season.entrants.select_related("division").order_by("pk"))
    keys = {row.pk: row.key for row in rows}
    return SeasonDocument(
        name=season.name,
        club=season.club_named if season.is_imported else season.club.name,
        starts_on=season.starts_on,
        ends_on=season.ends_on,
        seed=season.seed,
        rules=rules_of_season(season),
        counts=cast("Counts", season.counts),
        pairing=pairing_of_season(season),
        divisions=tuple(
            SeasonDivision(id=row.key, name=row.name, level=row.level, promotes=row.promotes, relegates=row.relegates)
            for row in season.divisions.order_by("level")
        ),
        entrants=tuple(entrants_of(season, rows)),
        rounds=tuple(
            SeasonRound(number=number, on=on, note=note)
            for number, on, note in season.rounds.filter(number__gte=1)
            .order_by("number")
            .values_list("number", "on", "note")
        ),
        games=tuple(as_game(seats, results) for seats in seats_by_pairing(season, keys).values()),
        adjustments=tuple(
            SeasonAdjustment(entrant=keys[entrant_id], points_x2=points, after_round=after, reason=reason, on=on)
            for entrant_id, points, after, reason, on in season.adjustments.order_by("pk").values_list(
                "entrant_id", "points_x2", "after_round", "reason", "on"
            )
        ),
    )


def entrants_of(season: Season, rows: Iterable[Entrant]) -> Iterable[SeasonEntrant]:
    players: defaultdict[int, list[str]] = defaultdict(list)
    for entrant_id, name in season.players.order_by("pk").values_list("entrant_id", "member__name"):
        players[entrant_id].append(name)
    for row in rows:
        left = SeasonLeft(after_round=row.left_after_round, on=row.left_on, reason=row.left_reason)
        yield SeasonEntrant(
            id=row.key,
            name=row.name,
            players=tuple(players[row.pk]),
            left=left if row.left_at else None,
            division=row.division.key if row.division else "",
            joined_after_round=row.joined_after_round,
            party=row.party,
            newcomer=row.is_newcomer,
            seed=row.seed_number,
        )


def seats_by_pairing(season: Season, keys: Mapping[int, str]) -> dict[int, list[Seat]]:
    """The seats of each pairing that stands, both in order."""
    rows = (
        PairingSide.objects.filter(pairing__round__season=season, removed_at=None, pairing__removed_at=None)
        .order_by("round__number", "pairing__position", "pairing_id", "position")
        .values_list(
            "pairing_id",
            "pairing__key",
            "round__number",
            "pairing__on",
            "pairing__postponed_until",
            "pairing__game_id",
            "pairing__game__scenario",
            "entrant_id",
            "unplayed",
        )
    )
    seats: defaultdict[int, list[Seat]] = defaultdict(list)
    for pairing_id, key, number, on, postponed_until, game_id, scenario, entrant_id, unplayed in rows:
        seats[pairing_id].append(
            Seat(
                pairing_id=pairing_id,
                key=key,
                number=number,
                on=on,
                postponed_until=postponed_until,
                game_id=game_id,
                scenario=scenario,
                entrant=keys[entrant_id],
                unplayed=cast("Unplayed", unplayed),
            )
        )
    return seats


def as_game(seats: list[Seat], results: Mapping[int, GameResult]) -> SeasonGame:
    """A pairing with the last word on its game. The seats that play are the sides of the game, in order."""
    first = seats[0]
    playing = [seat for seat in seats if not seat.unplayed]
    result = results.get(first.game_id) if first.game_id and playing else None
    outcomes = dict(zip((seat.entrant for seat in playing), result.sides if result else (), strict=False))
    return SeasonGame(
        id=first.key,
        round=first.number,
        on=result.fought_on if result else first.on,
        postponed_until=first.postponed_until,
        scenario=(first.scenario or None) if playing else None,
        report=as_report(result),
        sides=tuple(as_side(seat, outcomes.get(seat.entrant)) for seat in seats),
    )


def as_report(result: GameResult | None) -> Any:
    """The document's word for the state of a report; a superseded one is never the last word."""
    return "none" if result is None or result.state == ReportState.SUPERSEDED else str(result.state)


def as_side(seat: Seat, told: SideOutcome | None) -> SeasonSide:
    if told is None:
        return SeasonSide(entrant=seat.entrant, unplayed=seat.unplayed)
    return SeasonSide(
        entrant=seat.entrant,
        score=told.score,
        outcome=cast("Outcome", told.outcome),
        conceded=told.conceded,
        counts=dict(sorted(told.counts.items())),
        value_destroyed=told.value_destroyed,
        value_lost=told.value_lost,
    )
