"""From a season as the standings engine knows it, and what is left of it, to an outlook."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np

from league.engines.standings import Adjustment, Entrant, Game, Rules, standings

from .model import BadForecast, Expectation, Fixture, Outlook
from .results import frequencies, results_of


def even_odds(_first: str, _second: str) -> float:
    """Nobody is known to be the stronger."""
    return 0.5


def outlook_of(
    entrants: Sequence[Entrant],
    games: Sequence[Game],
    adjustments: Sequence[Adjustment] = (),
    rules: Rules = Rules(),  # noqa: B008  frozen
    *,
    fixtures: Sequence[Fixture] = (),
    rounds_to_draw: int = 0,
    expected: Expectation = even_odds,
    draws: float | None = None,
) -> Outlook:
    """What is still possible in a season: `games` were played, `fixtures` are open, and `rounds_to_draw` rounds will
    be drawn by the standings then, everybody against somebody.

    `expected(a, b)` is a's expected score against b, from ratings for instance. `draws` is the share of drawn games
    between equals, counted from the games when not given.

    Raises BadSeason for games that make no table and BadForecast for fixtures and rules that cannot be foretold.
    """
    table = standings(entrants, games, adjustments, rules)
    ids = tuple(row.entrant_id for row in table.rows)
    playing = {entrant.id for entrant in entrants if not entrant.left}
    violations = tuple(_violations(rules, fixtures, rounds_to_draw, playing & set(ids), draws))
    if violations:
        raise BadForecast(violations)
    place = {entrant_id: number for number, entrant_id in enumerate(ids)}
    points = np.array([row.points_x2 for row in table.rows], dtype=np.int64)
    for fixture in fixtures:
        if fixture.second is None:
            points[place[fixture.first]] += rules.scheme.bye_x2
    open_ = tuple(sorted((one for one in fixtures if one.second is not None), key=lambda one: one.round))
    sides = tuple((place[fixture.first], place[fixture.second or ""]) for fixture in open_)
    results = results_of(rules.scheme)
    weights, drawn = frequencies(results, rules.scheme, entrants, games)
    met, had_bye = _history(games, fixtures, place)
    return Outlook(
        ids=ids,
        names=tuple(row.name for row in table.rows),
        points_x2=points,
        active=np.array([entrant_id in playing for entrant_id in ids], dtype=np.bool_),
        met=met,
        had_bye=had_bye,
        bye_x2=rules.scheme.bye_x2,
        fixtures=open_,
        sides=sides,
        rounds_to_draw=rounds_to_draw,
        results=results,
        weights=weights,
        expected=_expectations(ids, sides, expected, everybody=rounds_to_draw > 0),
        draws=drawn if draws is None else draws,
    )


def _violations(
    rules: Rules, fixtures: Sequence[Fixture], rounds_to_draw: int, playing: set[str], draws: float | None
) -> Iterator[str]:
    scheme = rules.scheme
    if rules.rank_by != "points":
        yield "Only a table ranked by points is forecast, not one by points per game."
    if any(bonus.kind == "clean_sweep" for bonus in scheme.bonuses):
        yield "A bonus for a clean sweep hangs on the whole season, which is not forecast."
    if not scheme.win_x2 >= scheme.draw_x2 >= scheme.loss_x2:
        yield "A win must be worth a draw at least, and a draw a loss."
    if rounds_to_draw < 0:
        yield f"There cannot be {rounds_to_draw} rounds to draw."
    if draws is not None and not 0 <= draws <= 1:
        yield f"The share of draws lies between 0 and 1, not at {draws}."
    twice = [each for each, times in Counter(fixture.id for fixture in fixtures).items() if times > 1]
    yield from (f"Fixture {each} is there more than once." for each in twice)
    for fixture in fixtures:
        if fixture.first == fixture.second:
            yield f"Fixture {fixture.id}: {fixture.first} plays against themselves."
        for entrant_id in {fixture.first, fixture.second} - {None}:
            if entrant_id not in playing:
                yield f"Fixture {fixture.id}: {entrant_id} does not play in this season, or plays no more."


def _history(
    games: Sequence[Game], fixtures: Sequence[Fixture], place: dict[str, int]
) -> tuple[np.ndarray[tuple[int, int], np.dtype[np.bool_]], np.ndarray[tuple[int], np.dtype[np.bool_]]]:
    """Who has met whom, or will in a fixture, and who has had a bye."""
    met, had_bye = np.zeros((len(place), len(place)), dtype=np.bool_), np.zeros(len(place), dtype=np.bool_)
    for game in games:
        seats = [place[side.entrant_id] for side in game.sides if side.entrant_id in place]
        met[np.ix_(seats, seats)] = True
        byes = [place[side.entrant_id] for side in game.sides if side.unplayed == "bye" and side.entrant_id in place]
        had_bye[byes] = True
    for fixture in fixtures:
        if fixture.second is None:
            had_bye[place[fixture.first]] = True
        else:
            met[place[fixture.first], place[fixture.second]] = met[place[fixture.second], place[fixture.first]] = True
    return met, had_bye


def _expectations(
    ids: Sequence[str], sides: Sequence[tuple[int, int]], expected: Expectation, *, everybody: bool
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Only the pairs that will meet are asked for, all where rounds are still to be drawn."""
    size = len(ids)
    matrix = np.full((size, size), 0.5)
    pairs = [(a, b) for a in range(size) for b in range(a + 1, size)] if everybody else []
    for a, b in [*pairs, *sides]:
        score = expected(ids[a], ids[b])
        if not 0 <= score <= 1:
            raise BadForecast([f"{ids[a]} cannot expect {score} against {ids[b]}: it lies between 0 and 1."])
        matrix[a, b], matrix[b, a] = score, 1 - score
    return matrix
