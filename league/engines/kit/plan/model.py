"""What a plan is: who brings what for which table, what is missing, and how much of that is proven."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, get_args

from league.engines.kit.model import Importance, Use

Criterion = Literal["shortfall", "stand_ins", "changes", "own_table", "carriers", "lines", "capacity", "pieces"]
Level = Literal[
    "needed", "wanted", "pleasant", "rank", "loss", "changes", "away", "carriers", "lines", "excess_ml", "pieces"
]
Proof = Literal["integers", "solver", "open"]
ReasonCode = Literal["venue", "own_table", "packed", "coming_anyway", "only", "spare", "stand_in"]

DEFAULT_ORDER: Final[tuple[Criterion, ...]] = get_args(Criterion)
RANKS: Final[Mapping[Importance, int]] = {"needed": 0, "wanted": 1, "pleasant": 2}
LEVELS: Final[Mapping[Criterion, tuple[Level, ...]]] = {
    "shortfall": ("needed", "wanted", "pleasant"),
    "stand_ins": ("rank", "loss"),
    "changes": ("changes",),
    "own_table": ("away",),
    "carriers": ("carriers",),
    "lines": ("lines",),
    "capacity": ("excess_ml",),
    "pieces": ("pieces",),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Value:
    """What the plan costs at one level of a criterion, and the least that any plan can cost there which is no worse at
    the levels before.

    | criterion | level | what is counted |
    |---|---|---|
    | shortfall | needed, wanted, pleasant | pieces missing, by importance |
    | stand_ins | rank, loss | sum of the ranks, then of the losses, of all uses made |
    | changes | changes | pieces taken out of or put into what was packed, by holding and table |
    | own_table | away | pieces brought by somebody for a table they do not play at |
    | carriers | carriers | people who bring anything |
    | lines | lines | holdings that anything is packed from |
    | capacity | excess_ml | millilitres over what people said they can carry |
    | pieces | pieces | pieces in use at all |

    `proof`: "integers" when `bound` follows from whole-number arithmetic alone (a dual solution, checked without
    floating point), "solver" when it rests on the solver's word, "open" when `value` may be more than is needed.
    """

    criterion: Criterion
    level: Level
    value: int
    bound: int
    proof: Proof

    @property
    def gap(self) -> Fraction:
        """How much of the value is not proven to be needed, as a share of it: 0 when it is the least."""
        return Fraction(self.value - self.bound, max(self.value, 1))


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """Why a line is there: a stable code and a sentence."""

    code: ReasonCode
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """`count` pieces out of one holding for one use at one table. `carrier` None: it is at the venue already."""

    supply: str
    name: str
    carrier: str | None
    table: str
    use: Use
    count: int
    reasons: tuple[Reason, ...] = ()

    @property
    def good(self) -> str:
        return self.use.good


@dataclass(frozen=True, kw_only=True, slots=True)
class Served:
    """How often one use is made at its table; it takes `times * use.takes` pieces."""

    use: Use
    times: int


@dataclass(frozen=True, kw_only=True, slots=True)
class GoodCount:
    """At most `meets` pieces of the demands of a count can be met by all `held` pieces of one good."""

    good: str
    held: int
    meets: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Count:
    """Why no plan misses less: `demands` ask for `asked` pieces, and all the `goods` that can serve any of them can
    meet `meets` of these; `missing` is what is left, whatever is done.

    (Max-flow min-cut, or Hall's condition with counts; `league.engines.kit.plan.tally.count_holds` adds it up again.)
    """

    demands: tuple[str, ...]
    goods: tuple[GoodCount, ...]
    asked: int
    meets: int
    missing: int
    words: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Shortfall:
    """`missing` pieces of one demand. `count` is the proof where it can be counted out; where it cannot (pieces that
    must look different, or serve several demands at once) it is None and the `Value` of the level says what is proven.
    `words` say which of the two it is.
    """

    demand: str
    table: str
    name: str
    importance: Importance
    asked: int
    missing: int
    count: Count | None
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Load:
    """What one person brings: holdings, pieces, and millilitres against what they said they can carry."""

    carrier: str
    name: str
    lines: int
    pieces: int
    bulk_ml: int
    carries_most_ml: int | None

    @property
    def excess_ml(self) -> int:
        return 0 if self.carries_most_ml is None else max(0, self.bulk_ml - self.carries_most_ml)


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """Who brings what for which table; see the parts. `values` are in the order of the criteria."""

    lines: tuple[Line, ...]
    served: tuple[Served, ...]
    shortfalls: tuple[Shortfall, ...]
    values: tuple[Value, ...]
    loads: tuple[Load, ...]

    @property
    def proven(self) -> bool:
        """Whether no plan is better by the criteria in their order."""
        return all(each.proof != "open" for each in self.values)

    def value(self, level: Level) -> int:
        """What the plan costs at a level; KeyError when its criterion was not asked for."""
        for each in self.values:
            if each.level == level:
                return each.value
        raise KeyError(level)
