"""What the reports say about scenarios, factions and tables, and what they do not say.

Whose share is told is the scenario's first side, by its role; games in which nobody has a role say nothing about
scenarios and tables. Games of one against one count once they are reported, and not while disputed or struck out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, cast

from django.db.models import QuerySet

from league.battles.models import Game, ReportState, Side
from league.battles.queries.results import GameResult, results_of
from league.clubs.models import Club
from league.engines.balance import By, Effect, Interval, Share, SidedGame, fit, shares
from league.engines.rulesets import Ruleset, Scenario
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of

__all__ = ["FEWEST_GAMES", "Balance", "BalanceLine", "Finding", "balance_of"]

# With fewer games nothing is called unbalanced whatever the interval says (common practice, no source).
FEWEST_GAMES: Final = 10
COUNTED: Final = frozenset({ReportState.AWAITING, ReportState.CONFIRMED, ReportState.SETTLED})
SCORES_X2: Final = {"win": 2, "draw": 1, "loss": 0}
PAIR: Final = 2
# The parts of a key are held together by what no name can hold: names are stripped of control characters.
SEPARATOR: Final = "\x1f"
Finding = str


@dataclass(frozen=True, kw_only=True, slots=True)
class BalanceLine:
    """One scenario, table, or faction against another. `side` is whose share it is.

    `share` with its `interval` (Wilson's, 95 %) is counted; `fair_share` with its own is that between players equally
    strong (Bradley-Terry). All are 0 to 1. `finding` is a word for programs: `few` (too few games), `even` (even odds
    are possible), `players` (uneven, but the players' strength may account for it), `uneven`.
    """

    ruleset: str
    name: str
    side: str
    games: int
    wins: int
    draws: int
    losses: int
    share: float
    interval: Interval
    fair_share: float
    fair_interval: Interval
    finding: Finding

    @property
    def favours_side(self) -> bool:
        return self.share > 0.5  # noqa: PLR2004 - even odds


@dataclass(frozen=True, kw_only=True, slots=True)
class Balance:
    """The lists of a club, and the number of games of one against one behind them."""

    games: int
    scenarios: tuple[BalanceLine, ...]
    factions: tuple[BalanceLine, ...]
    tables: tuple[BalanceLine, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Words:
    """What keys are called: scenario and table keys by (ruleset, name, side)."""

    scenarios: Mapping[str, tuple[str, str, str]]
    tables: Mapping[str, str]
    rulesets: Mapping[str, str]


def balance_of(club: Club) -> Balance:
    """From all games of the club; at most seven queries, however many there are."""
    games = Game.objects.filter(club=club, cancelled_at=None)
    results = {
        game_id: each
        for game_id, each in results_of(cast("Iterable[Game]", games)).items()
        if each.state in COUNTED and len(each.sides) == PAIR and all(len(side.member_ids) == 1 for side in each.sides)
    }
    if not results:
        return Balance(games=0, scenarios=(), factions=(), tables=())
    editions = editions_of(games)
    sided, words = sided_games(cast("QuerySet[Game, Game]", games), results, editions)
    return Balance(
        games=len(sided),
        scenarios=lines_by(sided, "scenario", words),
        factions=lines_by(sided, "factions", words),
        tables=lines_by(sided, "table", words),
    )


def editions_of(games: QuerySet[Game]) -> dict[int, Edition]:
    """Every edition a game was played by, the oldest first."""
    used = Edition.objects.filter(pk__in=games.values("edition")).select_related("ruleset").order_by("number", "pk")
    return {edition.pk: edition for edition in used}


def sided_games(
    games: QuerySet[Game, Game], results: Mapping[int, GameResult], editions: Mapping[int, Edition]
) -> tuple[list[SidedGame], Words]:
    rules: dict[int, Ruleset] = {pk: rules_of(edition) for pk, edition in editions.items()}
    seats: dict[int, dict[int, tuple[str, str]]] = {}
    for game_id, position, role, faction in Side.objects.filter(game__in=games).values_list(
        "game_id", "position", "role", "roster__faction"
    ):
        seats.setdefault(game_id, {})[position] = (role, faction or "")
    sided: list[SidedGame] = []
    scenarios: dict[str, tuple[str, str, str]] = {}
    tables: dict[str, str] = {}
    facts = games.order_by("pk").values_list("pk", "edition_id", "scenario", "table__number", "table__venue__name")
    for pk, edition_id, scenario_key, number, venue in facts:
        if pk not in results:
            continue
        edition = editions[edition_id]
        ruleset = str(edition.ruleset_id)
        scenario = rules[edition_id].scenario(scenario_key) if scenario_key else None
        game = sided_game(results[pk], seats[pk], scenario, ruleset=ruleset, table=table_name(venue, number))
        sided.append(game)
        if game.scenario and scenario is not None:
            # The newest edition has the last word on what a scenario is called.
            scenarios[game.scenario] = (edition.ruleset.name, scenario.name, scenario.sides[0].name)
        if game.table:
            tables[game.table] = game.table
    names = {str(edition.ruleset_id): edition.ruleset.name for edition in editions.values()}
    return sided, Words(scenarios=scenarios, tables=tables, rulesets=names)


def table_name(venue: str | None, number: int | None) -> str:
    return f"{venue}, {number}" if venue and number is not None else ""


def sided_game(
    result: GameResult,
    seats: Mapping[int, tuple[str, str]],
    scenario: Scenario | None,
    *,
    ruleset: str,
    table: str,
) -> SidedGame:
    """A result told from the scenario's first side; where nobody has that role, from the side that stands first."""
    sides = list(result.sides)
    roles = [seats[side.position][0] for side in sides]
    wanted = [side.key for side in scenario.sides] if scenario else []
    has_roles = len(wanted) == PAIR and sorted(roles) == sorted(wanted)
    if has_roles and roles[0] != wanted[0]:
        sides.reverse()
    first, second = sides
    factions = [seats[side.position][1] for side in sides]
    return SidedGame(
        id=str(result.game_id),
        first=str(first.member_ids[0]),
        second=str(second.member_ids[0]),
        score_x2=SCORES_X2[first.outcome],
        scenario=SEPARATOR.join([ruleset, scenario.key]) if has_roles and scenario else "",
        table=table if has_roles else "",
        first_faction=SEPARATOR.join([ruleset, factions[0]]) if factions[0] else "",
        second_faction=SEPARATOR.join([ruleset, factions[1]]) if factions[1] else "",
    )


def lines_by(games: list[SidedGame], by: By, words: Words) -> tuple[BalanceLine, ...]:
    """The lines of one list, those with most games first."""
    counted = shares(games, by=by)
    if not counted:
        return ()
    fair = {effect.key: effect for effect in fit(games, by=by).effects}
    lines = [line_of(share, fair[share.key], by, words) for share in counted]
    return tuple(sorted(lines, key=lambda line: (-line.games, line.ruleset, line.name, line.side)))


def line_of(share: Share, fair: Effect, by: By, words: Words) -> BalanceLine:
    ruleset, name, side = named(share.key, by, words)
    return BalanceLine(
        ruleset=ruleset,
        name=name,
        side=side,
        games=share.games,
        wins=share.wins,
        draws=share.draws,
        losses=share.losses,
        share=share.share,
        interval=share.interval,
        fair_share=fair.share,
        fair_interval=fair.interval,
        finding=finding_of(share, fair),
    )


def named(key: tuple[str, ...], by: By, words: Words) -> tuple[str, str, str]:
    """Ruleset, name and side of a key."""
    if by == "scenario":
        return words.scenarios[key[0]]
    if by == "table":
        return "", words.tables[key[0]], ""
    ruleset, first = key[0].split(SEPARATOR, 1)
    second = key[1].split(SEPARATOR, 1)[1]
    return words.rulesets[ruleset], second, first


def finding_of(share: Share, fair: Effect) -> Finding:
    if share.games < FEWEST_GAMES:
        return "few"
    if not share.unbalanced:
        return "even"
    same_way = (fair.share > 0.5) == (share.share > 0.5)  # noqa: PLR2004 - even odds
    return "uneven" if fair.unbalanced and same_way else "players"
