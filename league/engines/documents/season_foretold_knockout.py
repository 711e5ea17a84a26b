"""The forecast of a knock-out out of its season document: the bracket as it stands, and everybody's chances in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from league.engines.documents.season import standings_of
from league.engines.documents.season_bracket import Knockout, knockout_of
from league.engines.documents.season_divisions import only
from league.engines.documents.season_foretold_parts import Aim, Foretold, GoalName
from league.engines.documents.season_parts import SeasonDocument
from league.engines.forecast import BadForecast, Chance, Expectation, Fixture, KnockoutOdds, Verdict, knockout_odds
from league.engines.pairing import BadRound

__all__ = ["KNOCKOUTS", "foretell_knockout"]

KNOCKOUTS: Final = frozenset({"knockout", "groups_knockout"})
# In how many rounds a bracket has to be for it to be worth saying that somebody gets so far.
STAGES: Final[tuple[tuple[GoalName, int, int], ...]] = (("title", 1, 1), ("final", 2, 2), ("semi_final", 4, 3))


def foretell_knockout(season: SeasonDocument, *, division: str, expected: Expectation, closed: bool) -> Foretold:
    """The forecast of the knock-out of a season or one of its divisions; exact, by the chances to go on.

    Raises:
        BadForecast: there is no bracket yet, or the season was closed before it was decided.
    """
    state = bracket_of(season, division)
    gone = {each.id for each in season.entrants if each.left is not None}
    told = in_order(knockout_odds(state.fixtures, state.seeds, expected=expected, gone=gone))
    fixtures = tuple(open_matches(season, state))
    undrawn = {each.match.round for each in state.fixtures if each.winner is None and not each.can_be_played}
    if closed and (fixtures or undrawn):
        raise BadForecast(["The season was closed before its knock-out was decided."])
    points = {row.entrant_id: row.points_x2 for row in standings_of(only(season, told.ids)).rows}
    return Foretold(
        division=division,
        ids=told.ids,
        points_x2=tuple(points.get(each, 0) for each in told.ids),
        fixtures=fixtures,
        rounds_to_draw=len(undrawn),
        seasons=0,
        places=tuple(tuple(row) for row in told.places.round(12).tolist()),
        errors=tuple(tuple(0.0 for _ in told.ids) for _ in told.ids),
        aims=tuple(aim(name, places, told) for name, places, rounds in STAGES if state.bracket.rounds >= rounds),
        is_knockout=True,
    )


def bracket_of(season: SeasonDocument, division: str) -> Knockout:
    try:
        state = knockout_of(season, division)
    except BadRound as failure:
        raise BadForecast(failure.violations) from None
    if state is None:
        raise BadForecast(["The knock-out is forecast once its groups are over."])
    return state


def in_order(told: KnockoutOdds) -> KnockoutOdds:
    """Those still in it first, by their seeding; then those who are out, the last to go first."""
    best = [next((place for place, chance in enumerate(row) if chance), len(row)) for row in told.places]
    order = sorted(range(len(told.ids)), key=lambda one: (best[one], one))
    return KnockoutOdds(ids=tuple(told.ids[one] for one in order), places=told.places[order])


def open_matches(season: SeasonDocument, state: Knockout) -> Iterator[Fixture]:
    """The matches whose two entrants are known, with the id of their game where there is one."""
    for each in state.fixtures:
        if each.can_be_played:
            number = state.first_round + each.match.round - 1
            games: dict[frozenset[str | None], str] = {
                frozenset(side.entrant for side in game.sides): game.id for game in season.games if game.round == number
            }
            first, second = each.sides
            yield Fixture(
                id=games.get(frozenset(each.sides), each.match.id), first=first or "", second=second, round=number
            )


def aim(name: GoalName, places: int, told: KnockoutOdds) -> Aim:
    chances = told.top(places).round(12).tolist()
    return Aim(
        name=name,
        places=places,
        chances=tuple(
            Chance(entrant_id=each, chance=chance, error=0.0) for each, chance in zip(told.ids, chances, strict=True)
        ),
        verdicts=tuple(verdict(told, one, places) for one in range(len(told.ids))),
    )


def verdict(told: KnockoutOdds, one: int, places: int) -> Verdict:
    if told.is_through(one, places):
        return "through"
    return "out" if told.is_out(one, places) else "open"
