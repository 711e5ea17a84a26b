"""What a newcomer needs for a first game, and where each thing comes from: bought last, and only if it must be."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from league.engines.kit.model import Carrier, Demand, Night, Use
from league.engines.kit.needs import Asked
from league.engines.kit.night import Holding, night_of
from league.engines.kit.plan import Criterion, Plan, plan_night

__all__ = ["ANSWERS", "Answer", "FirstNeed", "Step", "first_game", "otherwise"]

Answer = Literal["have", "venue", "lend", "home", "print", "make", "buy"]
# In the order of the page: what is there, what is lent, what does, what is made, and last what is bought.
ANSWERS: tuple[Answer, ...] = ("have", "venue", "lend", "home", "print", "make", "buy")
PLACES = {answer: place for place, answer in enumerate(ANSWERS)}

# The newcomer's own before anybody else's, then from as few people as can be. What others can carry is their affair.
ORDER: tuple[Criterion, ...] = ("shortfall", "stand_ins", "own_table", "carriers", "lines")


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """`count` pieces of what is needed by one answer; `who` is the key of whoever lends, `what` the thing's name or
    how to make do, `note` what a stand-in is."""

    answer: Answer
    count: int
    who: str | None = None
    what: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class FirstNeed:
    demand: Demand
    steps: tuple[Step, ...]

    @property
    def answer(self) -> Answer:
        """Where it stands on the page: by the last step it takes."""
        return self.steps[-1].answer


def first_game(
    asked: Iterable[Asked], holdings: Iterable[Holding], *, newcomer: str, lenders: Mapping[str, str]
) -> tuple[FirstNeed, ...]:
    """Every demand of one table with where its pieces come from, sorted by what is easiest to have.

    `holdings` are the newcomer's own, the club's (no carrier), and those of `lenders`, names by key. What nobody has is
    made do with at home, printed, made or, failing all that, bought.
    """
    asked = tuple(asked)
    carriers = [Carrier(key=newcomer, name="", tables=tuple(dict.fromkeys(each.demand.table for each in asked)))]
    carriers += [Carrier(key=key, name=name) for key, name in lenders.items() if key != newcomer]
    plan = plan_night(_enough(night_of(asked, holdings, carriers), newcomer), criteria=ORDER)
    found = _found(plan, newcomer)
    missing = {each.demand: each.missing for each in plan.shortfalls}
    needs = [_need(each, found[each.demand.key], missing.get(each.demand.key, 0)) for each in asked]
    return tuple(sorted(needs, key=lambda need: PLACES[need.answer]))


def _enough(night: Night, newcomer: str) -> Night:
    """The same night with no more of each good than can be of use, first the newcomer's and the club's, then of those
    who have most of what is needed: a club of hundreds need not be searched to borrow a bag. Nothing less can be met."""
    asked = {each.key: each.count for each in night.demands}
    useful: Counter[str] = Counter()
    for use in night.uses:
        useful[use.good] += use.takes * max(-(-asked[key] // pieces) for key, pieces in use.covers)
    has: defaultdict[str | None, set[str]] = defaultdict(set)
    for supply in night.supplies:
        if useful[supply.good]:
            has[supply.carrier].add(supply.good)
    kept = []
    for supply in sorted(
        night.supplies,
        key=lambda each: (each.carrier not in {None, newcomer}, -len(has[each.carrier]), each.carrier or "", each.key),
    ):
        if useful[supply.good] > 0:
            kept.append(supply)
            useful[supply.good] -= supply.count
    return replace(night, supplies=tuple(kept))


def _found(plan: Plan, newcomer: str) -> defaultdict[str, list[Step]]:
    """By demand, what of it is met by which holding."""
    found: defaultdict[str, list[Step]] = defaultdict(list)
    taken: Counter[Use] = Counter()
    for line in plan.lines:
        before, after = taken[line.use] // line.use.takes, (taken[line.use] + line.count) // line.use.takes
        taken[line.use] += line.count
        answer: Answer = "venue" if line.carrier is None else "have" if line.carrier == newcomer else "lend"
        for demand, covers in line.use.covers:
            count = (after - before) * covers
            found[demand].append(Step(answer=answer, count=count, who=line.carrier, what=line.name, note=line.use.note))
    return found


def _need(asked: Asked, found: Sequence[Step], missing: int) -> FirstNeed:
    in_order = sorted(found, key=lambda step: PLACES[step.answer])
    steps = [*_no_more(in_order, asked.demand.count - missing)]
    if missing:
        steps.append(replace(otherwise(asked), count=missing))
    return FirstNeed(demand=asked.demand, steps=tuple(steps))


def _no_more(steps: Iterable[Step], wanted: int) -> Iterator[Step]:
    """The steps up to what is wanted: a tool fetched for another demand may come in more pieces."""
    left = wanted
    for step in steps:
        if left > 0 and step.count:
            yield replace(step, count=min(step.count, left))
            left -= step.count


def otherwise(asked: Asked) -> Step:
    """For what nobody has: the best that is at home, else made, else bought."""
    at_home = [each for each in asked.stand_ins if each.at_home]
    if at_home:
        best = min(at_home, key=lambda each: (each.rank, each.loss))
        return Step(answer="home", count=0, what=best.note)
    if asked.make:
        return Step(answer=asked.make, count=0)
    return Step(answer="buy", count=0)
