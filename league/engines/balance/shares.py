"""Win shares with Wilson's interval."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from statistics import NormalDist

from .model import BadGames, By, Interval, Key, Share, SidedGame

WIN_X2 = 2


def wilson(successes: float, games: int, *, confidence: float = 0.95, corrected: bool = False) -> Interval:
    """Wilson's score interval for a proportion, `corrected` for continuity if asked.

    Methods 3 and 4 of R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872. Raises BadGames for no games, or
    more successes than games.
    """
    if not 0 <= successes <= games or not games:
        raise BadGames([f"{successes} successes in {games} games make no share."])
    z = NormalDist().inv_cdf(0.5 + confidence / 2)
    p = successes / games
    spread, middle = 2 * (games + z * z), 2 * successes + z * z
    if not corrected:
        reach = z * math.sqrt(z * z + 4 * successes * (1 - p))
        return Interval(low=max(0.0, (middle - reach) / spread), high=min(1.0, (middle + reach) / spread))
    down = z * math.sqrt(max(0.0, z * z - 2 - 1 / games + 4 * p * (games * (1 - p) + 1)))
    up = z * math.sqrt(max(0.0, z * z + 2 - 1 / games + 4 * p * (games * (1 - p) - 1)))
    return Interval(
        low=0.0 if successes == 0 else max(0.0, (middle - 1 - down) / spread),
        high=1.0 if successes == games else min(1.0, (middle + 1 + up) / spread),
    )


def shares(games: Sequence[SidedGame], *, by: By, confidence: float = 0.95) -> tuple[Share, ...]:
    """Every scenario's, table's or pair of factions' share, in order of their names.

    A draw counts as half a win. That makes results vary less than the interval supposes, so with draws it is somewhat
    too wide and never calls unbalanced what it should not. Games of a faction against itself are left out.
    Raises BadGames with every violation.
    """
    check(games)
    results: defaultdict[Key, Counter[int]] = defaultdict(Counter)
    for key, sign, game in sided(games, by):
        results[key][game.score_x2 if sign > 0 else WIN_X2 - game.score_x2] += 1
    return tuple(_share(key, results[key], confidence) for key in sorted(results))


def _share(key: Key, results: Counter[int], confidence: float) -> Share:
    wins, draws, losses = results[2], results[1], results[0]
    interval = wilson(wins + draws / 2, wins + draws + losses, confidence=confidence)
    return Share(key=key, wins=wins, draws=draws, losses=losses, interval=interval)


def sided(games: Sequence[SidedGame], by: By) -> Iterator[tuple[Key, int, SidedGame]]:
    """The games of which it is known, each with its key and whose side the key takes: the first's (1) or not (-1)."""
    for game in games:
        if by == "factions":
            names = (game.first_faction, game.second_faction)
            if all(names) and names[0] != names[1]:
                yield (min(names), max(names)), 1 if names[0] < names[1] else -1, game
        elif name := game.scenario if by == "scenario" else game.table:
            yield (name,), 1, game


def check(games: Sequence[SidedGame]) -> None:
    """Raises BadGames with every violation."""
    wrong = [
        f"Game {game_id} is there more than once."
        for game_id, times in Counter(game.id for game in games).items()
        if times > 1
    ]
    for game in games:
        if game.first == game.second:
            wrong.append(f"Game {game.id}: {game.first} plays against themselves.")
        if game.score_x2 not in {0, 1, WIN_X2}:
            wrong.append(f"Game {game.id}: a score is 0, 1 or 2 halves, not {game.score_x2}.")
    if wrong:
        raise BadGames(wrong)
