"""The season as columns of numbers: one row per appearance, one edge per ordered pair of opponents in a game.

Every sum over an entrant is a difference of running totals, because appearances and edges lie sorted by entrant. All
columns are int64 (or smaller whole numbers), so every value is exact.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from .model import Entrant, Game

Ints = NDArray[np.int64]
Codes = NDArray[np.int8]
Flags = NDArray[np.bool_]

LOSS: Final = 0
DRAW: Final = 1
WIN: Final = 2
FROM_SCORES: Final = -1
OUTCOME_CODES: Final = {"loss": LOSS, "draw": DRAW, "win": WIN, None: FROM_SCORES}
UNPLAYED_WORDS: Final = ("", "bye", "forfeit_win", "forfeit_loss", "absent")
UNPLAYED_CODES: Final = {word: code for code, word in enumerate(UNPLAYED_WORDS)}
PLAYED: Final = 0
BYE: Final = 1
FORFEIT_WIN: Final = 2
FORFEIT_LOSS: Final = 3
ABSENT: Final = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class Appearances:
    """What was reported of each side, one entry per side; `entrant` and `game` are indices.

    `stated` is the outcome as reported (`FROM_SCORES`: none), `unplayed` a code of `UNPLAYED_WORDS`; `scored` says
    whether the side has a score, 0 standing in `score` where it has none.
    """

    entrant: Ints
    game: Ints
    round: Ints
    score: Ints
    scored: Flags
    stated: Codes
    unplayed: Codes
    destroyed: Ints
    lost: Ints
    counts: Mapping[str, Ints]

    def take(self, chosen: Ints | Flags) -> Appearances:
        """The chosen entries, by flag or by index."""
        return Appearances(
            entrant=self.entrant[chosen],
            game=self.game[chosen],
            round=self.round[chosen],
            score=self.score[chosen],
            scored=self.scored[chosen],
            stated=self.stated[chosen],
            unplayed=self.unplayed[chosen],
            destroyed=self.destroyed[chosen],
            lost=self.lost[chosen],
            counts={name: column[chosen] for name, column in self.counts.items()},
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Ledger:
    """A season in columns. Build it with `from_games` or `from_appearances`; the constructor checks nothing.

    * `ids`, `names`, `left`: the entrants, sorted by id; an index in the other columns points here.
    * `appearances`: sorted by entrant, then round, then game; those of entrant `e` are
      `starts[e]:starts[e + 1]`. `outcome` and `against` (the best score among the others) are worked out.
    * edges: `edge_from` and `edge_to` are indices of appearances, sorted by `edge_from`; those of entrant `e` are
      `edge_starts[e]:edge_starts[e + 1]`. `edge_result` is the outcome against that one opponent; only games that
      both sides played have `edge_played`. `edge_owner` and `edge_opponent` are the entrants.
    * `rounds`: the last round anybody appears in.
    """

    ids: tuple[str, ...]
    names: tuple[str, ...]
    left: Flags
    game_ids: tuple[str, ...]
    appearances: Appearances
    outcome: Codes
    against: Ints
    starts: Ints
    edge_from: Ints
    edge_to: Ints
    edge_result: Codes
    edge_played: Flags
    edge_owner: Ints
    edge_opponent: Ints
    edge_starts: Ints
    rounds: int

    @classmethod
    def from_games(cls, entrants: Sequence[Entrant], games: Sequence[Game]) -> Ledger:
        """Columns out of dataclasses that `violations_of` found nothing wrong with."""
        sorted_entrants = sorted(entrants, key=lambda entrant: entrant.id)
        sorted_games = sorted(games, key=lambda game: game.id)
        index_of = {entrant.id: index for index, entrant in enumerate(sorted_entrants)}
        sides = [side for game in sorted_games for side in game.sides]
        sizes = [len(game.sides) for game in sorted_games]
        names_of_counts = sorted({name for side in sides if side.counts for name in side.counts})
        return cls.from_appearances(
            ids=tuple(entrant.id for entrant in sorted_entrants),
            names=tuple(entrant.name for entrant in sorted_entrants),
            left=np.array([entrant.left for entrant in sorted_entrants], dtype=np.bool_),
            game_ids=tuple(game.id for game in sorted_games),
            appearances=Appearances(
                entrant=_whole([index_of[side.entrant_id] for side in sides]),
                game=np.repeat(np.arange(len(sizes), dtype=np.int64), _whole(sizes)),
                round=np.repeat(_whole([game.round for game in sorted_games]), _whole(sizes)),
                score=_whole([side.score or 0 for side in sides]),
                scored=np.array([side.score is not None for side in sides], dtype=np.bool_),
                stated=np.array([OUTCOME_CODES[side.outcome] for side in sides], dtype=np.int8),
                unplayed=np.array([UNPLAYED_CODES[side.unplayed] for side in sides], dtype=np.int8),
                destroyed=_whole([side.value_destroyed for side in sides]),
                lost=_whole([side.value_lost for side in sides]),
                counts={name: _whole([side.counts.get(name, 0) for side in sides]) for name in names_of_counts},
            ),
        )

    @classmethod
    def from_appearances(
        cls,
        *,
        ids: tuple[str, ...],
        names: tuple[str, ...],
        left: Flags,
        game_ids: tuple[str, ...],
        appearances: Appearances,
    ) -> Ledger:
        """Columns out of columns: sorts them, works out who won and who met whom. `ids` must be sorted."""
        order = np.lexsort((appearances.game, appearances.round, appearances.entrant))
        rows = appearances.take(order)
        by_game = np.argsort(rows.game, kind="stable")
        first, size = _runs(rows.game[by_game])
        outcome, against = _outcomes(rows, by_game, first, size)
        edge_from, edge_to = _pairs(by_game, first, size)
        played = rows.unplayed == PLAYED
        everyone = np.arange(len(ids) + 1)
        starts = np.searchsorted(rows.entrant, everyone)
        return cls(
            ids=ids,
            names=names,
            left=left,
            game_ids=game_ids,
            appearances=rows,
            outcome=outcome,
            against=against,
            starts=starts,
            edge_from=edge_from,
            edge_to=edge_to,
            edge_result=_edge_results(rows, outcome, edge_from, edge_to, np.repeat(size, size)[np.argsort(by_game)]),
            edge_played=played[edge_from] & played[edge_to],
            edge_owner=rows.entrant[edge_from],
            edge_opponent=rows.entrant[edge_to],
            edge_starts=np.searchsorted(edge_from, starts),
            rounds=int(rows.round.max(initial=0)),
        )

    def through(self, last_round: int) -> Ledger:
        """The season as it stood after `last_round`; games outside rounds stay."""
        return self._keeping(self.appearances.round <= last_round)

    def without_leavers(self) -> Ledger:
        """The season as if those who left had never entered; a game that leaves one opponent alone is struck out."""
        rows = self.appearances
        stays = ~self.left[rows.entrant]
        sides = np.bincount(rows.game, minlength=len(self.game_ids))
        staying = np.bincount(rows.game[stays], minlength=len(self.game_ids))
        alone = (sides > 1) & (staying == 1)
        remaining = self._keeping(stays & ~alone[rows.game])
        kept = np.flatnonzero(~self.left)
        moved = np.cumsum(~self.left) - 1
        columns = remaining.appearances
        renumbered = {name: getattr(columns, name) for name in Appearances.__slots__}
        renumbered["entrant"] = moved[columns.entrant].astype(np.int64)
        return Ledger.from_appearances(
            ids=tuple(self.ids[index] for index in kept.tolist()),
            names=tuple(self.names[index] for index in kept.tolist()),
            left=self.left[kept],
            game_ids=self.game_ids,
            appearances=Appearances(**renumbered),
        )

    def _keeping(self, chosen: Flags) -> Ledger:
        if chosen.all():
            return self
        return Ledger.from_appearances(
            ids=self.ids,
            names=self.names,
            left=self.left,
            game_ids=self.game_ids,
            appearances=self.appearances.take(chosen),
        )


def sum_by(starts: Ints, values: NDArray[np.generic]) -> Ints:
    """Sums of the runs `starts[i]:starts[i + 1]` of whole numbers; empty runs are 0."""
    running = np.zeros(len(values) + 1, dtype=np.int64)
    np.cumsum(values, dtype=np.int64, out=running[1:])
    return running[starts[1:]] - running[starts[:-1]]


def _whole(values: list[int]) -> Ints:
    return np.array(values, dtype=np.int64)


def _runs(sorted_values: Ints) -> tuple[Ints, Ints]:
    """Where each run of equal values begins, and how long it is."""
    if not len(sorted_values):
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    first = np.flatnonzero(np.r_[True, sorted_values[1:] != sorted_values[:-1]])
    return first, np.diff(np.r_[first, len(sorted_values)])


def _outcomes(rows: Appearances, by_game: Ints, first: Ints, size: Ints) -> tuple[Codes, Ints]:
    """The outcome of each appearance and the best score among the others, both in the order of `rows`.

    A game without scores has 0 against everybody; a side that played nothing keeps what was stated, or a loss.
    """
    outcome = rows.stated.copy()
    against = np.zeros(len(by_game), dtype=np.int64)
    if not len(by_game):
        return outcome, against
    lowest = np.iinfo(np.int64).min
    score = np.where(rows.scored[by_game], rows.score[by_game], lowest)
    best = np.repeat(np.maximum.reduceat(score, first), size)
    is_best = score == best
    how_many_best = np.repeat(np.add.reduceat(is_best.astype(np.int64), first), size)
    runner_up = np.repeat(np.maximum.reduceat(np.where(is_best, lowest, score), first), size)
    of_others = np.where(is_best & (how_many_best == 1), runner_up, best)
    against[by_game] = np.where(of_others == lowest, 0, of_others)
    derived = np.where(is_best, np.where(how_many_best == 1, WIN, DRAW), LOSS).astype(np.int8)
    from_scores = outcome[by_game] == FROM_SCORES
    outcome[by_game] = np.where(from_scores, derived, outcome[by_game])
    outcome[rows.unplayed != PLAYED] = LOSS
    return outcome, against


def _pairs(by_game: Ints, first: Ints, size: Ints) -> tuple[Ints, Ints]:
    """All ordered pairs of appearances in the same game, sorted by the first of the pair."""
    others = np.repeat(size - 1, size)
    position = np.arange(len(by_game), dtype=np.int64)
    source = np.repeat(position, others)
    begins = np.cumsum(others) - others
    offset = np.arange(len(source), dtype=np.int64) - np.repeat(begins, others)
    target = np.repeat(np.repeat(first, size), others) + offset
    target += target >= source
    edge_from, edge_to = by_game[source], by_game[target]
    order = np.argsort(edge_from, kind="stable")
    return edge_from[order], edge_to[order]


def _edge_results(rows: Appearances, outcome: Codes, edge_from: Ints, edge_to: Ints, size: Ints) -> Codes:
    """Against one opponent: the better outcome wins; among the losers of a game of many sides the scores decide;
    what is still level is a draw, but two sides who both lost have both lost."""
    mine, theirs = outcome[edge_from], outcome[edge_to]
    result = np.where(mine > theirs, WIN, np.where(mine < theirs, LOSS, DRAW)).astype(np.int8)
    both_lost = (mine == LOSS) & (theirs == LOSS)
    many = size[edge_from] > 2  # noqa: PLR2004  two sides, or more
    ahead = np.sign(rows.score[edge_from] - rows.score[edge_to]).astype(np.int8) + np.int8(1)
    result[both_lost] = np.where(many, ahead, LOSS)[both_lost]
    return result
