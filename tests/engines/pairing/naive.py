"""The costs of a round written down once more from the table of criteria, slowly and without numpy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from league.engines.pairing import CriterionName, Player

Pairs = list[tuple[Player, Player | None]]


def balance(player: Player) -> int:
    return sum({"attack": 1, "defend": -1, "": 0}[role] for role in player.roles)


def beyond(player: Player, role: str) -> bool:
    sign = 1 if role == "attack" else -1
    taken = [each for each in player.roles if each]
    return sign * balance(player) >= 2 or (len(taken) >= 2 and taken[-1] == taken[-2] == role)


def role_costs(attacker: Player, defender: Player) -> dict[str, int]:
    over = 0
    for player, role, other in ((attacker, "attack", "defend"), (defender, "defend", "attack")):
        over += beyond(player, role) and not beyond(player, other)
    return {"role_limit": over, "roles": max(0, balance(attacker)) ** 2 + max(0, -balance(defender)) ** 2}


def cost(
    name: CriterionName,
    one: Player,
    other: Player | None,
    everybody: Sequence[Player],
    order: Sequence[CriterionName],
    strongest: frozenset[str],
) -> int:
    if other is None:
        return bye_cost(name, one, everybody)
    if name in ("bye", "bye_low"):
        return 0
    if name in ("role_limit", "roles"):
        ways = [role_costs(one, other), role_costs(other, one)]
        return min(ways, key=lambda way: [way[each] for each in order if each in way])[name]
    high, low = (one, other) if one.points_x2 > other.points_x2 else (other, one)
    floats = sum(each == "down" for each in high.floats) + sum(each == "up" for each in low.floats)
    return {
        "repeat": max(one.met.count(other.id), other.met.count(one.id)),
        "party": int(bool(one.parties & other.parties)),
        "newcomer": int((one.newcomer and other.id in strongest) or (other.newcomer and one.id in strongest)),
        "distance": abs(one.points_x2 - other.points_x2),
        "floats": floats if one.points_x2 != other.points_x2 else 0,
    }[name]


def bye_cost(name: CriterionName, player: Player, everybody: Sequence[Player]) -> int:
    if name == "bye":
        return player.byes
    if name == "bye_low":
        fewest = min(each.byes for each in everybody)
        return max(0, player.points_x2 - min(each.points_x2 for each in everybody if each.byes == fewest))
    return 0


def rounds(players: Sequence[Player | None]) -> Iterator[Pairs]:
    """Every way to pair them all; an odd number has a bye."""
    if len(players) % 2:
        players = [*players, None]
    if not players:
        yield []
        return
    first, *rest = players
    for place, partner in enumerate(rest):
        for others in rounds(rest[:place] + rest[place + 1 :]):
            yield [(first, partner), *others] if first is not None else others


def totals(
    pairs: Pairs, everybody: Sequence[Player], order: Sequence[CriterionName], strongest: frozenset[str]
) -> tuple[int, ...]:
    return tuple(sum(cost(name, *pair, everybody, order, strongest) for pair in pairs) for name in order)


def all_pairs(players: Sequence[Player]) -> list[tuple[Player, Player | None]]:
    others: list[Player | None] = [*players] + [None] * (len(players) % 2)
    return [
        (players[one], others[other]) for one, other in product(range(len(players)), range(len(others))) if one < other
    ]
