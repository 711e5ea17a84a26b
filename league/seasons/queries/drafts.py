"""The draft of a round: computed anew each time it is looked at, never stored. Only organisers see it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from league.clubs.models import Table
from league.engines.documents.season import COUNTING, SeasonDocument, SeasonGame
from league.engines.documents.season_draft import DRAFTED, DivisionDraft, draft_round
from league.engines.documents.season_players import seated_in
from league.engines.pairing import BadRound, GaveWay, Pins, Reason, TooWide
from league.engines.rulesets import Scenario
from league.engines.standings.table import written
from league.seasons.models import Entrant, Pin, Round
from league.seasons.queries.documents import document_of
from league.seasons.queries.seating import seat_pairings
from league.seasons.queries.seeding import strengths_of
from league.seasons.queries.standings import POINTS_SCALE, points_after

__all__ = ["DraftLine", "Moved", "PinLine", "RoundDraft", "draft_of", "is_drafted", "moved_since", "pins_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class DraftLine:
    """One pairing to be, or a bye (one entrant); the first of two attacks."""

    division: str
    entrants: tuple[Entrant, ...]
    pinned: bool
    reasons: tuple[Reason, ...]
    table: Table | None = None
    scenario: Scenario | None = None
    seating: tuple[str, ...] = ()

    @property
    def is_bye(self) -> bool:
        return len(self.entrants) == 1


@dataclass(frozen=True, kw_only=True, slots=True)
class PinLine:
    """One pin that stands."""

    pin: Pin
    entrants: tuple[Entrant, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundDraft:
    """What publishing the round would make of it. `refusal` says why there is no such round, all reasons at once.

    `digest` names exactly this draft: publishing asks for it, so that nobody publishes what they have not seen.
    `waiting` are games of earlier rounds whose result does not count yet; `paired_from` everybody's half-points.
    """

    round: Round
    lines: tuple[DraftLine, ...] = ()
    gave_way: tuple[GaveWay, ...] = ()
    seating_gave_way: tuple[str, ...] = ()
    is_exact: bool = True
    refusal: tuple[str, ...] = ()
    digest: str = ""
    waiting: tuple[tuple[Entrant, ...], ...] = ()
    pins: tuple[PinLine, ...] = ()
    paired_from: Mapping[str, int] = field(default_factory=dict)

    @property
    def pairings(self) -> tuple[DraftLine, ...]:
        return tuple(line for line in self.lines if not line.is_bye)

    @property
    def byes(self) -> tuple[DraftLine, ...]:
        return tuple(line for line in self.lines if line.is_bye)


@dataclass(frozen=True, kw_only=True, slots=True)
class Moved:
    """An entrant whose points after the rounds before are not what the round was paired from."""

    entrant: str
    then_x2: int
    now_x2: int

    @property
    def then(self) -> str:
        return written(self.then_x2, POINTS_SCALE)

    @property
    def now(self) -> str:
        return written(self.now_x2, POINTS_SCALE)


def is_drafted(in_round: Round) -> bool:
    """Whether the round is one to draft: of a season with such a format, and not published."""
    return in_round.season.format in DRAFTED and not in_round.is_open_play and in_round.published_at is None


def draft_of(in_round: Round) -> RoundDraft:
    """The draft of an unpublished round, with its reasons: thirteen queries (and one for the club, if it was not
    fetched), however many take part.
    """
    season = in_round.season
    document = document_of(season)
    entrants = {row.key: row for row in season.entrants.order_by("pk")}
    pins = pins_of(in_round)
    waiting = tuple(waiting_for(document, in_round.number, entrants))
    try:
        drafts = draft_round(document, in_round.number, pins=as_pins(pins), ratings=strengths_for(in_round, document))
    except (BadRound, TooWide) as failure:
        refusal = failure.violations if isinstance(failure, BadRound) else (str(failure),)
        gave_way = getattr(failure, "gave_way", ())
        return RoundDraft(round=in_round, refusal=refusal, gave_way=gave_way, waiting=waiting, pins=pins)
    lines = tuple(line for each in drafts for line in lines_of(each, entrants))
    if not lines:
        return RoundDraft(round=in_round, refusal=(nobody_left(document, in_round.number),), waiting=waiting, pins=pins)
    try:
        lines, seating_gave_way = seated(in_round, lines, pins)
    except BadRound as failure:
        return RoundDraft(round=in_round, refusal=failure.violations, waiting=waiting, pins=pins)
    points = points_before(document, in_round.number, drafts)
    return RoundDraft(
        round=in_round,
        lines=lines,
        gave_way=tuple(each for draft in drafts for each in draft.gave_way),
        seating_gave_way=seating_gave_way,
        is_exact=all(draft.exact for draft in drafts),
        digest=digest_of_lines(in_round, lines),
        waiting=waiting,
        pins=pins,
        paired_from={entrant.key: points.get(entrant.key, 0) for line in lines for entrant in line.entrants},
    )


def points_before(document: SeasonDocument, number: int, drafts: tuple[DivisionDraft, ...]) -> Mapping[str, int]:
    """Everybody's half-points before the round: those it was paired from, or else those of the table."""
    told = [each.points_x2 for each in drafts if each.points_x2 is not None]
    if len(told) < len(drafts):
        return points_after(document, number - 1)
    return {key: points for each in told for key, points in each.items()}


def seated(
    in_round: Round, lines: tuple[DraftLine, ...], pins: tuple[PinLine, ...]
) -> tuple[tuple[DraftLine, ...], tuple[str, ...]]:
    """The lines with their tables and scenarios.

    Raises:
        BadRound: a pinned table does not do.
    """
    games = [line for line in lines if not line.is_bye]
    seating = seat_pairings(
        in_round,
        [[entrant.pk for entrant in line.entrants] for line in games],
        pinned={entrant.pk: row.pin.table for row in pins if row.pin.table for entrant in row.entrants},
        seed=f"{in_round.season.seed}/{in_round.number}/tables",
    )
    places = iter(seating.places)
    placed = []
    for line in lines:
        if not line.is_bye:
            place = next(places)
            line = replace(line, table=place.table, scenario=place.scenario, seating=place.reasons)  # noqa: PLW2901
        placed.append(line)
    return tuple(placed), seating.gave_way


def strengths_for(in_round: Round, document: SeasonDocument) -> dict[str, int]:
    """Ratings by entrant, a team's the mean of its rated players; looked up only where there is a newcomer to keep from
    the strongest. A file has no ratings: there the points alone say who is strongest.
    """
    season = in_round.season
    cares = season.format == season.Format.SWISS and "newcomer" in document.pairing.criteria
    if not cares or not any(each.newcomer for each in document.entrants):
        return {}
    return strengths_of(season, today=in_round.on or season.starts_on)


def pins_of(in_round: Round) -> tuple[PinLine, ...]:
    """The pins that stand, in the order they were made: two queries."""
    rows = in_round.pins.filter(removed_at=None).select_related("table__venue", "by")
    return tuple(
        PinLine(
            pin=row,
            entrants=tuple(seat.entrant for seat in sorted(row.seats.all(), key=lambda seat: seat.position)),
        )
        for row in rows.prefetch_related("seats__entrant").order_by("pk")
    )


def moved_since(in_round: Round) -> tuple[Moved, ...]:
    """Whose points a correction has changed since a published round was paired from them. The pairings stand."""
    if not in_round.paired_from:
        return ()
    points = points_after(document_of(in_round.season), in_round.number - 1)
    return tuple(
        Moved(entrant=key, then_x2=then, now_x2=points.get(key, 0))
        for key, then in in_round.paired_from.items()
        if points.get(key, 0) != then
    )


def as_pins(pins: tuple[PinLine, ...]) -> Pins:
    keys = [(row.pin.kind, tuple(entrant.key for entrant in row.entrants)) for row in pins]
    return Pins(
        pairings=tuple(pair for kind, pair in keys if kind == Pin.Kind.PAIRING),
        byes=tuple(one[0] for kind, one in keys if kind == Pin.Kind.BYE),
    )


def lines_of(draft: DivisionDraft, entrants: Mapping[str, Entrant]) -> Iterator[DraftLine]:
    for pairing in draft.pairings:
        yield DraftLine(
            division=draft.division,
            entrants=tuple(entrants[key] for key in pairing.ids),
            pinned=pairing.pinned,
            reasons=pairing.reasons,
        )
    for bye in draft.byes:
        yield DraftLine(division=draft.division, entrants=(entrants[bye.id],), pinned=bye.pinned, reasons=bye.reasons)


def waiting_for(
    document: SeasonDocument, number: int, entrants: Mapping[str, Entrant]
) -> Iterator[tuple[Entrant, ...]]:
    for game in document.games:
        if 0 < game.round < number and is_waiting(document, game):
            yield tuple(entrants[side.entrant] for side in game.sides)


def is_waiting(document: SeasonDocument, game: SeasonGame) -> bool:
    """Whether its result can still come; what was struck out does not."""
    counts = game.report in COUNTING[document.counts] or game.report == "void"
    return not counts and not all(side.unplayed for side in game.sides)


def nobody_left(document: SeasonDocument, number: int) -> str:
    if seated_in(document, number):
        return "Everybody is paired in this round already."
    return "By the season's format there is nobody to pair in this round."


def digest_of_lines(in_round: Round, lines: tuple[DraftLine, ...]) -> str:
    told = [
        [
            [entrant.pk for entrant in line.entrants],
            line.table.pk if line.table else None,
            line.scenario.key if line.scenario else "",
        ]
        for line in lines
    ]
    return hashlib.sha256(json.dumps([in_round.pk, told]).encode()).hexdigest()
