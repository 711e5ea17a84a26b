"""The next round of a season out of its document, whatever its format: the seam between seasons and their pairing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from league.engines.documents.season_formats import FormatName
from league.engines.documents.season_parts import SeasonDocument, SeasonEntrant
from league.engines.documents.season_players import NO_RATINGS, players_of, seated_in
from league.engines.pairing import (
    BadRound,
    Criteria,
    Draft,
    DraftBye,
    DraftPairing,
    GaveWay,
    Pins,
    RobinRound,
    lot,
    pair_swiss,
    round_robin,
)

__all__ = ["DRAFTED", "DivisionDraft", "draft_round", "robin_rounds", "rounds_planned"]

DRAFTED: frozenset[FormatName] = frozenset({"swiss", "round_robin", "double_round_robin"})
ROBINS: frozenset[FormatName] = frozenset({"round_robin", "double_round_robin"})
NOTHING_PINNED = Pins()
FEWEST = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class DivisionDraft:
    """The draft of one division (its id, empty where there are none); `search` is None where nothing was searched."""

    division: str
    draft: Draft | None
    pairings: tuple[DraftPairing, ...]
    byes: tuple[DraftBye, ...]
    gave_way: tuple[GaveWay, ...] = ()


def draft_round(
    season: SeasonDocument,
    number: int,
    *,
    pins: Pins = NOTHING_PINNED,
    ratings: Mapping[str, int] = NO_RATINGS,
) -> tuple[DivisionDraft, ...]:
    """Round `number` by the season's format, division by division, around what is pinned and who is seated already.

    Raises:
        BadRound: with everything that is wrong, `NoRound` (one of them) where a criterion that must be kept cannot be.
    """
    if season.pairing.format not in DRAFTED:
        raise BadRound(("The rounds of this season are not drafted.",))
    _refuse_pins(season, pins)
    faults: list[str] = []
    drafts = []
    for division in divisions_of(season):
        try:
            drafts.append(_division_draft(season, number, division, pins, ratings))
        except BadRound as failure:
            if len(divisions_of(season)) == 1:
                raise
            faults += failure.violations
    if faults:
        raise BadRound(tuple(faults))
    return tuple(drafts)


def divisions_of(season: SeasonDocument) -> tuple[str, ...]:
    """The ids of the divisions somebody is in, from the top; the empty one is everybody in none."""
    used = {entrant.division for entrant in season.entrants}
    levels = {each.id: each.level for each in season.divisions}
    return tuple(sorted(used, key=lambda division: levels.get(division, len(levels) + 1))) or ("",)


def robin_rounds(season: SeasonDocument, division: str) -> tuple[RobinRound, ...]:
    """Every round of a division's round robin by the Berger tables: numbered by seeding, then by lot.

    Who has left keeps the number, so that the other pairings stay.
    """
    entrants = [each for each in season.entrants if each.division == division and not each.joined_after_round]
    numbered = in_seeding(entrants, season.seed)
    return round_robin([each.id for each in numbered], double=season.pairing.format == "double_round_robin")


def in_seeding(entrants: Sequence[SeasonEntrant], seed: str) -> list[SeasonEntrant]:
    """By place in the seeding; those without one come after, by lot."""
    return sorted(
        entrants, key=lambda each: (each.seed is None, each.seed or 0, lot(seed, "seeding", each.id), each.id)
    )


def rounds_planned(season: SeasonDocument) -> int | None:
    """How many rounds the season has by its format; None where that is open."""
    if season.pairing.format == "swiss":
        return season.pairing.rounds
    if season.pairing.format in ROBINS:
        sizes = [
            sum(each.division == division and not each.joined_after_round for each in season.entrants)
            for division in divisions_of(season)
        ]
        cycles = 2 if season.pairing.format == "double_round_robin" else 1
        return max((cycles * (size - 1 + size % 2) for size in sizes if size >= FEWEST), default=0)
    return None


def _division_draft(
    season: SeasonDocument, number: int, division: str, pins: Pins, ratings: Mapping[str, int]
) -> DivisionDraft:
    mine = {each.id for each in season.entrants if each.division == division}
    if season.pairing.format in ROBINS:
        return _robin_draft(season, number, division)
    players = players_of(season, number, division=division, ratings=ratings)
    if not any(not player.withdrawn for player in players) and seated_in(season, number) & mine:
        return DivisionDraft(division=division, draft=None, pairings=(), byes=())
    draft = pair_swiss(
        players,
        seed="/".join((season.seed, division, str(number))),
        criteria=Criteria(order=season.pairing.criteria, must=season.pairing.must),
        pins=Pins(
            pairings=tuple(pair for pair in pins.pairings if pair[0] in mine),
            byes=tuple(each for each in pins.byes if each in mine),
        ),
    )
    return DivisionDraft(
        division=division, draft=draft, pairings=draft.pairings, byes=draft.byes, gave_way=draft.gave_way
    )


def _robin_draft(season: SeasonDocument, number: int, division: str) -> DivisionDraft:
    rounds = robin_rounds(season, division)
    if number > len(rounds):
        return DivisionDraft(division=division, draft=None, pairings=(), byes=())
    away = seated_in(season, number) | {each.id for each in season.entrants if each.left is not None}
    found = rounds[number - 1]
    alone = [pair[0] if pair[1] in away else pair[1] for pair in found.pairings if len(away & set(pair)) == 1]
    return DivisionDraft(
        division=division,
        draft=None,
        pairings=tuple(DraftPairing(ids=pair) for pair in found.pairings if not away & set(pair)),
        byes=tuple(DraftBye(id=each) for each in (*alone, *([found.bye] if found.bye else [])) if each not in away),
    )


def _refuse_pins(season: SeasonDocument, pins: Pins) -> None:
    divisions = {each.id: each.division for each in season.entrants}
    names = {each.id: each.name for each in season.entrants}
    faults = [
        f"{names[one]} and {names[other]} are in different divisions."
        for one, other in pins.pairings
        if one in divisions and other in divisions and divisions[one] != divisions[other]
    ]
    if season.pairing.format in ROBINS and tuple(chain(pins.pairings, pins.byes)):
        faults.append("Nothing can be pinned in a round robin: its tables say who meets whom.")
    if faults:
        raise BadRound(tuple(faults))
