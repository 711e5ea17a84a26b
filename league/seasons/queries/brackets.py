"""The knock-out of a season as it stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from league.engines.documents.season import SeasonDocument, standings_of
from league.engines.documents.season_bracket import Knockout, knockout_of
from league.engines.documents.season_divisions import divisions_of, groups_of, only
from league.engines.documents.season_robin import group_rounds
from league.engines.pairing import BadRound, Fixture, places_of
from league.engines.standings import Row
from league.seasons.models import Entrant, Season
from league.seasons.queries.documents import document_of

__all__ = ["BracketLine", "SeasonBracket", "brackets_of"]

KNOCKOUTS = frozenset({"knockout", "groups_knockout"})


@dataclass(frozen=True, kw_only=True, slots=True)
class BracketLine:
    """One match: who meets whom, None for somebody to come, and who goes on."""

    round: int
    is_third_place: bool
    sides: tuple[Entrant | None, Entrant | None]
    winner: Entrant | None
    is_walkover: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonBracket:
    """The bracket of one division (its id). No lines while the groups play; `refusal` says why there is none.

    `groups` are the tables of the groups before it, `through` of each go on; none in a plain knock-out.
    """

    division: str
    groups: tuple[tuple[Row, ...], ...] = ()
    through: int = 0
    lines: tuple[BracketLine, ...] = ()
    places: tuple[tuple[int, tuple[Entrant, ...]], ...] = ()
    refusal: tuple[str, ...] = ()


def brackets_of(season: Season) -> tuple[SeasonBracket, ...]:
    """A bracket for each division of a season that is a knock-out: eleven queries, whatever the size."""
    if season.format not in KNOCKOUTS:
        return ()
    document = document_of(season)
    entrants = {row.key: row for row in season.entrants.order_by("pk")}
    found = []
    for division in divisions_of(document):
        try:
            bracket = bracket_of(division, knockout_of(document, division), entrants)
            groups = tables_of_groups(document, division)
        except BadRound as failure:
            found.append(SeasonBracket(division=division, refusal=failure.violations))
            continue
        found.append(replace(bracket, groups=groups, through=document.pairing.advance))
    return tuple(found)


def tables_of_groups(document: SeasonDocument, division: str) -> tuple[tuple[Row, ...], ...]:
    """The table of every group by the games of the group stage; BadRound if there are fewer entrants than groups."""
    if document.pairing.format != "groups_knockout":
        return ()
    groups = groups_of(document, division)
    last = len(group_rounds(groups))
    return tuple(standings_of(only(document, group), through_round=last).rows for group in groups)


def bracket_of(division: str, state: Knockout | None, entrants: Mapping[str, Entrant]) -> SeasonBracket:
    if state is None:
        return SeasonBracket(division=division)
    winners = {each.match.id: each.winner for each in state.fixtures if each.winner is not None and not each.walkover}
    return SeasonBracket(
        division=division,
        lines=tuple(line_of(each, state, entrants) for each in state.fixtures),
        places=tuple(
            (place, tuple(entrants[key] for key in keys)) for place, keys in places_of(state.bracket, winners)
        ),
    )


def line_of(fixture: Fixture, state: Knockout, entrants: Mapping[str, Entrant]) -> BracketLine:
    one, other = (entrants.get(side or "") for side in fixture.sides)
    return BracketLine(
        round=state.first_round + fixture.match.round - 1,
        is_third_place=fixture.match.id == "third",
        sides=(one, other),
        winner=entrants.get(fixture.winner or ""),
        is_walkover=fixture.walkover,
    )
