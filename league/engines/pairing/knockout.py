"""Knock-out: the bracket from the seeding, and how it stands after the games so far.

The seeds are placed so that the best two can only meet in the final, the best four in the semi-finals, and so on: in
a bracket of n, seed s meets seed n + 1 - s first (common practice, no source). Where entrants are missing to a power
of two, the top seeds have a bye in the first round.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from .model import BadRound

FEWEST: Final = 2
SEMI_FINALS: Final = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Slot:
    """Who has this side of a match: an `entrant` from the draw, or the winner or loser of a `match` before. A slot
    with neither stays empty: the other side has a bye."""

    entrant: str | None = None
    match: str | None = None
    takes: Literal["winner", "loser"] = "winner"


@dataclass(frozen=True, kw_only=True, slots=True)
class Match:
    """One match of the bracket. `id` is "2-1" for the first match of the second round, "third" for third place."""

    id: str
    round: int
    sides: tuple[Slot, Slot]


@dataclass(frozen=True, kw_only=True, slots=True)
class Bracket:
    """All matches in the order they can be played; those with an empty slot are no games, the entrant goes on."""

    matches: tuple[Match, ...]
    rounds: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Fixture:
    """A match as it stands. A side is an id, None while it is open, "" when nobody will come. `winner` the same:
    whoever has nobody to play wins at once (`walkover`); "" when nobody goes on."""

    match: Match
    sides: tuple[str | None, str | None]
    winner: str | None
    walkover: bool

    @property
    def loser(self) -> str | None:
        """Who lost, "" if nobody did."""
        if self.winner is None:
            return None
        if self.walkover or not self.winner:
            return ""
        return next(side for side in self.sides if side != self.winner)

    @property
    def can_be_played(self) -> bool:
        return self.winner is None and all(self.sides)


def draw_bracket(ids: Sequence[str], *, third_place: bool = False) -> Bracket:
    """The bracket for these entrants, the strongest first."""
    violations = [f"A knock-out needs two entrants, not {len(ids)}."] if len(ids) < FEWEST else []
    violations += [f"{each} is seeded twice." for each in sorted({each for each in ids if ids.count(each) > 1})]
    if violations:
        raise BadRound(tuple(violations))
    seeds = seed_places(len(ids))
    slots = [Slot(entrant=ids[seed - 1]) if seed <= len(ids) else Slot() for seed in seeds]
    matches: list[Match] = []
    number = 0
    while len(slots) > 1:
        number += 1
        played = [
            Match(id=f"{number}-{place + 1}", round=number, sides=(slots[2 * place], slots[2 * place + 1]))
            for place in range(len(slots) // 2)
        ]
        if third_place and len(played) == 1 and number > 1:
            one, other = (Slot(match=match.id, takes="loser") for match in matches[-SEMI_FINALS:])
            matches.append(Match(id="third", round=number, sides=(one, other)))
        matches += played
        slots = [Slot(match=match.id) for match in played]
    return Bracket(matches=tuple(matches), rounds=number)


def seed_places(entrants: int) -> list[int]:
    """The seeds from the top of the bracket down, filled up to a power of two: for four 1, 4, 2, 3."""
    places = [1]
    while len(places) < entrants:
        size = 2 * len(places)
        places = [seed for strong in places for seed in (strong, size + 1 - strong)]
    return places


def fixtures_of(bracket: Bracket, winners: Mapping[str, str]) -> tuple[Fixture, ...]:
    """Every match as it stands after these results: match id to the id of the winner, or "" if nobody goes on (both
    stayed away). A match is decided without a result if only one side can come.

    Raises `BadRound` with everything wrong: matches that do not exist or cannot be played yet, winners not in them.
    """
    known = {match.id for match in bracket.matches}
    violations = [f"There is no match {each}." for each in winners if each not in known]
    fixtures: dict[str, Fixture] = {}
    for match in bracket.matches:
        one, other = (_comes(slot, fixtures) for slot in match.sides)
        told = winners.get(match.id)
        if one == "" or other == "":
            walks = one or other if None not in (one, other) else None
            fixtures[match.id] = Fixture(match=match, sides=(one, other), winner=walks, walkover=True)
            if told is not None and told != walks:
                violations.append(f"Match {match.id} has one side at most and cannot be won by {told or 'nobody'}.")
            continue
        if told is not None and None in (one, other):
            violations.append(f"Match {match.id} has a result before its entrants are known.")
            told = None
        elif told and told not in (one, other):
            violations.append(f"{told} did not play match {match.id} and cannot have won it.")
            told = None
        fixtures[match.id] = Fixture(match=match, sides=(one, other), winner=told, walkover=False)
    if violations:
        raise BadRound(tuple(violations))
    return tuple(fixtures.values())


def places_of(bracket: Bracket, winners: Mapping[str, str]) -> tuple[tuple[int, tuple[str, ...]], ...]:
    """The final places known so far: (place, ids). Losers of one round share a place unless third place was played."""
    fixtures = fixtures_of(bracket, winners)
    third = next((each for each in fixtures if each.match.id == "third"), None)
    places: list[tuple[int, tuple[str, ...]]] = []
    for number in range(bracket.rounds, 0, -1):
        played = [each for each in fixtures if each.match.round == number and each.match.id != "third"]
        losers = tuple(each.loser for each in played if each.loser)
        if number == bracket.rounds:
            places += [(1, (each.winner,)) for each in played if each.winner]
            places += [(2, losers)] if losers else []
        elif number == bracket.rounds - 1 and third is not None:
            places += [(3, (third.winner,))] if third.winner else []
            places += [(4, (third.loser,))] if third.loser else []
        elif losers:
            places.append((len(played) + 1, losers))
    return tuple(places)


def _comes(slot: Slot, fixtures: Mapping[str, Fixture]) -> str | None:
    if slot.entrant is not None:
        return slot.entrant
    if slot.match is None:
        return ""
    before = fixtures[slot.match]
    return before.winner if slot.takes == "winner" else before.loser
