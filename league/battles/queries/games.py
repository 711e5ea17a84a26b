"""Games as lines of a list: who met whom, over what, how it stands; a constant number of queries however many."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import Prefetch, QuerySet
from django.utils.translation import gettext as _

from league.battles.models import Game, GameQuerySet, GameState, Report, Side, SidePlayer, SideResult
from league.clubs.models import Club, Member
from league.rulesets.queries import rules_of

__all__ = ["GameLine", "SideLine", "games_of", "latest_reports", "line_of", "lines_of", "next_game", "with_lines"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SideLine:
    """One side: `role` is the name the scenario gives it; score and outcome are empty before the report."""

    position: int
    member_ids: tuple[int, ...]
    names: tuple[str, ...]
    role: str = ""
    role_key: str = ""
    roster_id: int | None = None
    score: int | None = None
    conceded: bool = False
    outcome: str = ""

    @property
    def named(self) -> str:
        return ", ".join(self.names)


@dataclass(frozen=True, kw_only=True, slots=True)
class GameLine:
    """One game of a list. `state` is a `GameState`; `scenario` and `ruleset` are names."""

    game_id: int
    on: date
    ruleset: str
    scenario: str
    venue: str
    table: int | None
    state: str
    report_id: int | None
    sides: tuple[SideLine, ...]
    created_at: datetime

    @property
    def state_words(self) -> str:
        return str(GameState(self.state).label)

    @property
    def title(self) -> str:
        """Who met whom, with the score where there is one: "Brannoc 12 - 7 Ceriden", with a true dash."""
        scored = all(side.score is not None for side in self.sides)
        if scored and len(self.sides) == 2:  # noqa: PLR2004 - only two sides read as "12 - 7"
            first, second = self.sides
            return f"{first.named} {first.score} \N{EN DASH} {second.score} {second.named}"
        if scored and self.report_id:
            return ", ".join(f"{side.named} {side.score}" for side in self.sides)
        return _(" against ").join(side.named for side in self.sides)


def with_lines(games: QuerySet[Game]) -> GameQuerySet:
    """The queryset with all that `line_of` reads, for a caller that sorts and pages it in the database."""
    current = Report.objects.current().prefetch_related("results")
    rows: GameQuerySet = (
        games.with_state()  # type: ignore[attr-defined]  # every queryset of games is a GameQuerySet
        .select_related("night__venue", "table__venue")
        .prefetch_related(
            # Prefetched, not joined: one edition's document for all its games instead of one a game.
            "edition__ruleset",
            Prefetch("sides", Side.objects.order_by("position")),
            Prefetch("sides__players", SidePlayer.objects.select_related("member").order_by("pk")),
            Prefetch("reports", current, to_attr="last_words"),
        )
    )
    return rows


def lines_of(games: QuerySet[Game]) -> list[GameLine]:
    """The games of a queryset, in its order, as lines; seven queries however many games."""
    return [line_of(game) for game in with_lines(games)]


def line_of(game: Game) -> GameLine:
    """A game read by `with_lines` as a line."""
    row: Any = game  # annotated and prefetched beyond what its type says
    scenario = rules_of(row.edition).scenario(row.scenario) if row.scenario else None
    roles = {side.key: side.name for side in scenario.sides} if scenario else {}
    results = {result.side_id: result for report in row.last_words for result in report.results.all()}
    venue = row.table.venue if row.table else row.night.venue if row.night else None
    return GameLine(
        game_id=row.pk,
        on=row.on,
        ruleset=row.edition.ruleset.name,
        scenario=scenario.name if scenario else "",
        venue=venue.name if venue else "",
        table=row.table.number if row.table else None,
        state=row.state,
        report_id=row.report_id,
        created_at=row.created_at,
        sides=tuple(side_line(side, roles, results.get(side.pk)) for side in row.sides.all()),
    )


def side_line(side: Side, roles: dict[str, str], result: SideResult | None) -> SideLine:
    players = list(side.players.all())
    return SideLine(
        position=side.position,
        member_ids=tuple(player.member_id for player in players),
        names=tuple(player.member.name for player in players),
        role=roles.get(side.role, ""),
        role_key=side.role,
        roster_id=side.roster_id,
        score=result.score if result else None,
        conceded=result.conceded if result else False,
        outcome=result.outcome if result else "",
    )


def games_of(member: Member) -> GameQuerySet:
    """The games a member plays or played in, the latest first."""
    return Game.objects.filter(players__member=member).order_by("-on", "-pk")


def next_game(member: Member, today: date) -> GameLine | None:
    """The member's next planned game from today on."""
    coming = games_of(member).with_state().filter(on__gte=today, state__in=[GameState.PLANNED, GameState.STARTED])
    return next(iter(lines_of(coming.order_by("on", "pk")[:1])), None)


def latest_reports(club: Club, limit: int) -> list[GameLine]:
    """The games reported last, the latest first."""
    reported = Game.objects.filter(club=club).with_state().filter(report_id__isnull=False, cancelled_at=None)
    return lines_of(reported.order_by("-report_id")[:limit])
