"""What the criteria say of a pairing, in sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from .model import CriterionName, Player, Witness

SHOWN: Final = 6  # names in a list before the rest is counted
TITLES: Final[Mapping[CriterionName, str]] = {
    "repeat": "No repeats",
    "bye": "One bye at most",
    "party": "Households and travelling parties apart",
    "newcomer": "Newcomers not against the two strongest",
    "role_limit": "No role too often",
    "bye_low": "The bye from the bottom",
    "distance": "Near in points",
    "floats": "Not paired up or down twice",
    "roles": "Roles in balance",
}


def points(points_x2: int) -> str:
    """Half-points as people write them: 13 is 6½."""
    whole, half = divmod(abs(points_x2), 2)
    sign = "−" if points_x2 < 0 else ""
    return f"{sign}{whole}½" if half and whole else f"{sign}½" if half else f"{sign}{whole}"


def times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def of_pairing(criterion: CriterionName, cost: int, attacker: Player, defender: Player) -> str:
    """The sentence of one criterion on one pairing; empty for those on the bye."""
    one, other = attacker.called, defender.called
    words = ""
    match criterion:
        case "repeat":
            words = f"They have met {times(cost)} before." if cost else "They have not met before."
        case "party":
            words = "They are of one household or travelling party." if cost else "They share no household or party."
        case "newcomer":
            words = _newcomer(cost, attacker, defender)
        case "role_limit":
            over = f"{one} attacks and {other} defends, which is over the limit."
            words = over if cost else "Both roles are within the limits."
        case "distance":
            mine, theirs = points(attacker.points_x2), points(defender.points_x2)
            words = f"{one} has {_scored(mine)}, {other} {theirs}." if cost else f"Both have {_scored(mine)}."
        case "floats":
            words = _floats(cost, attacker, defender)
        case "roles":
            words = f"{one} attacks ({_had(attacker)}), {other} defends ({_had(defender)})."
    return words


def of_table(criterion: CriterionName, guilty: Sequence[tuple[Player, Player]], members: Sequence[Player]) -> str:
    """The sentence of one criterion on a table of three or four; `guilty` are the pairs it costs something for."""
    pairs = "; ".join(f"{one.called} and {other.called}" for one, other in guilty)
    match criterion:
        case "repeat":
            return f"Have met before: {pairs}." if guilty else "No two of them have met before."
        case "party":
            return f"Of one household or travelling party: {pairs}." if guilty else "They share no household or party."
        case "newcomer":
            return (
                f"New against one of the two strongest: {pairs}." if guilty else "Nobody new meets the two strongest."
            )
        case _:
            low, high = (points(end(player.points_x2 for player in members)) for end in (min, max))
            return f"From {low} to {_scored(high)}." if guilty else f"All have {_scored(high)}."


def of_bye(criterion: CriterionName, cost: int, player: Player) -> str:
    """The sentence of one criterion on the bye; empty for those on games."""
    match criterion:
        case "bye":
            return (
                f"{player.called} has had {cost} {'bye' if cost == 1 else 'byes'}." if cost else "It is the first bye."
            )
        case "bye_low":
            return (
                f"{player.called} is {_scored(points(cost))} above the lowest of those with fewest byes."
                if cost
                else f"Nobody with as few byes is below {player.called} with {_scored(points(player.points_x2))}."
            )
        case _:
            return ""


def of_witness(witness: Witness | None, names: Mapping[str, str]) -> str:
    """Why no round keeps a criterion."""
    if witness is None:
        return "No round at all avoids it: the largest set of pairings without it leaves somebody over."
    shown = [f"({_names(group, names)})" for group in witness.groups[:SHOWN]]
    more = [f"{len(witness.groups) - SHOWN} more"] if len(witness.groups) > SHOWN else []
    groups = "; ".join(shown + more)
    several = len(witness.groups) > 1
    odd = f"{len(witness.groups)} groups of odd number that" if several else "one group of odd number that"
    left = "each leaves one over" if several else "it leaves one over"
    apart = f"apart from {_names(witness.blockers, names)} there" if witness.blockers else "there"
    verb = "are" if several else "is"
    return f"No round at all avoids it: {apart} {verb} {odd} can only play among themselves, {groups}; {left}."


def _names(ids: tuple[str, ...], names: Mapping[str, str]) -> str:
    called = [names.get(each, each) if each else "the bye" for each in ids]
    if len(called) > SHOWN:
        return f"{', '.join(called[: SHOWN - 1])} and {len(called) - SHOWN + 1} more"
    return ", ".join(called)


def _scored(told: str) -> str:
    return f"{told} point" if told in ("1", "½", "−1", "−½") else f"{told} points"


def _newcomer(cost: int, attacker: Player, defender: Player) -> str:
    new = [player.called for player in (attacker, defender) if player.newcomer]
    if cost:
        return f"{' and '.join(new)}, new, plays one of the two strongest."
    return f"{' and '.join(new)}, new, is kept from the two strongest." if new else "Neither is new."


def _floats(cost: int, attacker: Player, defender: Player) -> str:
    if attacker.points_x2 == defender.points_x2:
        return "Nobody is paired up or down."
    high, low = sorted((attacker, defender), key=lambda player: -player.points_x2)
    if not cost:
        return f"{high.called} is paired down and {low.called} up, both for the first time."
    downs, ups = high.floats.count("down"), low.floats.count("up")
    told = [f"{high.called} was paired down {times(downs)} before"] if downs else []
    told += [f"{low.called} was paired up {times(ups)} before"] if ups else []
    return f"{'; '.join(told)}."


def _had(player: Player) -> str:
    return f"{player.roles.count('attack')} attacking, {player.roles.count('defend')} defending so far"
