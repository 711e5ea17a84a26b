"""What unplayed rounds mean to Buchholz and Sonneborn-Berger: named, versioned policies.

`as_scored`: an opponent counts with all the points scored in games and byes; one's own unplayed round gives nothing.

`fide_2009`: the rule in force from 2009 to 2022 (FIDE Handbook C.02 article 13, earlier C.06 annex 3). One's own
unplayed round R of n is held to be played against a virtual opponent with

    Svon = SPR + (1 - SfPR) + 0.5 * (n - R)

where SPR is one's score before round R and SfPR the score for it. Each unplayed round of an opponent counts half a
point. The 1 and the half of the formula are the scheme's win and draw, so that it reads the same for other schemes.

`fide_2023`: from memory of the regulations of 2023. One's own unplayed round is held to be played against a dummy
opponent with one's own final score. An opponent counts as scored, save that the voluntarily unplayed rounds
(absences, lost forfeits, rounds without any entry) after the last round the opponent was there for count as draws.
Voluntarily unplayed rounds are the first to be cut.

The FIDE policies look at rounds 1 to n, n the last round in the ledger: they mean whole rounds. An entrant without any
entry in one of them is held to have been absent without points. Games outside rounds count as scored.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .ledger import FORFEIT_WIN, PLAYED, Flags, Ints, Ledger, sum_by
from .rules import Rules, Scheme


@dataclass(frozen=True, kw_only=True, slots=True)
class OwnUnplayed:
    """Unplayed rounds 1 to n, sorted by owner and round. `appearance` is -1 where there is no entry at all.

    `value` is what the stand-in opponent counts (half-points), `result` 2 for a round that scored like a win, 1 for
    something between, 0 for nothing; `voluntary` rounds are cut first where the policy says so.
    """

    owner: Ints
    round: Ints
    appearance: Ints
    value: Ints
    result: Ints
    voluntary: Flags


@dataclass(frozen=True, kw_only=True, slots=True)
class Strengths:
    """Under one policy: how many half-points each entrant counts as an opponent, and everybody's own unplayed rounds."""

    as_opponent: Ints
    own_unplayed: OwnUnplayed


NOBODY = np.zeros(0, dtype=np.int64)
NONE = OwnUnplayed(
    owner=NOBODY, round=NOBODY, appearance=NOBODY, value=NOBODY, result=NOBODY, voluntary=np.zeros(0, dtype=np.bool_)
)


def strengths_of(ledger: Ledger, rules: Rules, points: Ints, game_points: Ints) -> Strengths:
    """`points` are half-points by appearance, `game_points` their sums by entrant."""
    if rules.unplayed_policy == "as_scored":
        return Strengths(as_opponent=game_points, own_unplayed=NONE)
    owner, round_number, appearance = _unplayed_rounds(ledger)
    if not len(owner):
        return Strengths(as_opponent=game_points, own_unplayed=NONE)
    scored = np.where(appearance >= 0, points[appearance], 0)
    if rules.unplayed_policy == "fide_2009":
        as_opponent, value = _fide_2009(
            ledger,
            rules.scheme,
            points,
            game_points=game_points,
            owner=owner,
            round_number=round_number,
            scored=scored,
        )
        voluntary = np.zeros(len(owner), dtype=np.bool_)
    else:
        as_opponent, value = _fide_2023(ledger, rules.scheme, points, game_points), game_points[owner]
        voluntary = (appearance < 0) | (ledger.appearances.unplayed[appearance] > FORFEIT_WIN)
    return Strengths(
        as_opponent=as_opponent,
        own_unplayed=OwnUnplayed(
            owner=owner,
            round=round_number,
            appearance=appearance,
            value=value,
            result=_like_a_result(rules.scheme, scored),
            voluntary=voluntary,
        ),
    )


def _unplayed_rounds(ledger: Ledger) -> tuple[Ints, Ints, Ints]:
    """Owner, round and appearance (-1: none) of every unplayed round, sorted by owner and round."""
    rows = ledger.appearances
    entry = np.full((len(ledger.ids), ledger.rounds + 1), -1, dtype=np.int64)
    entry[rows.entrant, rows.round] = np.arange(len(rows.entrant))
    played = np.zeros(entry.shape, dtype=np.bool_)
    played[rows.entrant, rows.round] = rows.unplayed == PLAYED
    played[:, 0] = True
    owner, round_number = np.nonzero(~played)
    return owner, round_number, entry[owner, round_number]


def _fide_2009(
    ledger: Ledger, scheme: Scheme, points: Ints, *, game_points: Ints, owner: Ints, round_number: Ints, scored: Ints
) -> tuple[Ints, Ints]:
    """Points as an opponent, by entrant; points of the virtual opponent, by unplayed round."""
    rows = ledger.appearances
    stride = ledger.rounds + 1
    running = np.r_[0, np.cumsum(points)]
    before = np.searchsorted(rows.entrant * stride + rows.round, owner * stride + round_number)
    score_before = running[before] - running[ledger.starts[owner]]
    virtual = score_before + (scheme.win_x2 - scored) + scheme.draw_x2 * (ledger.rounds - round_number)
    how_many = np.bincount(owner, minlength=len(ledger.ids)).astype(np.int64)
    unplayed_in_rounds = (rows.unplayed != PLAYED) & (rows.round > 0)
    as_opponent = game_points - sum_by(ledger.starts, points * unplayed_in_rounds) + scheme.draw_x2 * how_many
    return as_opponent, virtual


def _fide_2023(ledger: Ledger, scheme: Scheme, points: Ints, game_points: Ints) -> Ints:
    """Points as an opponent: rounds after the last one an entrant was there for count as draws."""
    rows = ledger.appearances
    last_there = np.zeros(len(ledger.ids), dtype=np.int64)
    there = rows.unplayed <= FORFEIT_WIN
    np.maximum.at(last_there, rows.entrant[there], rows.round[there])
    after = (rows.round > last_there[rows.entrant]) & ~there
    return game_points - sum_by(ledger.starts, points * after) + scheme.draw_x2 * (ledger.rounds - last_there)


def _like_a_result(scheme: Scheme, scored: Ints) -> Ints:
    """2 for at least the points of a win, 0 for at most those of a loss, 1 between."""
    return np.where(scored >= scheme.win_x2, 2, np.where(scored > scheme.loss_x2, 1, 0)).astype(np.int64)
