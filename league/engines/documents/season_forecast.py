"""What is still to be played in a season document, as the forecast engine takes it.

A game of two is open when it is on the fixture list without a result that counts: not reported, disputed, or waiting
for a confirmation this season asks for. What was struck out is not expected to be played again. Of a round robin the
games that are not on the list yet are known all the same; of Swiss rounds only how many are still to be drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import Final

from league.engines.documents.season import reckoned_from
from league.engines.documents.season_divisions import only
from league.engines.documents.season_parts import COUNTING, SeasonDocument, SeasonGame
from league.engines.documents.season_ratings import rated_games
from league.engines.forecast import BadForecast, Expectation, Fixture, Outlook, outlook_of
from league.engines.ratings import Parameters, Rating, expected_score, rate

__all__ = [
    "expectation_by",
    "fixtures_of",
    "foreseeable",
    "is_over",
    "outlook_of_season",
    "part_of",
    "ratings_in",
    "rounds_to_draw",
]

PAIR: Final = 2
ROUND_ROBINS: Final[Mapping[str, int]] = {"round_robin": 1, "double_round_robin": 2}
FORESEEN: Final = frozenset({"typed", "swiss", *ROUND_ROBINS})
NEWCOMER: Final = Rating(
    rating=Parameters().rating, deviation=Parameters().deviation, volatility=Parameters().volatility
)


def outlook_of_season(season: SeasonDocument, *, division: str = "", expected: Expectation) -> Outlook:
    """The season, or one of its divisions, as far as it has come and with all that is left.

    Raises:
        BadForecast: this kind of season is not foretold; `violations` has every reason.
    """
    part = foreseeable(season, division)
    entrants, games, adjustments = reckoned_from(part)
    return outlook_of(
        entrants,
        games,
        adjustments,
        part.rules,
        fixtures=fixtures_of(part),
        rounds_to_draw=rounds_to_draw(part),
        expected=expected,
    )


def foreseeable(season: SeasonDocument, division: str) -> SeasonDocument:
    """The division (or the whole season), if it is of a kind that is foretold; BadForecast if not."""
    part = part_of(season, division)
    violations = list(_violations(season, part))
    if violations:
        raise BadForecast(violations)
    return part


def is_over(part: SeasonDocument) -> bool:
    """Whether nothing is left to play."""
    return not fixtures_of(part) and not rounds_to_draw(part)


def part_of(season: SeasonDocument, division: str) -> SeasonDocument:
    """The season with the entrants of one division alone, and what they play among themselves."""
    inside = [each.id for each in season.entrants if each.division == division]
    return season if len(inside) == len(season.entrants) else only(season, inside)


def _violations(season: SeasonDocument, part: SeasonDocument) -> Iterator[str]:
    pairing = season.pairing
    if pairing.format == "open":
        yield "An open season is not forecast: anybody may still play anybody, so nothing is out of reach."
    elif pairing.format not in FORESEEN:
        yield "A ladder is not forecast: anybody may still challenge anybody within reach, as often as they like."
    inside = {each.id for each in part.entrants}
    if not inside:
        yield "Nobody takes part yet."
    if any(1 <= sum(side.entrant in inside for side in game.sides) < len(game.sides) for game in season.games):
        yield "Games between divisions are not foretold."
    if any(len(game.sides) > PAIR for game in part.games if _is_open(part, game)):
        yield "Open games of more than two sides are not foretold."


def fixtures_of(season: SeasonDocument) -> list[Fixture]:
    """The open games of two between those who are still in, and the rest of a round robin after them.

    The rest has ids that no game of a document can have, and byes where an odd number plays.
    """
    playing = [each.id for each in season.entrants if each.left is None]
    listed = [
        Fixture(id=game.id, first=game.sides[0].entrant, second=game.sides[1].entrant, round=game.round)
        for game in season.games
        if _is_open(season, game) and len(game.sides) == PAIR and all(side.entrant in playing for side in game.sides)
    ]
    return [*listed, *_rest_of_round_robin(season, playing)]


def rounds_to_draw(season: SeasonDocument) -> int:
    """How many rounds nobody knows the pairings of: the Swiss rounds still to come, or rounds that stand empty."""
    numbers = {each.number for each in season.rounds}
    drawn = {game.round for game in season.games if game.round}
    if season.pairing.format == "swiss":
        numbers |= set(range(1, season.pairing.rounds + 1))
    elif season.pairing.format != "typed":
        return 0
    return len(numbers - drawn)


def ratings_in(season: SeasonDocument) -> dict[str, Rating]:
    """What the season's own games say about its entrants; who has not played is not in it."""
    last = rate(rated_games(season)).last
    if last is None:
        return {}
    return {entrant: rating for entrant in last.players if (rating := last.of(entrant)) is not None}


def expectation_by(ratings: Mapping[str, Rating]) -> Expectation:
    """What each may expect against each by their ratings; one who has none is a newcomer."""

    def expected(first: str, second: str) -> float:
        return expected_score(ratings.get(first, NEWCOMER), ratings.get(second, NEWCOMER))

    return expected


def _is_open(season: SeasonDocument, game: SeasonGame) -> bool:
    decided = game.report in COUNTING[season.counts] or game.report == "void"
    return not decided and len(game.sides) > 1 and not any(side.unplayed for side in game.sides)


def _rest_of_round_robin(season: SeasonDocument, playing: list[str]) -> Iterator[Fixture]:
    times = ROUND_ROBINS.get(season.pairing.format, 0)
    rounds = [game for game in season.games if game.round]
    on_list = Counter(frozenset(side.entrant for side in game.sides) for game in rounds)
    after = max((game.round for game in rounds), default=0) + 1
    for first, second in combinations(playing, PAIR):
        for time in range(on_list[frozenset((first, second))], times):
            sides = (first, second) if time % PAIR == 0 else (second, first)
            yield Fixture(id=f"{first}:{second}:{time + 1}", first=sides[0], second=sides[1], round=after)
    if len(playing) % PAIR:
        for each in playing:
            for time in range(on_list[frozenset((each,))], times):
                yield Fixture(id=f"{each}::{time + 1}", first=each, second=None, round=after)
