"""What a round is paired from, and what comes out of it. Plain values; points are half-points (`_x2`)."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal, get_args

CriterionName = Literal["repeat", "bye", "party", "newcomer", "role_limit", "bye_low", "distance", "floats", "roles"]
Float = Literal["down", "up", ""]
Role = Literal["attack", "defend", ""]

CRITERIA: Final[tuple[CriterionName, ...]] = get_args(CriterionName)


@dataclass(frozen=True, kw_only=True, slots=True)
class Player:
    """One entrant, a person or a team, before the round.

    `met` has the id of every opponent so far, once per game played (a game nobody played is no meeting);
    `byes` the byes had; `floats` and `roles` one entry per earlier round, the last round last, empty where there was
    none; `parties` the households and travelling parties the entrant belongs to.
    """

    id: str
    name: str = ""
    points_x2: int = 0
    rating: int | None = None
    met: tuple[str, ...] = ()
    byes: int = 0
    floats: tuple[Float, ...] = ()
    roles: tuple[Role, ...] = ()
    parties: frozenset[str] = field(default_factory=frozenset)
    newcomer: bool = False
    withdrawn: bool = False

    @property
    def called(self) -> str:
        """The name, or the id where there is none."""
        return self.name or self.id

    @property
    def balance(self) -> int:
        """Attacks less defences."""
        return self.roles.count("attack") - self.roles.count("defend")


@dataclass(frozen=True, kw_only=True, slots=True)
class Criteria:
    """What a good round is. The first of `order` comes before everything after it, however much that costs there;
    what is not listed does not matter. `must` are those that may not give way: a round that cannot keep them all is
    refused (`NoRound`).

    | criterion | cost of a pairing |
    |---|---|
    | repeat | games the two have had already |
    | bye | byes the entrant with the bye has had already |
    | party | 1 for two of one household or travelling party |
    | newcomer | 1 for a newcomer against one of the two strongest |
    | role_limit | 1 for a role a third time running, or an imbalance above two |
    | bye_low | half-points of the entrant with the bye above the lowest of those with fewest byes |
    | distance | half-points between the two |
    | floats | times the higher was paired down before plus times the lower was paired up, if their points differ |
    | roles | square of the imbalance of whoever has to take the wrong role |
    """

    order: tuple[CriterionName, ...] = CRITERIA
    must: tuple[CriterionName, ...] = ()

    @property
    def levels(self) -> tuple[CriterionName, ...]:
        """The order to optimise in: what may not give way first."""
        return self.must + tuple(name for name in self.order if name not in self.must)


@dataclass(frozen=True, kw_only=True, slots=True)
class Pins:
    """What the organiser has fixed: `pairings` of as many ids as play at one table, and `byes`. The rest is paired
    around them."""

    pairings: tuple[tuple[str, ...], ...] = ()
    byes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """What one criterion says of one pairing or bye: its cost and a sentence."""

    criterion: CriterionName
    cost: int
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class DraftPairing:
    """`ids` play each other; in a game of two the first attacks. `pinned` by the organiser."""

    ids: tuple[str, ...]
    pinned: bool = False
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class DraftBye:
    """`id` sits out with the points of a bye."""

    id: str
    pinned: bool = False
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Witness:
    """Why no round at all keeps a criterion: without the `blockers`, the others fall into `groups` that cannot be
    paired with each other; each has an odd number and needs a blocker of its own, and there are more groups than
    blockers (Tutte's theorem, 1947). The empty id stands for the bye.
    """

    blockers: tuple[str, ...]
    groups: tuple[tuple[str, ...], ...]

    @property
    def short_by(self) -> int:
        return len(self.groups) - len(self.blockers)


@dataclass(frozen=True, kw_only=True, slots=True)
class GaveWay:
    """A criterion that could not be kept everywhere.

    `total` is the least possible while the criteria above it are as good as they can be; `where` has the ids of each
    pairing (or the one with the bye) it fell on. `unavoidable`: no round at all keeps it, whatever else is given up;
    `witness` shows why where it could be found (rounds of up to 64). Otherwise rounds that keep it exist, but each
    of them is worse in a criterion above. None: not known, as where the search was not exact.
    """

    criterion: CriterionName
    total: int
    where: tuple[tuple[str, ...], ...]
    unavoidable: bool | None
    witness: Witness | None = None
    words: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Search:
    """How the round was found. `exact`: no round is better in the order of the criteria. Of the `possible` pairings
    `examined` were compared; each of the others was shown to make any round worse by a lower bound on its cost.
    `weight_bits` is the length of the largest weight. With three or four at a table both count arrangements tried.
    """

    exact: bool
    possible: int
    examined: int
    weight_bits: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """A round nobody has published yet, best pairing first. `totals` has the sum of each criterion over what was not
    pinned, in order."""

    pairings: tuple[DraftPairing, ...]
    byes: tuple[DraftBye, ...]
    totals: tuple[tuple[CriterionName, int], ...]
    gave_way: tuple[GaveWay, ...]
    search: Search


class BadRound(ValueError):
    """What was asked makes no sense. `violations` has every reason, each a sentence."""

    def __init__(self, violations: tuple[str, ...]) -> None:
        self.violations = violations
        super().__init__(" ".join(violations))


class NoRound(BadRound):
    """No round keeps what must be kept. `gave_way` has what the best round would still break, with its proof."""

    def __init__(self, violations: tuple[str, ...], gave_way: tuple[GaveWay, ...] = ()) -> None:
        self.gave_way = gave_way
        super().__init__(violations)
