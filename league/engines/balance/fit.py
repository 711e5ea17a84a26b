"""The Bradley-Terry model with side effects, fitted by Newton's method.

The log odds that the first beats the second are strength(first) - strength(second) + what the side is worth. A draw
is half a win and half a loss. Sources: R. A. Bradley and M. E. Terry, Biometrika 39 (1952) 324-345; the effect of a
side ("home advantage"): A. Agresti, Categorical Data Analysis, 2nd ed. (2002), section 10.6.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np
from numpy.typing import NDArray

from .model import By, Effect, Fit, Interval, Key, NoFit, SidedGame, Strength
from .shares import check, sided

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CLOSE_ENOUGH: Final = 1e-10
MOST_STEPS: Final = 100
# Odds of a thousand million to one are no estimate: without a prior, the fit is running away.
RUNAWAY: Final = 20.0
# The key of "being first", whatever else is asked.
SIDE: Final[Key] = ()


def fit(
    games: Sequence[SidedGame], *, by: By | None = None, prior: float | None = 2.0, confidence: float = 0.95
) -> Fit:
    """Strengths of all players, and what each scenario, table or pair of factions is worth beside them.

    `prior` is the standard deviation, in log odds, of a normal prior around 0 on every strength and effect. It keeps
    those finite who only won, and leans towards "balanced"; 2.0 is weak (common practice, no source). With None it is
    the maximum-likelihood fit, and NoFit is raised where there is none. Errors and intervals are from the curvature
    at the optimum. Raises BadGames with every violation.
    """
    check(games)
    if not games:
        return Fit(strengths=(), effects=(), side=None, log_likelihood=0.0)
    design = _Design.of(games, by)
    estimate = _optimum(design, 0.0 if prior is None else 1 / prior**2)
    return _told(design, estimate, confidence)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Design:
    """Each game's row of the model: at most four entries. `columns[g]` and `signs[g]` say which parameters count for
    and against the first; players come before effects, an unused place has sign 0."""

    players: tuple[str, ...]
    keys: tuple[Key, ...]
    games_of: Mapping[Key, int]
    columns: Ints
    signs: Floats
    score: Floats

    @classmethod
    def of(cls, games: Sequence[SidedGame], by: By | None) -> _Design:
        players = tuple(sorted({game.first for game in games} | {game.second for game in games}))
        terms = {game.id: (key, sign) for key, sign, game in (sided(games, by) if by else ())}
        games_of = Counter(key for key, _ in terms.values())
        if by == "factions":
            games_of[SIDE] = len(games)
        keys = tuple(sorted(games_of))
        of_player = {player: number for number, player in enumerate(players)}
        of_key = {key: number for number, key in enumerate(keys, start=len(players))}
        columns = np.zeros((len(games), 4), dtype=np.int64)
        signs = np.zeros((len(games), 4))
        for row, game in enumerate(games):
            entries = [(of_player[game.first], 1), (of_player[game.second], -1)]
            if game.id in terms:
                key, sign = terms[game.id]
                entries.append((of_key[key], sign))
            if by == "factions":
                entries.append((of_key[SIDE], 1))
            for number, (column, sign) in enumerate(entries):
                columns[row, number], signs[row, number] = column, sign
        score = np.array([game.score_x2 for game in games]) / 2
        return cls(players=players, keys=keys, games_of=games_of, columns=columns, signs=signs, score=score)

    @property
    def size(self) -> int:
        return len(self.players) + len(self.keys)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Optimum:
    values: Floats
    covariance: Floats
    log_likelihood: float


def _optimum(design: _Design, ridge: float) -> _Optimum:
    size, columns, signs = design.size, design.columns, design.signs
    # Only differences of strengths matter: their sum is held at 0, which neither moves nor widens anything else.
    level = np.zeros(size)
    level[: len(design.players)] = 1.0
    fixed = ridge * np.eye(size) + np.outer(level, level) / len(design.players)
    pairs = columns[:, :, None] * size + columns[:, None, :]
    products = signs[:, :, None] * signs[:, None, :]
    values = np.zeros(size)
    for _ in range(MOST_STEPS):
        expected = 1 / (1 + np.exp(-np.sum(values[columns] * signs, axis=1)))
        slope = np.bincount(columns.ravel(), (signs * (design.score - expected)[:, None]).ravel(), size)
        spread = (products * (expected * (1 - expected))[:, None, None]).ravel()
        curvature = np.bincount(pairs.ravel(), spread, size * size).reshape(size, size) + fixed
        try:
            step = np.linalg.solve(curvature, slope - ridge * values)
        except np.linalg.LinAlgError:
            break
        # Newton's step is shortened where it would leap; far out the curve is too flat to be trusted.
        values = values + step * min(1.0, 2.0 / max(float(np.max(np.abs(step))), CLOSE_ENOUGH))
        if float(np.max(np.abs(values))) > RUNAWAY and not ridge:
            break
        if float(np.max(np.abs(step))) < CLOSE_ENOUGH:
            return _Optimum(
                values=values,
                covariance=np.linalg.inv(curvature) - np.outer(level, level) / (len(design.players) * (1 + ridge)),
                log_likelihood=_log_likelihood(design, values),
            )
    raise NoFit("Somebody, or some side, only won or only lost, or not all have met: no finite strengths fit best.")


def _log_likelihood(design: _Design, values: Floats) -> float:
    odds = np.sum(values[design.columns] * design.signs, axis=1)
    return float(np.sum(design.score * odds - np.logaddexp(0.0, odds)))


def _told(design: _Design, optimum: _Optimum, confidence: float) -> Fit:
    errors = np.sqrt(np.maximum(np.diag(optimum.covariance), 0.0)).tolist()
    values = optimum.values.tolist()
    strengths = [
        Strength(player=player, estimate=values[place], error=errors[place])
        for place, player in enumerate(design.players)
    ]
    z = NormalDist().inv_cdf(0.5 + confidence / 2)
    effects = {
        key: _effect(key, design.games_of[key], values[place], errors[place], z)
        for place, key in enumerate(design.keys, start=len(design.players))
    }
    return Fit(
        strengths=tuple(sorted(strengths, key=lambda one: (-one.estimate, one.player))),
        effects=tuple(effect for key, effect in effects.items() if key != SIDE),
        side=effects.get(SIDE),
        log_likelihood=optimum.log_likelihood,
    )


def _effect(key: Key, games: int, estimate: float, error: float, z: float) -> Effect:
    return Effect(
        key=key,
        games=games,
        estimate=estimate,
        error=error,
        share=_logistic(estimate),
        interval=Interval(low=_logistic(estimate - z * error), high=_logistic(estimate + z * error)),
    )


def _logistic(odds: float) -> float:
    return 1 / (1 + math.exp(-odds))
