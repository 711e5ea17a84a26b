"""The second step of a draft: a table for every pairing, and a scenario, new to its entrants where there is choice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from league.clubs.models import Table
from league.engines import pairing as engine
from league.engines.rulesets import Scenario
from league.rulesets.queries import current_edition, rules_of
from league.seasons.models import PairingSide, Round

__all__ = ["Place", "Seating", "seat_pairings"]

UNSIZED = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where and what a pairing plays, with the reasons; None where the club has no table left, or no scenario fits."""

    table: Table | None = None
    scenario: Scenario | None = None
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Seating:
    """The places in the order of the pairings, and what gave way."""

    places: tuple[Place, ...]
    gave_way: tuple[str, ...] = ()


def seat_pairings(
    in_round: Round, pairings: Sequence[Sequence[int]], *, pinned: Mapping[int, Table], seed: str
) -> Seating:
    """Tables and scenarios for pairings of entrants' numbers: four queries at most, however many there are.

    `pinned` has the table that an entrant has to have. Tables are those of venues in use; a table somebody of this
    round has already is not given twice.

    Raises:
        pairing.BadRound: a pinned table is too small, or pinned twice.
    """
    season = in_round.season
    tables = list(
        Table.objects.filter(venue__club=season.club_id, venue__closed_at=None)
        .select_related("venue")
        .order_by("venue_id", "number")
    )
    edition = current_edition(season.ruleset)
    scenarios = rules_of(edition).scenarios
    had, played, taken = what_they_had(in_round)
    by_pk = {str(table.pk): table for table in tables}
    by_key = {each.key: each for each in scenarios}
    sizes = {len(pairing) for pairing in pairings}
    reasons: dict[int, Place] = {}
    gave_way: list[str] = []
    used = set(taken)
    for size in sorted(sizes):
        chosen = [place for place, pairing in enumerate(pairings) if len(pairing) == size]
        wanted = [each for each in scenarios if len(each.sides) == size]
        pins = {str(place): str(pinned[pk].pk) for place in chosen for pk in pairings[place] if pk in pinned}
        seating = engine.seat_games(
            [
                engine.ToSeat(
                    key=str(place),
                    tables=tuple(table for pk in pairings[place] for table in had[pk]),
                    scenarios=tuple(key for pk in pairings[place] for key in played[pk] if key in by_key),
                )
                for place in chosen
            ],
            [as_table(table) for table in tables if str(table.pk) not in used or str(table.pk) in pins.values()],
            [as_scenario(each) for each in wanted],
            seed=f"{seed}/{size}",
            pins=engine.SeatingPins(tables=pins),
        )
        for place, seat in zip(chosen, seating.seats, strict=True):
            table = by_pk.get(seat.table or "")
            reasons[place] = Place(table=table, scenario=by_key.get(seat.scenario or ""), reasons=seat.reasons)
            used |= {seat.table} if seat.table else set()
        gave_way += [each.words for each in seating.gave_way]
    return Seating(places=tuple(reasons[place] for place in range(len(pairings))), gave_way=tuple(gave_way))


def what_they_had(in_round: Round) -> tuple[Mapping[int, list[str]], Mapping[int, list[str]], set[str]]:
    """The tables and the scenarios each entrant had in the season so far, and the tables taken in this round."""
    had: defaultdict[int, list[str]] = defaultdict(list)
    played: defaultdict[int, list[str]] = defaultdict(list)
    taken: set[str] = set()
    rows = PairingSide.objects.filter(
        pairing__round__season=in_round.season_id, removed_at=None, unplayed="", pairing__game__isnull=False
    ).values_list("entrant_id", "pairing__round_id", "pairing__game__table_id", "pairing__game__scenario")
    for entrant_id, round_id, table_id, scenario in rows:
        if table_id is not None:
            had[entrant_id].append(str(table_id))
            if round_id == in_round.pk:
                taken.add(str(table_id))
        if scenario:
            played[entrant_id].append(scenario)
    return had, played, taken


def as_table(table: Table) -> engine.Table:
    return engine.Table(id=str(table.pk), width_mm=table.width_mm, depth_mm=table.depth_mm, name=str(table))


def as_scenario(scenario: Scenario) -> engine.Scenario:
    room = scenario.table
    return engine.Scenario(
        id=scenario.key,
        width_mm=room.width_mm if room else UNSIZED,
        depth_mm=room.depth_mm if room else UNSIZED,
        name=scenario.name,
    )
