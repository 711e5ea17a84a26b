"""What the pages that span rooms show; each page in a constant number of queries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet

from accounts.models import User
from league.battles.models import Game, GameState, Report, ReportState, SidePlayer
from league.battles.queries import GameLine, SideLine, games_of, latest_reports, lines_of, next_game
from league.battles.queries.nights import games_of_night
from league.clubs.models import Attendance, Club, Member, Night
from league.clubs.queries import InvitationState, attendance_of, invitations_of, names_for, next_night
from league.rosters.models import Engagement
from league.rosters.queries import RosterRow, rolls_wanted, roster_rows, rosters_of
from league.seasons.models import Season
from league.seasons.queries import Standings, entrant_names, standings
from league.seasons.queries.ratings import CurveStep, rating_curve

__all__ = [
    "ClubBoard",
    "Desk",
    "LeagueTop",
    "PlayerPage",
    "PlayerResult",
    "Waiting",
    "club_board",
    "clubs_for",
    "desk_of",
    "player_page",
]

LATEST = 5
TOP_OF_TABLE = 8
STALE_AFTER = timedelta(days=3)


@dataclass(frozen=True, kw_only=True, slots=True)
class TopLine:
    rank: int
    name: str
    played: int
    points_x2: int
    is_mine: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class LeagueTop:
    """A season and the top of its table."""

    season: Season
    lines: tuple[TopLine, ...]
    entrants: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Waiting:
    """What waits for one member: games whose report they may answer, and reports whose dice are not thrown yet."""

    to_answer: tuple[GameLine, ...]
    dice: tuple[Report, ...]

    def __bool__(self) -> bool:
        return bool(self.to_answer or self.dice)


@dataclass(frozen=True, kw_only=True, slots=True)
class ClubBoard:
    """A club's front page as one member sees it; a visitor gets the public half only."""

    night: Night | None
    coming: int
    my_answer: str
    next_game: GameLine | None
    latest: tuple[GameLine, ...]
    waiting: Waiting | None
    tables: tuple[LeagueTop, ...]


def clubs_for(user: User) -> tuple[list[Club], list[Club]]:
    """The clubs a person belongs to, and the other clubs that have public pages; both by name."""
    mine = list(Club.objects.joined_by(user).order_by("name"))
    others = Club.objects.filter(is_public=True).exclude(pk__in=[club.pk for club in mine])
    return mine, list(others.order_by("name"))


def club_board(club: Club, member: Member | None, *, today: date) -> ClubBoard:
    tables = league_tops(club, member, today=today)
    if member is None:
        return ClubBoard(night=None, coming=0, my_answer="", next_game=None, latest=(), waiting=None, tables=tables)
    night = next_night(club, today)
    said = Attendance.objects.filter(night=night, member=member).first() if night else None
    return ClubBoard(
        night=night,
        coming=night.coming if night else 0,  # type: ignore[attr-defined]  # annotated by next_night
        my_answer=said.answer if said else "",
        next_game=next_game(member, today),
        latest=tuple(latest_reports(club, LATEST)),
        waiting=waiting_for(member),
        tables=tables,
    )


def running_seasons(club: Club, today: date) -> QuerySet[Season]:
    return (
        Season.objects.filter(club=club, closed_at=None, starts_on__lte=today)
        .filter(Q(ends_on=None) | Q(ends_on__gte=today))
        .order_by("-starts_on", "-pk")
    )


def league_tops(club: Club, member: Member | None, *, today: date) -> tuple[LeagueTop, ...]:
    """The top of each running season's table, the newest season first; two seasons at most."""
    return tuple(league_top(season, member) for season in running_seasons(club, today)[:2])


def league_top(season: Season, member: Member | None) -> LeagueTop:
    reckoned: Standings = standings(season)
    names = entrant_names(season, member)
    mine = set(season.players.filter(member=member).values_list("entrant__key", flat=True)) if member else set()
    lines = tuple(
        TopLine(
            rank=row.rank,
            name=names[row.entrant_id],
            played=row.played,
            points_x2=row.points_x2,
            is_mine=row.entrant_id in mine,
        )
        for row in reckoned.rows[:TOP_OF_TABLE]
    )
    return LeagueTop(season=season, lines=lines, entrants=len(reckoned.rows))


def waiting_for(member: Member) -> Waiting:
    team_mate = SidePlayer.objects.filter(
        game=OuterRef("game"), member=OuterRef("filed_by"), side__players__member=member
    )
    reports: Any = Report.objects.current().with_state()  # annotated beyond what its type says
    answerable = (
        reports.filter(state=ReportState.AWAITING, game__players__member=member)
        .exclude(filed_by=member)
        .exclude(Exists(team_mate))
    )
    games = Game.objects.filter(pk__in=answerable.values("game")).order_by("on", "pk")
    return Waiting(to_answer=tuple(lines_of(games)), dice=tuple(reports_awaiting_dice(member)))


def reports_awaiting_dice(member: Member) -> list[Report]:
    """Reports on the member's own rosters that still want dice, the oldest first."""
    open_fights = (
        Engagement.objects.standing()
        .filter(roster__owner=member, casualties__figures_lost__gt=0, casualties__rolls=None)
        .select_related("result__report__game", "snapshot__edition")
        .order_by("pk")
        .distinct()
    )
    return [fight.result.report for fight in open_fights if rolls_wanted(fight)]


# --- a player ------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True, slots=True)
class PlayerResult:
    """One game from one player's side. `score` reads own side first; empty where none was counted."""

    game_id: int
    on: date
    scenario: str
    opponents: str
    score: str
    outcome: str
    state: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PlayerPage:
    """`rosters` and `results` are None where the viewer may not see them; `curve` then is empty."""

    member: Member
    name: str
    won: int
    drawn: int
    lost: int
    rosters: tuple[RosterRow, ...] | None
    results: tuple[PlayerResult, ...] | None
    curve: tuple[CurveStep, ...]
    seasons: tuple[Season, ...]


COUNTED = (GameState.AWAITING, GameState.CONFIRMED, GameState.SETTLED)


def player_page(member: Member, *, viewer: Member | None, user: User, today: date) -> PlayerPage:
    """A member's page for a club mate, or what the member allows a stranger to see of it."""
    mate = viewer is not None
    results = player_results(member, viewer) if mate or member.shows_results else None
    told = [each.outcome for each in results or () if each.state in COUNTED]
    shows_rosters = mate or member.shows_rosters
    rosters = rosters_of(member.club, user).filter(owner=member, retired_at=None).order_by("name")
    return PlayerPage(
        member=member,
        name=names_for(viewer, [member])[member.pk],
        won=told.count("win"),
        drawn=told.count("draw"),
        lost=told.count("loss"),
        rosters=tuple(roster_rows(rosters)) if shows_rosters else None,
        results=results,
        curve=rating_curve(member, today=today) if results else (),
        seasons=tuple(Season.objects.filter(players__member=member).order_by("-starts_on", "-pk")) if mate else (),
    )


def player_results(member: Member, viewer: Member | None) -> tuple[PlayerResult, ...]:
    reported = games_of(member).with_state().filter(report_id__isnull=False, cancelled_at=None)
    lines = lines_of(reported)
    people = Member.objects.filter(pk__in={pk for line in lines for side in line.sides for pk in side.member_ids})
    names = names_for(viewer, people)
    return tuple(player_result(line, member, names) for line in lines)


def player_result(line: GameLine, member: Member, names: dict[int, str]) -> PlayerResult:
    mine = next(side for side in line.sides if member.pk in side.member_ids)
    theirs = [side for side in line.sides if side is not mine]
    return PlayerResult(
        game_id=line.game_id,
        on=line.on,
        scenario=line.scenario,
        opponents=", ".join(names[pk] for side in theirs for pk in side.member_ids),
        score=score_of(mine, theirs),
        outcome=mine.outcome,
        state=line.state,
    )


def score_of(mine: SideLine, theirs: Sequence[SideLine]) -> str:
    scores = [mine.score, *(side.score for side in theirs)]
    return " – ".join(map(str, scores)) if None not in scores else ""


# --- the organiser's desk --------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    """What wants an organiser's or an umpire's eye."""

    night: Night | None
    coming: int
    unanswered: int
    games_tonight: tuple[GameLine, ...]
    disputed: tuple[GameLine, ...]
    unconfirmed: tuple[GameLine, ...]
    open_invitations: int
    seasons: tuple[Season, ...]


def desk_of(club: Club, *, now: datetime, today: date) -> Desk:
    night = next_night(club, today)
    attendance = attendance_of(night) if night else []
    states = Game.objects.filter(club=club).with_state()
    stale = states.filter(state=GameState.AWAITING, on__lte=today - STALE_AFTER)
    invitations: Any = invitations_of(club, now)  # annotated with its state
    return Desk(
        night=night,
        coming=sum(line.answer == Attendance.Answer.COMING for line in attendance),
        unanswered=sum(not line.answer for line in attendance),
        games_tonight=tuple(lines_of(games_of_night(night).order_by("table__number", "pk"))) if night else (),
        disputed=tuple(lines_of(states.filter(state=GameState.DISPUTED).order_by("on", "pk"))),
        unconfirmed=tuple(lines_of(stale.order_by("on", "pk"))),
        open_invitations=invitations.filter(state=InvitationState.OPEN).count(),
        seasons=tuple(running_seasons(club, today)),
    )
