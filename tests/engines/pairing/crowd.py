"""Entrants with a past at random, and whole seasons played round by round."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from league.engines.pairing import CRITERIA, Criteria, Draft, Player, pair_swiss


def anybody(dice: random.Random, number: int, *, meetings: float = 0.3) -> list[Player]:
    """Entrants in any state, whether a season could lead there or not."""
    ids = [f"e{each}" for each in range(number)]
    met: dict[str, list[str]] = {each: [] for each in ids}
    for place, one in enumerate(ids):
        for other in ids[place + 1 :]:
            if dice.random() < meetings:
                met[one].append(other)
                met[other].append(one)
    rated = dice.random() < 0.5
    return [
        Player(
            id=each,
            points_x2=dice.choice((0, 1, 2, 3, 4, 6)),
            rating=dice.randrange(1000, 2000) if rated else None,
            met=tuple(met[each]),
            byes=dice.choice((0, 0, 0, 1, 2)),
            floats=tuple(dice.choice(("", "", "up", "down")) for _ in range(3)),
            roles=tuple(dice.choice(("attack", "defend", "attack", "defend", "")) for _ in range(4)),
            parties=frozenset({f"p{dice.randrange(number)}"}) if dice.random() < 0.4 else frozenset(),
            newcomer=dice.random() < 0.2,
        )
        for each in ids
    ]


def any_order(dice: random.Random) -> Criteria:
    """Some of the criteria in some order."""
    return Criteria(order=tuple(dice.sample(CRITERIA, dice.randrange(3, len(CRITERIA) + 1))))


@dataclass
class Season:
    """A season as it is played: `drafts` has every round, `before` everybody as they were when it was drafted."""

    players: dict[str, Player]
    dice: random.Random
    seed: str = "season"
    criteria: Criteria = field(default_factory=Criteria)
    drafts: list[Draft] = field(default_factory=list)
    before: list[list[Player]] = field(default_factory=list)

    def pair(self) -> Draft:
        everybody = list(self.players.values())
        draft = pair_swiss(everybody, seed=self.seed_of(len(self.drafts)), criteria=self.criteria)
        self.before.append(everybody)
        self.drafts.append(draft)
        return draft

    def seed_of(self, place: int) -> str:
        return f"{self.seed} {place}"

    def play(self, draft: Draft, *, shows_up: Callable[[str], bool] = lambda _: True) -> None:
        """Results by the dice. Where one does not come, the other wins without a game, which is no meeting."""
        before = {each.id: each.points_x2 for each in self.players.values()}
        for pairing in draft.pairings:
            attacker, defender = pairing.ids
            there = [shows_up(each) for each in pairing.ids]
            if not all(there):
                for each, came in zip(pairing.ids, there, strict=True):
                    self._record(each, gained=2 if came else 0)
                continue
            gained = self.dice.choice((0, 0, 0, 1, 2, 2, 2))
            step = before[attacker] - before[defender]
            self._record(attacker, gained=gained, met=defender, role="attack", step=step)
            self._record(defender, gained=2 - gained, met=attacker, role="defend", step=-step)
        for bye in draft.byes:
            player = self.players[bye.id]
            self.players[bye.id] = replace(player, byes=player.byes + 1)
            self._record(bye.id, gained=2)

    def _record(self, who: str, *, gained: int, met: str | None = None, role: str = "", step: int = 0) -> None:
        player = self.players[who]
        self.players[who] = replace(
            player,
            points_x2=player.points_x2 + gained,
            met=(*player.met, met) if met else player.met,
            roles=(*player.roles, role),
            floats=(*player.floats, "down" if step > 0 else "up" if step < 0 else ""),
        )


def after(rounds: int, entrants: int, *, seed: int = 1, wins_only: bool = False, scale: int = 1) -> list[Player]:
    """A crowd after some rounds, drawn near in score and without repeats, quickly. `scale` spreads the scores."""
    dice = random.Random(seed)
    points = dict.fromkeys((f"e{each}" for each in range(entrants)), 0)
    met: dict[str, list[str]] = {each: [] for each in points}
    floats: dict[str, list[str]] = {each: [] for each in points}
    roles: dict[str, list[str]] = {each: [] for each in points}
    byes = dict.fromkeys(points, 0)
    for _ in range(rounds):
        left = sorted(points, key=lambda each: (-points[each], dice.random()))
        if entrants % 2:
            idle = next(each for each in reversed(left) if not byes[each])
            left.remove(idle)
            byes[idle], points[idle] = 1, points[idle] + 2 * scale
        while left:
            one = left.pop(0)
            other = next((each for each in left if each not in met[one]), left[0])
            left.remove(other)
            step = points[one] - points[other]
            met[one].append(other)
            met[other].append(one)
            floats[one].append("down" if step else "")
            floats[other].append("up" if step else "")
            first = sorted((one, other), key=lambda each: (roles[each].count("attack"), dice.random()))
            roles[first[0]].append("attack")
            roles[first[1]].append("defend")
            won = (
                dice.randrange(2 * scale + 1)
                if scale > 1
                else dice.choice((0, 2) if wins_only else (0, 0, 0, 1, 2, 2, 2))
            )
            points[one] += won
            points[other] += 2 * scale - won
    return [
        Player(
            id=each,
            points_x2=points[each],
            rating=dice.choice((None, dice.randrange(1000, 2000))),
            met=tuple(met[each]),
            byes=byes[each],
            floats=tuple(floats[each]),  # type: ignore[arg-type]
            roles=tuple(roles[each]),  # type: ignore[arg-type]
            parties=frozenset({f"p{dice.randrange(entrants // 3)}"}) if dice.random() < 0.5 else frozenset(),
            newcomer=dice.random() < 0.1,
        )
        for each in points
    ]
