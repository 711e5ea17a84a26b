"""What the pages and the API show of a season beside its table."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Q, QuerySet

from league.battles.models import Game, ReportState
from league.battles.queries import GameResult, results_of
from league.clubs.models import Club, Member, Table
from league.rulesets.queries import rules_of
from league.seasons.models import Adjustment, Entrant, Pairing, PairingSide, Round, Season, Unplayed

__all__ = [
    "PairingLine",
    "SeatLine",
    "adjustments_of",
    "entrants_of",
    "free_entrants",
    "free_members",
    "pairing_lines",
    "rounds_of",
    "seasons_of",
    "tables_in_use",
]


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatLine:
    """One entrant in a pairing, with what its report says; `name` as the reader may know it."""

    entrant: Entrant
    name: str
    unplayed: str
    score: int | None = None
    outcome: str = ""

    @property
    def unplayed_words(self) -> str:
        return str(Unplayed(self.unplayed).label) if self.unplayed else ""


@dataclass(frozen=True, kw_only=True, slots=True)
class PairingLine:
    """One pairing. `state` is a `ReportState` where there is a report, else planned, cancelled, or unplayed."""

    pairing: Pairing
    seats: tuple[SeatLine, ...]
    state: str
    report_id: int | None = None

    @property
    def game(self) -> Game | None:
        return self.pairing.game

    @property
    def scenario_name(self) -> str:
        """The scenario's name in its ruleset."""
        if self.game is None or not self.game.scenario:
            return ""
        found = rules_of(self.game.edition).scenario(self.game.scenario)
        return found.name if found else self.game.scenario

    @property
    def can_change(self) -> bool:
        """Whether an organiser can still take it back or mark it."""
        return self.report_id is None or self.state == ReportState.VOID


def seasons_of(club: Club) -> QuerySet[Season, Season]:
    """The club's seasons, open ones first and the latest first, with how many take part as `entrant_count`."""
    taking_part: Any = Count("entrants", filter=Q(entrants__left_at=None))
    seasons: QuerySet[Season, Season] = Season.objects.filter(club=club).select_related("ruleset")
    return seasons.annotate(entrant_count=taking_part).order_by("-starts_on", "-pk")


def entrants_of(season: Season) -> QuerySet[Entrant, Entrant]:
    """Everyone who takes or took part, with players: two queries."""
    return season.entrants.prefetch_related("players__member").order_by("pk")


def rounds_of(season: Season) -> QuerySet[Round, Round]:
    """The rounds by number, each with its `pairing_count` and how many of them have a report as `reported_count`."""
    standing = Q(pairings__removed_at=None)
    told: Any = {
        "pairing_count": Count("pairings", filter=standing, distinct=True),
        "reported_count": Count("pairings", filter=standing & Q(pairings__game__reports__isnull=False), distinct=True),
    }
    return season.rounds.annotate(**told).order_by("number")


def adjustments_of(season: Season) -> QuerySet[Adjustment, Adjustment]:
    return season.adjustments.select_related("entrant", "by").order_by("-pk")


def free_entrants(in_round: Round) -> QuerySet[Entrant, Entrant]:
    """Who can still be paired in a round, by name; in open play everybody."""
    free = Entrant.objects.filter(season=in_round.season_id, left_at=None).order_by("name", "pk")
    if in_round.is_open_play:
        return free
    return free.exclude(pk__in=PairingSide.objects.filter(round=in_round, removed_at=None).values("entrant"))


def free_members(season: Season, but: Entrant | None = None) -> QuerySet[Member, Member]:
    """Who of the club plays for nobody in the season yet (or for this entrant), by name."""
    entered = season.players.exclude(entrant=but) if but else season.players.all()
    people: QuerySet[Member, Member] = Member.objects.present().filter(club=season.club_id)
    return people.exclude(pk__in=entered.values("member")).order_by("name", "pk")


def tables_in_use(club: Club) -> QuerySet[Table, Table]:
    """The tables one can be paired at, venue by venue."""
    tables: QuerySet[Table, Table] = Table.objects.filter(venue__club=club, venue__closed_at=None)
    return tables.select_related("venue").order_by("venue__name", "venue_id", "number")


def pairing_lines(pairings: QuerySet[Pairing, Pairing], names: Mapping[str, str]) -> list[PairingLine]:
    """The pairings that stand, in order, with their results: a fixed number of queries."""
    rows = list(
        pairings.filter(removed_at=None)
        .select_related("game__table__venue", "game__edition", "round")
        .order_by("position", "pk")
    )
    seats: defaultdict[int, list[PairingSide]] = defaultdict(list)
    for seat in (
        PairingSide.objects.filter(pairing__in=[row.pk for row in rows], removed_at=None)
        .select_related("entrant")
        .order_by("position")
    ):
        seats[seat.pairing_id].append(seat)
    results = results_of([row.game for row in rows if row.game is not None])
    return [line_of(row, seats[row.pk], results, names) for row in rows]


def line_of(
    row: Pairing, seats: Iterable[PairingSide], results: Mapping[int, GameResult], names: Mapping[str, str]
) -> PairingLine:
    told = list(seats)
    playing = [seat for seat in told if not seat.unplayed]
    result = results.get(row.game_id) if row.game_id and playing else None
    sides = dict(zip((seat.pk for seat in playing), result.sides if result else (), strict=False))
    return PairingLine(
        pairing=row,
        state=state_of(row, result, playing),
        report_id=result.report_id if result else None,
        seats=tuple(
            SeatLine(
                entrant=seat.entrant,
                name=names.get(seat.entrant.key, seat.entrant.name),
                unplayed=seat.unplayed,
                score=sides[seat.pk].score if seat.pk in sides else None,
                outcome=sides[seat.pk].outcome if seat.pk in sides else "",
            )
            for seat in told
        ),
    )


def state_of(row: Pairing, result: GameResult | None, playing: list[PairingSide]) -> str:
    if result is not None:
        return str(result.state)
    if not playing:
        return "unplayed"
    return "cancelled" if row.game is None or row.game.cancelled_at else "planned"
