"""What can be wrong with what is asked for: everything at once, in plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import Final, get_args

from .model import CRITERIA, BadRound, Criteria, Float, Pins, Player, Role

LARGEST: Final = 1_000_000_000
MOST_BYES: Final = 10_000


def check_round(players: Sequence[Player], criteria: Criteria, pins: Pins, sizes: frozenset[int]) -> None:
    """Raise `BadRound` with every reason, or return. `sizes` are how many may play one game."""
    violations = tuple(chain(_wrong_players(players), _wrong_criteria(criteria), _wrong_pins(players, pins, sizes)))
    if violations:
        raise BadRound(violations)


def _wrong_players(players: Sequence[Player]) -> Iterator[str]:
    if not any(not player.withdrawn for player in players):
        yield "There is nobody to pair."
    for player_id, times in Counter(player.id for player in players).items():
        if not player_id:
            yield "An entrant has no id."
        elif times > 1:
            yield f"Entrant {player_id} is entered {times} times."
    for player in players:
        if player.id in player.met:
            yield f"{player.called} is said to have met themselves."
        if abs(player.points_x2) > LARGEST or abs(player.rating or 0) > LARGEST:
            yield f"The points or the rating of {player.called} are out of range."
        if not 0 <= player.byes <= MOST_BYES:
            yield f"{player.called} cannot have had {player.byes} byes."
        yield from _wrong_history(player)


def _wrong_history(player: Player) -> Iterator[str]:
    if not set(player.floats) <= set(get_args(Float)):
        yield f"{player.called} was paired neither up, nor down, nor level in some round."
    if not set(player.roles) <= set(get_args(Role)):
        yield f"{player.called} had an unknown role in some round."


def _wrong_criteria(criteria: Criteria) -> Iterator[str]:
    for name in dict.fromkeys(criteria.order + criteria.must):
        if name not in CRITERIA:
            yield f"There is no criterion called {name!r}."
    for which in (criteria.order, criteria.must):
        for name, times in Counter(which).items():
            if times > 1:
                yield f"The criterion {name!r} is listed {times} times."


def _wrong_pins(players: Sequence[Player], pins: Pins, sizes: frozenset[int]) -> Iterator[str]:
    known = {player.id: player for player in players}
    pinned = [*chain.from_iterable(pins.pairings), *pins.byes]
    for player_id, times in Counter(pinned).items():
        player = known.get(player_id)
        if player is None:
            yield f"{player_id} is pinned, who is not an entrant."
            continue
        if player.withdrawn:
            yield f"{player.called} has withdrawn and cannot be pinned."
        if times > 1:
            yield f"{player.called} is pinned {times} times."
    for pair in pins.pairings:
        if len(pair) not in sizes:
            yield f"A pinned pairing has {' or '.join(map(str, sorted(sizes)))} entrants, not {len(pair)}."
