"""How strong the members of a club are, reckoned from the games of all its seasons and outside them.

Nothing of it is stored: a correction to an old report mends every rating from its month on by itself. A rating period
is a calendar month of the days on which games were fought, which are days in the club's own zone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, cast

from league.battles.models import Game, ReportState
from league.battles.queries import GameResult, results_of
from league.clubs.models import Club, Member
from league.clubs.queries import names_for
from league.engines.documents.season_ratings import SCORES_X2, month_of, period_of, places
from league.engines.ratings import (
    History,
    ManyGame,
    Quality,
    RatedGame,
    Rating,
    Skill,
    SkillHistory,
    quality,
    rate,
    rate_many,
)

__all__ = [
    "FEWEST_FORECASTS",
    "PROVISIONAL_ABOVE",
    "ClubHistory",
    "CurveStep",
    "RatingLine",
    "Ratings",
    "TeamLine",
    "club_history",
    "rating_curve",
    "ratings_of",
]

# One has a place once one's deviation is below this, after six or seven games (common practice, no source).
PROVISIONAL_ABOVE: Final = 150.0
# With fewer games the measures of forecasts are mostly chance (common practice, no source).
FEWEST_FORECASTS: Final = 30
COUNTED: Final = frozenset({ReportState.AWAITING, ReportState.CONFIRMED, ReportState.SETTLED})
PAIR: Final = 2
BINS: Final = 5


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class ClubHistory:
    """A club's games as the ratings engine made something of them; players go by their number as text.

    `singles` are games of one against one, `others` those of teams and of many sides, in order of their days.
    """

    history: History
    skills: SkillHistory
    singles: tuple[RatedGame, ...]
    others: tuple[ManyGame, ...]

    def rating(self, member_id: int) -> Rating | None:
        """A member's rating today, None for one who has not played one against one."""
        last = self.history.last
        return last.of(str(member_id)) if last is not None else None


@dataclass(frozen=True, kw_only=True, slots=True)
class RatingLine:
    """One member. `rank` is None while the rating is provisional; `change` is what the last month with games
    (`month`, its first day) made of it."""

    member_id: int
    name: str
    rank: int | None
    rating: float
    deviation: float
    games: int
    change: float
    month: date

    @property
    def is_provisional(self) -> bool:
        return self.rank is None


@dataclass(frozen=True, kw_only=True, slots=True)
class TeamLine:
    """One member in games of teams and of many sides, ordered by the skill's `cautious` side."""

    member_id: int
    name: str
    rank: int
    skill: Skill
    games: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Ratings:
    """Everybody's rating at the end of `today`. `quality` is None before the first game; `games` and `team_games` say
    how many games are behind the two lists."""

    today: date
    lines: tuple[RatingLine, ...]
    teams: tuple[TeamLine, ...]
    quality: Quality | None
    games: int
    team_games: int

    @property
    def says_quality(self) -> bool:
        """Whether there are games enough to say how good the forecasts are."""
        return self.games >= FEWEST_FORECASTS


@dataclass(frozen=True, kw_only=True, slots=True)
class CurveStep:
    """A member's rating at the end of a month (`month` is its first day), in which they played `games`."""

    month: date
    rating: float
    deviation: float
    games: int


def club_history(club: Club, *, today: date) -> ClubHistory:
    """The ratings after every month up to this one, from all games of the club that count; at most five queries.

    A report counts as soon as it is filed, and not while it is disputed or after it was struck out.
    """
    games = Game.objects.filter(club=club, cancelled_at=None)
    results = [each for each in results_of(cast("Iterable[Game]", games)).values() if each.state in COUNTED]
    singles = tuple(rated_game(each) for each in results if is_single(each))
    others = tuple(
        many_game(each)
        for each in sorted(results, key=lambda one: (one.fought_on, one.game_id))
        if not is_single(each) and all(side.member_ids for side in each.sides) and len(each.sides) >= PAIR
    )
    through = max((game.period for game in singles), default=0)
    history = rate(singles, through=max(through, period_of(today)))
    return ClubHistory(history=history, skills=rate_many(others), singles=singles, others=others)


def is_single(result: GameResult) -> bool:
    return len(result.sides) == PAIR and all(len(side.member_ids) == 1 for side in result.sides)


def rated_game(result: GameResult) -> RatedGame:
    first, second = result.sides
    return RatedGame(
        id=str(result.game_id),
        period=period_of(result.fought_on),
        first=str(first.member_ids[0]),
        second=str(second.member_ids[0]),
        score_x2=SCORES_X2[first.outcome],
    )


def many_game(result: GameResult) -> ManyGame:
    return ManyGame(
        id=str(result.game_id),
        sides=tuple(tuple(map(str, side.member_ids)) for side in result.sides),
        ranks=places([(side.outcome, side.score) for side in result.sides]),
    )


def ratings_of(club: Club, *, viewer: Member | None, today: date) -> Ratings:
    """Both lists of a club, for a reader: at most seven queries. Who left is on no list; their games count."""
    told = club_history(club, today=today)
    people = list(Member.objects.present().filter(club=club))
    names = names_for(viewer, people)
    return Ratings(
        today=today,
        lines=tuple(rating_lines(told, names)),
        teams=tuple(team_lines(told, names)),
        quality=quality(told.history.forecasts(), bins=BINS),
        games=len(told.singles),
        team_games=len(told.others),
    )


def rating_lines(told: ClubHistory, names: dict[int, str]) -> list[RatingLine]:
    """By rating, those with a place before those without."""
    last = told.history.last
    if last is None:
        return []
    games = Counter(player for game in told.singles for player in (game.first, game.second))
    changes = last_changes(told.history)
    deviations = last.deviation.tolist()
    rated = sorted(
        (deviation > PROVISIONAL_ABOVE, -rating, int(player), rating, deviation)
        for player, rating, deviation in zip(last.players, last.rating.tolist(), deviations, strict=True)
        if int(player) in names
    )
    settled = [round(rating) for provisional, _key, _id, rating, _deviation in rated if not provisional]
    return [
        RatingLine(
            member_id=member_id,
            name=names[member_id],
            rank=None if provisional else settled.index(round(rating)) + 1,
            rating=rating,
            deviation=deviation,
            games=games[str(member_id)],
            change=changes[str(member_id)][1],
            month=month_of(changes[str(member_id)][0]),
        )
        for provisional, _key, member_id, rating, deviation in rated
    ]


def last_changes(history: History) -> dict[str, tuple[int, float]]:
    """For each player the last period in which they played and what it made of their rating."""
    now: dict[str, float] = {}
    changes: dict[str, tuple[int, float]] = {}
    for state in history.states:
        for place in state.games.nonzero()[0].tolist():
            player, rating = state.players[place], float(state.rating[place])
            changes[player] = (state.period, rating - now.get(player, history.parameters.rating))
            now[player] = rating
    return changes


def team_lines(told: ClubHistory, names: dict[int, str]) -> list[TeamLine]:
    games = Counter(player for game in told.others for side in game.sides for player in side)
    rated = sorted(
        ((-skill.cautious, int(player), skill) for player, skill in told.skills.last.items() if int(player) in names),
        key=lambda one: one[:2],
    )
    return [
        TeamLine(member_id=member_id, name=names[member_id], rank=rank, skill=skill, games=games[str(member_id)])
        for rank, (_key, member_id, skill) in enumerate(rated, start=1)
    ]


def rating_curve(member: Member, *, today: date) -> tuple[CurveStep, ...]:
    """A member's rating after every month from their first game on; empty for one who has not played one against one."""
    return curve_in(club_history(member.club, today=today), member.pk)


def curve_in(told: ClubHistory, member_id: int) -> tuple[CurveStep, ...]:
    points: Sequence[tuple[int, Rating, int]] = [
        (point.period, point.rating, point.games) for point in told.history.curve(str(member_id))
    ]
    return tuple(
        CurveStep(month=month_of(period), rating=rating.rating, deviation=rating.deviation, games=games)
        for period, rating, games in points
    )
