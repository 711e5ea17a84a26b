"""The entrants of a round in numpy columns, and what any pairing of two of them costs by each criterion."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from .lots import lot
from .matching import Ints
from .model import CriterionName, Player, Role

Flags = NDArray[np.bool_]

STRONGEST: Final = 2
WIDEST_BALANCE: Final = 2
BYE_CRITERIA: Final[frozenset[CriterionName]] = frozenset({"bye", "bye_low"})


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """`players` in the order of their lots. With an odd number one vertex more stands for the bye, numbered last.

    Every array has one entry per vertex; the bye's are nought. `met` and `together` are square.
    """

    players: tuple[Player, ...]
    order: tuple[CriterionName, ...]
    points: Ints
    downs: Ints
    ups: Ints
    byes: Ints
    above_lowest: Ints
    newcomer: Flags
    strong: Flags
    wrong: tuple[Ints, Ints]  # price of one more attack, of one more defence
    over: tuple[Ints, Ints]  # whether one more attack, or defence, is over the limit
    met: NDArray[np.int16]
    together: Flags

    @property
    def vertices(self) -> int:
        return len(self.points)

    @property
    def bye_vertex(self) -> int | None:
        """The vertex of the bye, None with an even number of entrants."""
        return len(self.players) if len(self.players) % 2 else None

    def at_most(self, criterion: CriterionName) -> int:
        """How many pairings of one round can cost anything by this criterion."""
        if criterion in BYE_CRITERIA:
            return 1
        return STRONGEST if criterion == "newcomer" else self.vertices // 2

    def costs(self, criterion: CriterionName, first: Ints, second: Ints) -> Ints:
        """One cost per pair (first[i], second[i]), where first[i] < second[i]."""
        costs = self._costs_of_games(criterion, first, second)
        if self.bye_vertex is None:
            return costs
        sits_out = second == self.bye_vertex
        if criterion == "bye":
            return np.where(sits_out, self.byes[first], 0)
        if criterion == "bye_low":
            return np.where(sits_out, self.above_lowest[first], 0)
        return np.where(sits_out, 0, costs)

    def cost(self, criterion: CriterionName, one: int, other: int) -> int:
        """The cost of one pair."""
        return int(self.costs(criterion, np.array([min(one, other)]), np.array([max(one, other)]))[0])

    def attacks(self, first: Ints, second: Ints) -> Flags:
        """Whether the first of each pair attacks: the cheaper way round by the criteria on roles, in their order."""
        ahead = np.zeros(len(first), dtype=np.int64)
        for price in self._role_prices():
            here = price[0][first] + price[1][second]
            turned = price[1][first] + price[0][second]
            ahead = np.where(ahead == 0, np.sign(turned - here), ahead)
        return np.asarray(ahead >= 0, dtype=np.bool_)

    def one_attacks(self, one: int, other: int) -> bool:
        """Whether the one attacks the other. Where both ways cost the same, who attacked less, then who defended last,
        then the lower lot."""
        low, high = min(one, other), max(one, other)
        both = [
            (
                *(int(price[0][attacker] + price[1][defender]) for price in self._role_prices()),
                self.players[attacker].balance - self.players[defender].balance,
                _last(self.players[attacker]) == "attack",
                _last(self.players[defender]) == "defend",
                attacker,
            )
            for attacker, defender in ((low, high), (high, low))
        ]
        return (both[0] < both[1]) == (one == low)

    def _role_prices(self) -> list[tuple[Ints, Ints]]:
        prices: dict[CriterionName, tuple[Ints, Ints]] = {"role_limit": self.over, "roles": self.wrong}
        return [prices[name] for name in self.order if name in prices]

    def _costs_of_games(self, criterion: CriterionName, first: Ints, second: Ints) -> Ints:
        costs: Ints | Flags | NDArray[np.int16] = np.zeros(len(first), dtype=np.int64)
        match criterion:
            case "repeat":
                costs = self.met[first, second]
            case "party":
                costs = self.together[first, second]
            case "newcomer":
                costs = (self.newcomer[first] & self.strong[second]) | (self.newcomer[second] & self.strong[first])
            case "distance":
                costs = np.abs(self.points[first] - self.points[second])
            case "floats":
                apart = self.points[first] - self.points[second]
                falls = np.where(apart > 0, self.downs[first] + self.ups[second], self.ups[first] + self.downs[second])
                costs = np.where(apart == 0, 0, falls)
            case "role_limit" | "roles":
                attack, defend = self.over if criterion == "role_limit" else self.wrong
                here, turned = attack[first] + defend[second], defend[first] + attack[second]
                costs = np.where(self.attacks(first, second), here, turned)
        return costs.astype(np.int64)


def field_of(
    players: Sequence[Player], order: tuple[CriterionName, ...], strongest: frozenset[str], seed: str
) -> Field:
    """The columns of those to be paired, in the order of their lots."""
    drawn = tuple(sorted(players, key=lambda player: (lot(seed, player.id), player.id)))
    fewest = min((player.byes for player in drawn), default=0)
    lowest = min((player.points_x2 for player in drawn if player.byes == fewest), default=0)
    bye = [0] * (len(drawn) % 2)
    return Field(
        players=drawn,
        order=order,
        points=np.array([player.points_x2 for player in drawn] + bye, dtype=np.int64),
        downs=np.array([player.floats.count("down") for player in drawn] + bye, dtype=np.int64),
        ups=np.array([player.floats.count("up") for player in drawn] + bye, dtype=np.int64),
        byes=np.array([player.byes for player in drawn] + bye, dtype=np.int64),
        above_lowest=np.array([max(0, player.points_x2 - lowest) for player in drawn] + bye, dtype=np.int64),
        newcomer=np.array([player.newcomer for player in drawn] + bye, dtype=np.bool_),
        strong=np.array([player.id in strongest for player in drawn] + bye, dtype=np.bool_),
        wrong=(
            np.array([max(0, player.balance) ** 2 for player in drawn] + bye, dtype=np.int64),
            np.array([max(0, -player.balance) ** 2 for player in drawn] + bye, dtype=np.int64),
        ),
        over=(
            np.array([_over(player, "attack") for player in drawn] + bye, dtype=np.int64),
            np.array([_over(player, "defend") for player in drawn] + bye, dtype=np.int64),
        ),
        met=_met(drawn),
        together=_together(drawn),
    )


def strongest_of(players: Sequence[Player], seed: str) -> frozenset[str]:
    """The ids of the two strongest: by rating, the unrated after the rated, then by points, then by lot. Nobody while
    nobody is rated and all are level, as in a first round."""
    if all(player.rating is None for player in players) and len({player.points_x2 for player in players}) <= 1:
        return frozenset()
    ranked = sorted(
        players,
        key=lambda player: (
            player.rating is None,
            -(player.rating or 0),
            -player.points_x2,
            lot(seed, player.id),
            player.id,
        ),
    )
    return frozenset(player.id for player in ranked[:STRONGEST])


def _over(player: Player, role: Role) -> bool:
    """Whether one more such role is over the limit. For one who is over it either way, neither counts: it cannot be
    mended this round."""
    other: Role = "defend" if role == "attack" else "attack"
    return _beyond(player, role) and not _beyond(player, other)


def _beyond(player: Player, role: Role) -> bool:
    balance = player.balance if role == "attack" else -player.balance
    taken = [each for each in player.roles if each]
    return balance >= WIDEST_BALANCE or taken[-2:] == [role, role]


def _last(player: Player) -> Role:
    return next((role for role in reversed(player.roles) if role), "")


def _met(drawn: Sequence[Player]) -> NDArray[np.int16]:
    size = len(drawn) + len(drawn) % 2
    place = {player.id: number for number, player in enumerate(drawn)}
    met = np.zeros((size, size), dtype=np.int16)
    for mine, player in enumerate(drawn):
        for other in player.met:
            if other in place:
                met[mine, place[other]] += 1
    # Told by one side is enough.
    return np.maximum(met, met.T)


def _together(drawn: Sequence[Player]) -> Flags:
    size = len(drawn) + len(drawn) % 2
    parties: defaultdict[str, list[int]] = defaultdict(list)
    for number, player in enumerate(drawn):
        for party in player.parties:
            parties[party].append(number)
    together = np.zeros((size, size), dtype=np.bool_)
    for members in parties.values():
        together[np.ix_(members, members)] = True
    return together
