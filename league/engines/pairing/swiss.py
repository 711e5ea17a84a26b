"""The next round of a Swiss season."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from .check import check_round
from .field import BYE_CRITERIA, Field, field_of, strongest_of
from .model import (
    Criteria,
    CriterionName,
    Draft,
    DraftBye,
    DraftPairing,
    GaveWay,
    NoRound,
    Pins,
    Player,
    Reason,
    Search,
)
from .proof import unavoidable
from .search import Found, best_round
from .words import TITLES, of_bye, of_pairing, of_witness, times

NOTHING_PINNED = Pins()
USUAL = Criteria()
PAIRS = frozenset({2})


def pair_swiss(
    players: Sequence[Player], *, seed: str, criteria: Criteria = USUAL, pins: Pins = NOTHING_PINNED
) -> Draft:
    """The best round of games of two there is, by the criteria in their order, around what is pinned.

    Withdrawn players are left out; those absent are simply not passed. With an odd number left one gets the bye. Among
    rounds that are equally good the lots decide: the order of the entrants drawn from `seed`, which should name the
    season and the round. The order of `players` plays no part.

    Raises `BadRound` with everything that is wrong with the question; as one of them `NoRound` where a criterion that
    must be kept cannot be, and `TooWide` for points too large to compare exactly.
    """
    check_round(players, criteria, pins, PAIRS)
    present = [player for player in players if not player.withdrawn]
    fixed = {each for pair in pins.pairings for each in pair} | set(pins.byes)
    strongest = strongest_of(present, seed)
    field = field_of([player for player in present if player.id not in fixed], criteria.levels, strongest, seed)
    found = best_round(field, criteria.levels)
    gave_way = tuple(_gave_way(field, criteria.levels, found))
    _refuse_broken(criteria, gave_way)
    everybody = field_of(present, criteria.levels, strongest, seed)
    return Draft(
        pairings=_pairings(field, everybody, criteria, pins, found),
        byes=_byes(field, criteria, pins, found),
        totals=tuple(zip(criteria.levels, found.totals, strict=True)),
        gave_way=gave_way,
        search=Search(exact=True, possible=found.possible, examined=found.examined, weight_bits=found.bits),
    )


def _pairings(field: Field, everybody: Field, criteria: Criteria, pins: Pins, found: Found) -> tuple[DraftPairing, ...]:
    place = {player.id: number for number, player in enumerate(everybody.players)}
    free = [
        (place[field.players[one].id], place[field.players[other].id])
        for one, other in found.pairs
        if other != field.bye_vertex
    ]
    pinned = [(place[one], place[other]) for one, other in pins.pairings]
    pairs = [(min(pair), max(pair)) for pair in free + pinned]
    costs = _costs(everybody, criteria.levels, pairs)
    drafted = [
        _drafted(everybody, criteria, pair, [cost[number] for cost in costs], pinned=number >= len(free))
        for number, pair in enumerate(pairs)
    ]
    return tuple(
        drafted[number] for number in sorted(range(len(pairs)), key=lambda number: _board(everybody, pairs[number]))
    )


def _drafted(
    field: Field, criteria: Criteria, pair: tuple[int, int], costs: list[int], *, pinned: bool
) -> DraftPairing:
    one, other = (field.players[vertex] for vertex in pair)
    attacker, defender = (one, other) if field.one_attacks(*pair) else (other, one)
    return DraftPairing(
        ids=(attacker.id, defender.id),
        pinned=pinned,
        reasons=tuple(
            Reason(criterion=criterion, cost=cost, words=of_pairing(criterion, cost, attacker, defender))
            for criterion, cost in zip(criteria.levels, costs, strict=True)
            if criterion not in BYE_CRITERIA
        ),
    )


def _byes(field: Field, criteria: Criteria, pins: Pins, found: Found) -> tuple[DraftBye, ...]:
    drawn = [
        DraftBye(
            id=field.players[one].id,
            reasons=tuple(
                Reason(criterion=criterion, cost=cost, words=of_bye(criterion, cost, field.players[one]))
                for criterion in criteria.levels
                if criterion in BYE_CRITERIA
                for cost in [field.cost(criterion, one, other)]
            ),
        )
        for one, other in found.pairs
        if other == field.bye_vertex
    ]
    return (*drawn, *(DraftBye(id=each, pinned=True) for each in sorted(pins.byes)))


def _gave_way(field: Field, levels: Sequence[CriterionName], found: Found) -> Iterator[GaveWay]:
    names = {player.id: player.called for player in field.players}
    costs = _costs(field, levels, list(found.pairs))
    for criterion, total, cost in zip(levels, found.totals, costs, strict=True):
        if not total:
            continue
        where = tuple(
            tuple(field.players[vertex].id for vertex in pair if vertex != field.bye_vertex)
            for pair, each in zip(found.pairs, cost, strict=True)
            if each
        )
        never, witness = unavoidable(field, criterion)
        why = of_witness(witness, names) if never else "Every round that keeps it is worse in a criterion above."
        yield GaveWay(
            criterion=criterion,
            total=total,
            where=where,
            unavoidable=never,
            witness=witness,
            words=f"{TITLES[criterion]}: gave way {times(len(where))}. {why}",
        )


def _refuse_broken(criteria: Criteria, gave_way: tuple[GaveWay, ...]) -> None:
    broken = tuple(each for each in gave_way if each.criterion in criteria.must)
    if broken:
        raise NoRound(tuple(f"No round keeps what must be kept. {each.words}" for each in broken), broken)


def _costs(field: Field, levels: Sequence[CriterionName], pairs: Sequence[tuple[int, int]]) -> list[list[int]]:
    first = np.array([pair[0] for pair in pairs], dtype=np.int64)
    second = np.array([pair[1] for pair in pairs], dtype=np.int64)
    return [field.costs(criterion, first, second).tolist() for criterion in levels]


def _board(field: Field, pair: tuple[int, int]) -> tuple[int, int, int]:
    """Boards are numbered from the highest points down."""
    high, low = sorted((int(field.points[vertex]) for vertex in pair), reverse=True)
    return -high, -low, min(pair)
