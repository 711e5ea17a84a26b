"""The rungs of a challenge ladder, out of its games in the order they were played."""

from __future__ import annotations

from dataclasses import dataclass

from league.engines.documents.season import COUNTING
from league.engines.documents.season_parts import SeasonDocument, SeasonGame

__all__ = ["Climb", "Ladder", "ladder_of"]

PAIR = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Climb:
    """A challenger who won `game` and went from rung `before` to rung `after`, the one of the `loser`."""

    game: str
    winner: str
    loser: str
    before: int
    after: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Ladder:
    """The ids from the top rung, which is number 1, down; and how it came to that, the latest climb last."""

    rungs: tuple[str, ...]
    climbs: tuple[Climb, ...]
    reach: int

    def may_challenge(self, challenger: str, other: str) -> bool:
        """Whether the other stands above, and no more rungs than the reach; two of whom one is not on it may not."""
        if challenger not in self.rungs or other not in self.rungs:
            return False
        return 0 < self.rungs.index(challenger) - self.rungs.index(other) <= self.reach


def ladder_of(season: SeasonDocument) -> Ladder:
    """At first by place in the seeding, then in the order of the document. A challenger who beats one above takes the
    rung; everybody from there down to where the challenger stood moves down one (common practice, no source). A win
    by forfeit is a win. Who left has no rung any more.
    """
    entrants = sorted(enumerate(season.entrants), key=lambda each: (each[1].seed is None, each[1].seed or 0, each[0]))
    rungs = [entrant.id for _place, entrant in entrants]
    climbs = []
    for game in in_order_played(season):
        result = winner_and_loser(game)
        if result is None:
            continue
        winner, loser = result
        before, after = rungs.index(winner), rungs.index(loser)
        if before > after:
            rungs.insert(after, rungs.pop(before))
            climbs.append(Climb(game=game.id, winner=winner, loser=loser, before=before + 1, after=after + 1))
    gone = {each.id for each in season.entrants if each.left is not None}
    return Ladder(
        rungs=tuple(each for each in rungs if each not in gone), climbs=tuple(climbs), reach=season.pairing.reach
    )


def in_order_played(season: SeasonDocument) -> list[SeasonGame]:
    """The games of two that count, by day; those of one day in the document's order."""
    counting = [
        game
        for game in season.games
        if len(game.sides) == PAIR
        and (game.report in COUNTING[season.counts] or all(side.unplayed for side in game.sides))
    ]
    return sorted(counting, key=lambda game: game.on or season.starts_on)


def winner_and_loser(game: SeasonGame) -> tuple[str, str] | None:
    one, other = game.sides
    for first, second in ((one, other), (other, one)):
        if first.outcome == "win" or first.unplayed == "forfeit_win":
            return first.entrant, second.entrant
    return None
