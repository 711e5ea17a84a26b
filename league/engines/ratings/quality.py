"""How good the forecasts have been, against one who only knows how often the first side wins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from .model import BadGames, Floats, Forecasts

# A certain forecast that fails would cost infinitely much; nobody here is surer than this.
SUREST: Final = 1e-12


@dataclass(frozen=True, kw_only=True, slots=True)
class CalibrationBin:
    """The games in which `low` <= expected < `high` (the last bin has its upper end too).

    `expected` and `scored` are means over them; `error` is the standard error `scored` would have if the forecasts
    were right, so a calibrated forecast is off by more than two of them one time in twenty.
    """

    low: float
    high: float
    games: int
    expected: float
    scored: float
    error: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Quality:
    """Of `games` forecasts. `log_loss` is in natural units and `brier` the mean square error: less is better.

    `base_rate` is the mean score of the first side over the same games, known only afterwards: the best that one
    number for all games can do. A draw counts as half a win and half a loss, so neither loss can reach 0 with draws.
    """

    games: int
    log_loss: float
    brier: float
    base_rate: float
    base_log_loss: float
    base_brier: float
    bins: tuple[CalibrationBin, ...]

    @property
    def beats_the_base_rate(self) -> bool:
        return self.log_loss < self.base_log_loss


def quality(forecasts: Forecasts, *, bins: int = 10) -> Quality | None:
    """The quality of forecasts, None when there are none. Raises BadGames for numbers outside 0 to 1."""
    expected, score = forecasts.expected, forecasts.score
    if not all(np.all((column >= 0) & (column <= 1)) for column in (expected, score)):
        raise BadGames(["Expectations and scores lie between 0 and 1."])
    if not len(score):
        return None
    base = np.full(len(score), score.mean())
    return Quality(
        games=len(score),
        log_loss=_log_loss(expected, score),
        brier=float(np.mean(np.square(expected - score))),
        base_rate=float(base[0]),
        base_log_loss=_log_loss(base, score),
        base_brier=float(np.mean(np.square(base - score))),
        bins=_bins(expected, score, bins),
    )


def _log_loss(expected: Floats, score: Floats) -> float:
    sure = np.clip(expected, SUREST, 1.0 - SUREST)
    return float(-np.mean(score * np.log(sure) + (1.0 - score) * np.log(1.0 - sure)))


def _bins(expected: Floats, score: Floats, bins: int) -> tuple[CalibrationBin, ...]:
    """The bins with games in them, from low to high."""
    number = np.minimum((expected * bins).astype(np.int64), bins - 1)
    found = []
    for each in np.unique(number).tolist():
        inside = expected[number == each]
        found.append(
            CalibrationBin(
                low=each / bins,
                high=(each + 1) / bins,
                games=len(inside),
                expected=float(inside.mean()),
                scored=float(score[number == each].mean()),
                error=float(np.sqrt(np.sum(inside * (1.0 - inside))) / len(inside)),
            )
        )
    return tuple(found)
