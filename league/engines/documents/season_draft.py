"""The next round of a season out of its document, whatever its format: the seam between seasons and their pairing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import chain
from typing import Final

from league.engines.documents.season_bracket import knockout_of
from league.engines.documents.season_divisions import divisions_of
from league.engines.documents.season_formats import FormatName
from league.engines.documents.season_parts import SeasonDocument
from league.engines.documents.season_players import NO_RATINGS, players_of, seated_in
from league.engines.documents.season_robin import robin_rounds
from league.engines.pairing import (
    CRITERIA_OF_TABLES,
    BadRound,
    Criteria,
    Draft,
    DraftBye,
    DraftPairing,
    GaveWay,
    Pins,
    pair_swiss,
    pair_tables,
)

__all__ = ["DRAFTED", "ROBINS", "DivisionDraft", "draft_round", "rounds_planned"]

DRAFTED: Final[frozenset[FormatName]] = frozenset(
    {"swiss", "round_robin", "double_round_robin", "knockout", "groups_knockout"}
)
ROBINS: Final[frozenset[FormatName]] = frozenset({"round_robin", "double_round_robin"})
NOTHING_PINNED: Final = Pins()
PAIR: Final = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class DivisionDraft:
    """The draft of one division (its id, empty where there are none). `exact` is False where a better round may exist;
    `points_x2` has everybody's half-points where the round was paired from them."""

    division: str
    pairings: tuple[DraftPairing, ...] = ()
    byes: tuple[DraftBye, ...] = ()
    gave_way: tuple[GaveWay, ...] = ()
    exact: bool = True
    points_x2: Mapping[str, int] | None = None


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
    divisions = divisions_of(season)
    faults: list[str] = []
    drafts = []
    for division in divisions:
        try:
            drafts.append(_division_draft(season, number, division, pins, ratings))
        except BadRound as failure:
            if len(divisions) == 1:
                raise
            faults += failure.violations
    if faults:
        raise BadRound(tuple(faults))
    return tuple(drafts)


def rounds_planned(season: SeasonDocument) -> int | None:
    """How many rounds the season has by its format; None where that is open."""
    if season.pairing.format == "swiss":
        return season.pairing.rounds
    if season.pairing.format not in ROBINS:
        return None
    try:
        return max(len(robin_rounds(season, division)) for division in divisions_of(season))
    except BadRound:
        return None


def _division_draft(
    season: SeasonDocument, number: int, division: str, pins: Pins, ratings: Mapping[str, int]
) -> DivisionDraft:
    if season.pairing.format == "swiss":
        return _swiss_draft(season, number, division, pins, ratings)
    if season.pairing.format != "knockout":
        rounds = robin_rounds(season, division)
        if number <= len(rounds):
            games = list(chain.from_iterable(each.pairings for each in rounds[number - 1]))
            byes = [each.bye for each in rounds[number - 1] if each.bye is not None]
            return _by_table(season, number, division, games, byes)
        if season.pairing.format in ROBINS:
            return DivisionDraft(division=division)
    return _knockout_draft(season, number, division)


def _swiss_draft(
    season: SeasonDocument, number: int, division: str, pins: Pins, ratings: Mapping[str, int]
) -> DivisionDraft:
    mine = {each.id for each in season.entrants if each.division == division}
    players = players_of(season, number, division=division, ratings=ratings)
    if not any(not player.withdrawn for player in players) and seated_in(season, number) & mine:
        return DivisionDraft(division=division)
    rules = season.pairing
    seed = "/".join((season.seed, division, str(number)))
    own = Pins(
        pairings=tuple(pair for pair in pins.pairings if mine.intersection(pair)),
        byes=tuple(each for each in pins.byes if each in mine),
    )
    if rules.sides == PAIR:
        draft = pair_swiss(players, seed=seed, criteria=Criteria(order=rules.criteria, must=rules.must), pins=own)
    else:
        kept = Criteria(
            order=tuple(name for name in rules.criteria if name in CRITERIA_OF_TABLES),
            must=tuple(name for name in rules.must if name in CRITERIA_OF_TABLES),
        )
        draft = pair_tables(players, size=rules.sides, seed=seed, criteria=kept, pins=own)
    return _of_draft(division, draft, {player.id: player.points_x2 for player in players})


def _of_draft(division: str, draft: Draft, points_x2: Mapping[str, int]) -> DivisionDraft:
    return DivisionDraft(
        division=division,
        pairings=draft.pairings,
        byes=draft.byes,
        gave_way=draft.gave_way,
        exact=draft.search.exact,
        points_x2=points_x2,
    )


def _knockout_draft(season: SeasonDocument, number: int, division: str) -> DivisionDraft:
    state = knockout_of(season, division)
    if state is None:
        raise BadRound(("The group stage is not over: a game of it has no result that counts.",))
    stage = number - state.first_round + 1
    names = {each.id: each.name for each in season.entrants}
    undecided = [each for each in state.fixtures if each.match.round < stage and each.winner is None]
    if undecided:
        raise BadRound(
            tuple(
                "The round before is not decided: "
                + " and ".join(names.get(side or "", "somebody to come") for side in each.sides)
                + "."
                for each in undecided
            )
        )
    fixtures = [each for each in state.fixtures if each.match.round == stage]
    games = [(one, other) for each in fixtures if each.can_be_played for one, other in [each.sides] if one and other]
    byes = [each.winner for each in fixtures if each.walkover and each.winner]
    return _by_table(season, number, division, games, byes)


def _by_table(
    season: SeasonDocument, number: int, division: str, games: list[tuple[str, str]], byes: list[str]
) -> DivisionDraft:
    """A round that the format says, without those who left: whoever was to meet one of them has a bye."""
    away = seated_in(season, number) | {each.id for each in season.entrants if each.left is not None}
    alone = [one if other in away else other for one, other in games if (one in away) != (other in away)]
    return DivisionDraft(
        division=division,
        pairings=tuple(DraftPairing(ids=pair) for pair in games if not away.intersection(pair)),
        byes=tuple(DraftBye(id=each) for each in (*alone, *byes) if each not in away),
    )


def _refuse_pins(season: SeasonDocument, pins: Pins) -> None:
    divisions = {each.id: each.division for each in season.entrants}
    names = {each.id: each.name for each in season.entrants}
    faults = [
        f"{' and '.join(names[each] for each in pair)} are in different divisions."
        for pair in pins.pairings
        if all(each in divisions for each in pair) and len({divisions[each] for each in pair}) > 1
    ]
    if season.pairing.format != "swiss" and (pins.pairings or pins.byes):
        faults.append("Nothing can be pinned here: the format says who meets whom.")
    if faults:
        raise BadRound(tuple(faults))
