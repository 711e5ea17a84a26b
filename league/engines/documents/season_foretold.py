"""The forecast of a season document in whole: odds, verdicts, and what one entrant needs from the next game.

The page, the API and the shell command show one and the same of it; the seed of the season throws the dice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import comb
from typing import Final

import numpy as np

from league.engines.documents.season import standings_of
from league.engines.documents.season_forecast import foreseeable, is_over, outlook_of_season
from league.engines.documents.season_foretold_knockout import KNOCKOUTS, foretell_knockout
from league.engines.documents.season_foretold_parts import Aim, Foretold, GoalName
from league.engines.documents.season_parts import SeasonDocument
from league.engines.forecast import (
    BadForecast,
    Chance,
    Expectation,
    Needs,
    Odds,
    Outlook,
    even_odds,
    exact_odds,
    needs_of,
    odds,
    prospects,
)
from league.engines.standings import Row

__all__ = ["MOST_ENTRANTS", "Aim", "Foretold", "GoalName", "foretell", "needs_in", "seasons_for"]

MOST_ENTRANTS: Final = 128
SEASONS: Final = 20_000
# With more entrants fewer seasons are drawn, so that the answer stays a matter of seconds.
MANY_ENTRANTS: Final = 64
SEASONS_FOR_MANY: Final = 5_000
# So many possible seasons are rather counted than drawn.
MOST_COUNTED: Final = 50_000
FLOWS, FLOWS_FOR_MANY = 3_000, 300
FLOWS_MANY_ENTRANTS: Final = 40
# What conditions on other games may cost, in questions to the engine; beyond that only verdicts are told.
MOST_QUESTIONS: Final = 400
MOST_OTHERS: Final = 12
OUTCOMES: Final = 3
PAIR: Final = 2
# Sums of chances are off by less, and what is impossible should be nought.
DIGITS: Final = 12
# A sum of shares that is whole but for rounding.
CERTAIN: Final = 1 - 1e-9


def foretell(
    season: SeasonDocument,
    *,
    expected: Expectation,
    division: str = "",
    seasons: int | None = None,
    seed: int | None = None,
    closed: bool = False,
) -> Foretold:
    """The forecast of a season, or of one division of it. `seasons` is how many are drawn, None: as many as are fitting, or all counted if they are few; `seed` None: the
    season's own.

    With nothing left to play, or in a season that is `closed`, the places are those of the table, tie-breaks and all.
    A knock-out is reckoned exactly, whatever `seasons` and `seed`.

    Raises:
        BadForecast: this kind of season is not foretold.
    """
    if season.pairing.format in KNOCKOUTS:
        return foretell_knockout(season, division=division, expected=expected, closed=closed)
    part = foreseeable(season, division)
    if closed or is_over(part):
        return _settled(season, part, division)
    if len(part.entrants) > MOST_ENTRANTS:
        raise BadForecast([f"A forecast is made for {MOST_ENTRANTS} entrants at most."])
    outlook = outlook_of_season(season, division=division, expected=expected)
    told = _odds(outlook, seasons, season.rules.seed if seed is None else seed)
    seen = prospects(outlook, limit=_flows(outlook))
    aims = tuple(
        Aim(
            name=name,
            places=places,
            chances=tuple(replace(each, chance=round(each.chance, DIGITS)) for each in told.top(places)),
            verdicts=tuple(prospect.verdict(places) for prospect in seen),
        )
        for name, places in _goals(season, division, len(outlook.ids))
    )
    return Foretold(
        division=division,
        ids=outlook.ids,
        points_x2=tuple(outlook.points_x2.tolist()),
        fixtures=outlook.fixtures,
        rounds_to_draw=outlook.rounds_to_draw,
        seasons=told.seasons,
        places=tuple(tuple(row) for row in told.places.round(DIGITS).tolist()),
        errors=tuple(tuple(row) for row in told.errors.tolist()),
        aims=aims,
    )


def _odds(outlook: Outlook, seasons: int | None, seed: int) -> Odds:
    if seasons is None and not outlook.rounds_to_draw and len(outlook.results) ** len(outlook.fixtures) <= MOST_COUNTED:
        return exact_odds(outlook)
    return odds(outlook, rng=np.random.default_rng(seed), seasons=seasons or seasons_for(len(outlook.ids)))


def _settled(season: SeasonDocument, part: SeasonDocument, division: str) -> Foretold:
    """The table as it stands, for good: who is level on everything has an even share of their places."""
    rows = standings_of(part).rows
    sharing = Counter(row.rank for row in rows)
    places = tuple(
        tuple(1 / sharing[row.rank] if row.rank <= place < row.rank + sharing[row.rank] else 0.0 for place in counted)
        for counted in [range(1, len(rows) + 1)]
        for row in rows
    )
    return Foretold(
        division=division,
        ids=tuple(row.entrant_id for row in rows),
        points_x2=tuple(row.points_x2 for row in rows),
        fixtures=(),
        rounds_to_draw=0,
        seasons=0,
        places=places,
        errors=tuple(tuple(0.0 for _place in row) for row in places),
        aims=tuple(_settled_aim(name, best, rows, places) for name, best in _goals(season, division, len(rows))),
    )


def _settled_aim(name: GoalName, best: int, rows: Sequence[Row], places: Sequence[Sequence[float]]) -> Aim:
    chances = [min(1.0, sum(row[:best])) for row in places]
    return Aim(
        name=name,
        places=best,
        chances=tuple(
            Chance(entrant_id=row.entrant_id, chance=chance, error=0.0)
            for row, chance in zip(rows, chances, strict=True)
        ),
        verdicts=tuple("through" if chance > CERTAIN else "level" if chance > 0 else "out" for chance in chances),
    )


def seasons_for(entrants: int) -> int:
    """How many seasons are drawn for so many entrants."""
    return SEASONS if entrants <= MANY_ENTRANTS else SEASONS_FOR_MANY


def _goals(season: SeasonDocument, division: str, size: int) -> Iterator[tuple[GoalName, int]]:
    yield "title", 1
    found = next((each for each in season.divisions if each.id == division), None)
    if found is not None and 0 < found.promotes < size:
        yield "promotion", found.promotes
    if found is not None and 0 < found.relegates < size:
        yield "staying_up", size - found.relegates


def needs_in(season: SeasonDocument, told: Foretold, entrant: str) -> tuple[Needs, ...]:
    """What an entrant of a forecast needs from the next game: an entry for each aim that is still open. Empty where
    no next game is on the list, and in a knock-out, where everybody needs to win.

    Raises:
        BadForecast: there is no such entrant in it.
    """
    if entrant not in told.ids:
        raise BadForecast([f"{entrant} is not in this table."])
    if told.is_over or told.is_knockout:
        return ()
    # On points alone: what anybody may expect of anybody is of no account.
    outlook = outlook_of_season(season, division=told.division, expected=even_odds)
    listed = {game.id for game in season.games}
    place = told.ids.index(entrant)
    found = (
        needs_of(outlook, entrant, places=aim.places, limit=_flows(outlook), most_others=_most_others(outlook))
        for aim in told.aims
        if aim.verdicts[place] not in {"through", "out"}
    )
    return tuple(each for each in found if each is not None and each.fixture_id in listed)


def _flows(outlook: Outlook) -> int:
    return FLOWS if len(outlook.ids) <= FLOWS_MANY_ENTRANTS else FLOWS_FOR_MANY


def _most_others(outlook: Outlook) -> int:
    """As many other games as can be looked at in pairs without asking too much."""
    ways = len(outlook.results)
    return max(
        (
            many
            for many in range(MOST_OTHERS + 1)
            if ways * OUTCOMES * (many + OUTCOMES * comb(many, PAIR)) <= MOST_QUESTIONS
        ),
        default=0,
    )
