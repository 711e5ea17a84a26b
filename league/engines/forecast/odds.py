"""Chances of every place: by many seasons drawn at random, or by counting all there are."""

from __future__ import annotations

from typing import Final

import numpy as np

from .draw import paired
from .model import BadForecast, Floats, Ints, Level, Odds, Outlook, standard_error
from .results import OUTCOMES

# Numbers held at a time: bounds the memory whatever is asked for.
CELLS_AT_ONCE: Final = 2_000_000
MOST_SEASONS_COUNTED: Final = 4_000_000
LOT_BITS: Final = 24


def odds(outlook: Outlook, *, rng: np.random.Generator, seasons: int = 100_000, level: Level = "lots") -> Odds:
    """The chances out of `seasons` simulated ones; the same generator gives the same chances.

    Rounds still to be drawn are drawn from the top of each simulated table: everybody meets the nearest below whom
    they have not met, or failing that the nearest; a bye goes to the lowest who has had none.
    """
    if seasons < 1:
        raise BadForecast(["At least one season must be simulated."])
    size = len(outlook.ids)
    counts = np.zeros((size, size), dtype=np.int64)
    cells = size * size if outlook.rounds_to_draw else size + len(outlook.fixtures)
    at_once = max(1, CELLS_AT_ONCE * (8 if outlook.rounds_to_draw else 1) // max(1, cells))
    for begin in range(0, seasons, at_once):
        points = _simulated(outlook, min(at_once, seasons - begin), rng)
        order = _order(points, level, rng)
        cell = order + np.arange(size) * size
        counts += np.bincount(cell.ravel(), minlength=size * size).reshape(size, size)
    places = counts.T / seasons
    return Odds(ids=outlook.ids, places=places, errors=standard_error(places, seasons), seasons=seasons)


def exact_odds(outlook: Outlook, *, level: Level = "lots") -> Odds:
    """The chances by counting every possible season, each with its probability; a lot shares the places among those
    level. BadForecast where rounds are still to be drawn, or there are more than 4,000,000 seasons."""
    if outlook.rounds_to_draw:
        raise BadForecast(["The possible seasons can be counted only when every round is drawn."])
    total = len(outlook.results) ** len(outlook.fixtures)
    if total > MOST_SEASONS_COUNTED:
        raise BadForecast([f"There are {total:,} possible seasons, too many to count."])
    size = len(outlook.ids)
    steps = np.zeros((size, size + 1))
    at_once = max(1, CELLS_AT_ONCE // max(1, size))
    for begin in range(0, total, at_once):
        points, chance = _counted(outlook, np.arange(begin, min(begin + at_once, total)))
        if level == "today":
            points = points * size + np.arange(size)[::-1, None]
        for one in range(size):
            above = np.sum(points > points[one], axis=0)
            with_it = np.sum(points == points[one], axis=0)
            share = chance / with_it
            steps[one] += np.bincount(above, share, size + 1) - np.bincount(above + with_it, share, size + 1)
    places = np.clip(np.cumsum(steps, axis=1)[:, :size], 0.0, 1.0)
    return Odds(ids=outlook.ids, places=places, errors=np.zeros_like(places), seasons=0)


def chances_of(outlook: Outlook, expected: Floats) -> Floats:
    """The chance of each result (last axis) where the first may expect `expected`.

    A game between equals is drawn as often as the outlook says; the share falls with the distance, as 4 E (1 - E),
    and never eats up the expectation (common practice, no source).
    """
    drawn = np.minimum(4 * expected * (1 - expected) * outlook.draws, 2 * np.minimum(expected, 1 - expected))
    by_outcome: Floats = np.stack([expected - drawn / 2, drawn, 1 - expected - drawn / 2], axis=-1)
    of_result = [OUTCOMES.index(result.outcome) for result in outlook.results]
    return np.asarray(np.clip(by_outcome, 0.0, 1.0))[..., of_result] * outlook.weights


def _points_of_results(outlook: Outlook) -> tuple[Ints, Ints]:
    return (
        np.array([result.first_x2 for result in outlook.results], dtype=np.int64),
        np.array([result.second_x2 for result in outlook.results], dtype=np.int64),
    )


def _fixture_chances(outlook: Outlook) -> Floats:
    """The chance of each result, one row per fixture."""
    first, second = np.array(outlook.sides, dtype=np.int64).reshape(-1, 2).T
    return chances_of(outlook, outlook.expected[first, second])


def _edges(chances: Floats) -> Floats:
    """Where one result ends and the next begins for a number thrown between 0 and 1."""
    return np.asarray(chances.cumsum(axis=-1)[..., :-1], dtype=np.float64)


def _simulated(outlook: Outlook, seasons: int, rng: np.random.Generator) -> Ints:
    """Half-points at the end, one row per entrant and one column per season."""
    points = np.repeat(outlook.points_x2[:, None], seasons, axis=1)
    first_x2, second_x2 = _points_of_results(outlook)
    for (first, second), chance in zip(outlook.sides, _fixture_chances(outlook), strict=True):
        edges = _edges(chance).astype(np.float32)
        result = np.searchsorted(edges, rng.random(seasons, dtype=np.float32), side="right")
        points[first] += first_x2[result]
        points[second] += second_x2[result]
    if outlook.rounds_to_draw:
        _drawn_rounds(outlook, points, rng)
    return points


def _drawn_rounds(outlook: Outlook, points: Ints, rng: np.random.Generator) -> None:
    """Plays the rounds nobody knows yet, each drawn by the standings so far."""
    seasons = points.shape[1]
    first_x2, second_x2 = _points_of_results(outlook)
    met = np.repeat(outlook.met[None], seasons, axis=0)
    had_bye = np.repeat(outlook.had_bye[None], seasons, axis=0)
    edges = _edges(chances_of(outlook, outlook.expected))
    season = np.arange(seasons)
    playing = np.flatnonzero(outlook.active)
    for _ in range(outlook.rounds_to_draw):
        order = playing[_order(points[playing], "lots", rng)]
        firsts, seconds, byes = paired(order, met, had_bye)
        for first, second in zip(firsts, seconds, strict=True):
            result = np.sum(edges[first, second] <= rng.random((seasons, 1)), axis=1)
            points[first, season] += first_x2[result]
            points[second, season] += second_x2[result]
        if byes is not None:
            points[byes, season] += outlook.bye_x2


def _order(points: Ints, level: Level, rng: np.random.Generator) -> Ints:
    """Who is in which place: one row per season, entrants as numbers, best first. Everything is packed into one
    whole number, so that one sort does it: points, then lot or today's place, then the entrant."""
    size, seasons = points.shape
    bits = max(1, (size - 1).bit_length())
    if level == "lots":
        tie = rng.integers(0, 1 << LOT_BITS, (size, seasons), dtype=np.int64)
    else:
        tie = np.broadcast_to(np.arange(size, dtype=np.int64)[::-1, None], points.shape)
    keys = (((points << LOT_BITS) + tie) << bits) + np.arange(size)[:, None]
    packed = np.ascontiguousarray(keys.T)
    packed.sort(axis=1)
    return np.asarray(packed[:, ::-1] & ((1 << bits) - 1))


def _counted(outlook: Outlook, numbers: Ints) -> tuple[Ints, Floats]:
    """Half-points (a row per entrant) and probability of the seasons with these numbers: each fixture's result is one
    digit of the number."""
    points = np.repeat(outlook.points_x2[:, None], len(numbers), axis=1)
    chance = np.ones(len(numbers))
    first_x2, second_x2 = _points_of_results(outlook)
    rest = numbers
    for (first, second), chances in zip(outlook.sides, _fixture_chances(outlook), strict=True):
        rest, result = np.divmod(rest, len(outlook.results))
        points[first] += first_x2[result]
        points[second] += second_x2[result]
        chance *= chances[result]
    return points, chance
