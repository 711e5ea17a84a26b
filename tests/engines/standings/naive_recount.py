"""The standings counted again the slow way: one entrant, one game at a time, in Fractions, straight from the rules.

Written from the docstrings of the engine, with none of its code; the tests hold the two against each other.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cmp_to_key
from hashlib import sha256

from league.engines.standings import Adjustment, Entrant, Game, Rules, Side, TieBreak

HALF = Fraction(1, 2)
CUTS = {
    "buchholz": (0, 0),
    "buchholz_cut1": (1, 0),
    "buchholz_cut2": (2, 0),
    "buchholz_median1": (1, 1),
    "buchholz_median2": (2, 2),
}
RESULT = {"win": 1, "draw": HALF, "loss": 0}


class Recount:
    def __init__(
        self,
        entrants: list[Entrant],
        games: list[Game],
        adjustments: list[Adjustment],
        rules: Rules,
        through_round: int | None,
    ) -> None:
        self.rules = rules
        self.entrants = [one for one in entrants if not (one.left and rules.leavers == "annul")]
        self.ids = {one.id for one in self.entrants}
        self.games = []
        for game in games:
            if through_round is not None and game.round > through_round:
                continue
            sides = tuple(side for side in game.sides if side.entrant_id in self.ids)
            if len(sides) > 1 or (len(sides) == 1 and len(game.sides) == 1):
                self.games.append(Game(id=game.id, round=game.round, sides=sides))
        self.adjustments = [
            one
            for one in adjustments
            if one.entrant_id in self.ids and (through_round is None or one.round <= through_round)
        ]
        self.rounds = max((game.round for game in self.games), default=0)

    def appearances(self, entrant_id: str) -> list[tuple[Game, Side]]:
        return [(game, side) for game in self.games for side in game.sides if side.entrant_id == entrant_id]

    def best_of_others(self, game: Game, side: Side) -> int:
        scores = [one.score for one in game.sides if one is not side and one.score is not None]
        return max(scores, default=0)

    def outcome(self, game: Game, side: Side) -> str:
        if side.outcome is not None:
            return side.outcome
        best = max(one.score for one in game.sides if one.score is not None)
        if side.score < best:
            return "loss"
        return "win" if [one.score for one in game.sides].count(best) == 1 else "draw"

    def against(self, game: Game, side: Side, other: Side) -> str:
        mine, theirs = RESULT[self.outcome(game, side)], RESULT[self.outcome(game, other)]
        if mine != theirs:
            return "win" if mine > theirs else "loss"
        if mine != 0:
            return "draw"
        if len(game.sides) == 2:
            return "loss"
        return "win" if side.score > other.score else "loss" if side.score < other.score else "draw"

    def for_result(self, word: str) -> Fraction:
        return Fraction(getattr(self.rules.scheme, f"{word}_x2"), 2)

    def scored(self, game: Game, side: Side) -> Fraction:
        if side.unplayed:
            return self.for_result(side.unplayed)
        outcome = self.outcome(game, side)
        points = self.for_result(outcome) + Fraction(self.rules.scheme.showing_up_x2, 2)
        for bonus in self.rules.scheme.bonuses:
            margin = None if side.score is None else side.score - self.best_of_others(game, side)
            earned = (
                (bonus.kind == "margin" and outcome == "win" and margin is not None and margin >= bonus.threshold)
                or (
                    bonus.kind == "narrow_loss"
                    and outcome == "loss"
                    and margin is not None
                    and -margin <= bonus.threshold
                )
                or (bonus.kind == "count_at_least" and side.counts.get(bonus.count, 0) >= bonus.threshold)
            )
            if earned:
                points += Fraction(bonus.points_x2, 2)
        return points

    def game_points(self, entrant_id: str) -> Fraction:
        return sum((self.scored(game, side) for game, side in self.appearances(entrant_id)), Fraction(0))

    def points(self, entrant_id: str) -> Fraction:
        total = self.game_points(entrant_id)
        outcomes = [self.outcome(game, side) for game, side in self.appearances(entrant_id) if not side.unplayed]
        for bonus in self.rules.scheme.bonuses:
            if bonus.kind == "clean_sweep" and len(outcomes) >= bonus.threshold and set(outcomes) == {"win"}:
                total += Fraction(bonus.points_x2, 2)
        return total + sum(Fraction(one.points_x2, 2) for one in self.adjustments if one.entrant_id == entrant_id)

    def points_per_game(self, entrant_id: str) -> Fraction | None:
        appearances = len(self.appearances(entrant_id))
        return self.points(entrant_id) / appearances if appearances else None

    def in_round(self, entrant_id: str, round_number: int) -> tuple[Game, Side] | None:
        found = [(game, side) for game, side in self.appearances(entrant_id) if game.round == round_number]
        return found[0] if found else None

    def unplayed_rounds(self, entrant_id: str) -> list[int]:
        entries = {number: self.in_round(entrant_id, number) for number in range(1, self.rounds + 1)}
        return [number for number, entry in entries.items() if entry is None or entry[1].unplayed]

    def scored_in(self, entrant_id: str, round_number: int) -> Fraction:
        entry = self.in_round(entrant_id, round_number)
        return self.scored(*entry) if entry else Fraction(0)

    def as_opponent(self, entrant_id: str) -> Fraction:
        draw, total = self.for_result("draw"), self.game_points(entrant_id)
        missed = self.unplayed_rounds(entrant_id)
        if self.rules.unplayed_policy == "fide_2009":
            return total + sum(draw - self.scored_in(entrant_id, number) for number in missed)
        if self.rules.unplayed_policy == "fide_2023":
            for number in range(self.rounds, 0, -1):
                entry = self.in_round(entrant_id, number)
                if entry is not None and entry[1].unplayed in ("", "bye", "forfeit_win"):
                    break
                total += draw - self.scored_in(entrant_id, number)
        return total

    def stand_ins(self, entrant_id: str) -> list[tuple[Fraction, Fraction, bool]]:
        """Points of the stand-in opponent, the result against it, whether it is cut first."""
        if self.rules.unplayed_policy == "as_scored":
            return []
        found = []
        for number in self.unplayed_rounds(entrant_id):
            scored, entry = self.scored_in(entrant_id, number), self.in_round(entrant_id, number)
            result = 1 if scored >= self.for_result("win") else HALF if scored > self.for_result("loss") else 0
            if self.rules.unplayed_policy == "fide_2009":
                before = sum(
                    self.scored(game, side) for game, side in self.appearances(entrant_id) if game.round < number
                )
                value = before + self.for_result("win") - scored + self.for_result("draw") * (self.rounds - number)
                found.append((value, result, False))
            else:
                voluntary = entry is None or entry[1].unplayed in ("absent", "forfeit_loss")
                found.append((self.game_points(entrant_id), result, voluntary))
        return found

    def opponents(self, entrant_id: str) -> list[tuple[str, str]]:
        return [
            (other.entrant_id, self.against(game, side, other))
            for game, side in self.appearances(entrant_id)
            for other in game.sides
            if other is not side and not side.unplayed and not other.unplayed
        ]

    def buchholz(self, entrant_id: str, low: int = 0, high: int = 0) -> Fraction:
        parts = [(self.as_opponent(other), False) for other, _ in self.opponents(entrant_id)]
        parts += [(value, voluntary) for value, _, voluntary in self.stand_ins(entrant_id)]
        parts.sort(key=lambda part: (not part[1], part[0]))
        values = sorted(value for value, _ in parts[low:])
        return sum(values[: len(values) - high] if high < len(values) else [], Fraction(0))

    def value(self, entrant_id: str, tie_break: TieBreak) -> Fraction | None:
        if tie_break.name in CUTS:
            return self.buchholz(entrant_id, *CUTS[tie_break.name])
        return getattr(self, tie_break.name)(entrant_id, tie_break)

    def sum_of_buchholz(self, entrant_id: str, _: TieBreak) -> Fraction:
        return sum((self.buchholz(other) for other, _ in self.opponents(entrant_id)), Fraction(0))

    def sonneborn_berger(self, entrant_id: str, _: TieBreak) -> Fraction:
        met = [self.as_opponent(other) * RESULT[word] for other, word in self.opponents(entrant_id)]
        return sum(met, Fraction(0)) + sum(value * result for value, result, _ in self.stand_ins(entrant_id))

    def progressive(self, entrant_id: str, _: TieBreak) -> Fraction:
        """The total after each round; games outside rounds stand in a total of their own, before the first."""
        played = self.appearances(entrant_id)
        return sum(
            (self.scored(game, side) for last in range(self.rounds + 1) for game, side in played if game.round <= last),
            Fraction(0),
        )

    def wins(self, entrant_id: str, tie_break: TieBreak) -> Fraction:
        also = ("bye", "forfeit_win") if tie_break.with_unplayed else ()
        return Fraction(
            sum(
                side.unplayed in also if side.unplayed else self.outcome(game, side) == "win"
                for game, side in self.appearances(entrant_id)
            )
        )

    def drawn_lot(self, entrant_id: str, _: TieBreak) -> Fraction:
        return Fraction(int(sha256(f"{self.rules.seed}\n{entrant_id}".encode()).hexdigest()[:12], 16))

    def value_difference(self, entrant_id: str, _: TieBreak) -> Fraction:
        return Fraction(sum(side.value_destroyed - side.value_lost for _, side in self.appearances(entrant_id)))

    def count_total(self, entrant_id: str, tie_break: TieBreak) -> Fraction:
        return Fraction(sum(side.counts.get(tie_break.count, 0) for _, side in self.appearances(entrant_id)))

    def score_for(self, entrant_id: str, _: TieBreak) -> Fraction:
        return Fraction(sum(side.score or 0 for _, side in self.appearances(entrant_id)))

    def score_against(self, entrant_id: str) -> Fraction:
        return Fraction(sum(self.best_of_others(game, side) for game, side in self.appearances(entrant_id)))

    def score_difference(self, entrant_id: str, tie_break: TieBreak) -> Fraction:
        return self.score_for(entrant_id, tie_break) - self.score_against(entrant_id)

    def score_average(self, entrant_id: str, tie_break: TieBreak) -> Fraction | None:
        mine, theirs = self.score_for(entrant_id, tie_break), self.score_against(entrant_id)
        if theirs:
            return mine / theirs
        return None if mine > 0 else Fraction(0)

    def direct(self, group: list[str], tie_break: TieBreak) -> dict[str, tuple[Fraction, ...]]:
        met = {one: set() for one in group}
        sums = {one: [Fraction(0)] * len(tie_break.pieces) for one in group}
        for game in self.games:
            for side in game.sides:
                for other in game.sides:
                    forfeited = side.unplayed or other.unplayed
                    if side is other or not {side.entrant_id, other.entrant_id} <= set(group):
                        continue
                    if forfeited and self.rules.unplayed_policy != "as_scored":
                        continue
                    met[side.entrant_id].add(other.entrant_id)
                    word = None if forfeited else self.against(game, side, other)
                    gained = {
                        "points": self.for_result(word or side.unplayed),
                        "score_difference": Fraction((side.score or 0) - (other.score or 0)),
                        "score_for": Fraction(side.score or 0),
                        "wins": Fraction(word == "win"),
                    }
                    for place, piece in enumerate(tie_break.pieces):
                        sums[side.entrant_id][place] += gained[piece]
        waits = tie_break.wait and any(len(others) < len(group) - 1 for others in met.values())
        return {one: tuple(Fraction(0) if waits else value for value in sums[one]) for one in group}

    def split(self, group: list[str], values: dict[str, object]) -> list[list[str]]:
        """The group cut into those with equal values, best first; None is better than any number."""

        def better(one: str, other: str) -> int:
            first, second = values[one], values[other]
            if first == second:
                return 0
            if first is None or second is None:
                return -1 if first is None else 1
            return -1 if first > second else 1

        ordered = sorted(group, key=cmp_to_key(better))
        groups: list[list[str]] = []
        for one in ordered:
            if groups and values[groups[-1][0]] == values[one]:
                groups[-1].append(one)
            else:
                groups.append([one])
        return groups

    def split_directly(self, group: list[str], tie_break: TieBreak) -> list[list[str]]:
        parts = self.split(group, self.direct(group, tie_break))
        if not tie_break.reapply or len(parts) == 1:
            return parts
        return [smaller for part in parts for smaller in self.split_directly(part, tie_break)]

    def groups(self) -> list[list[str]]:
        ids = sorted(self.ids)
        if self.rules.rank_by == "points":
            first = {one: self.points(one) for one in ids}
        else:
            first = {one: self.points_per_game(one) or self.points(one) for one in ids}
        groups = self.split(ids, first) if ids else []
        for tie_break in self.rules.tie_breaks:
            if tie_break.name == "direct_encounter":
                groups = [part for group in groups for part in self.split_directly(group, tie_break)]
            else:
                groups = [
                    part
                    for group in groups
                    for part in self.split(group, {one: self.value(one, tie_break) for one in group})
                ]
        return groups
