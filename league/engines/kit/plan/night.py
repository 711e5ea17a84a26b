"""The plan of a night: as good as can be by the club's criteria, in their order, and proven so as far as time allows."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import replace

from league.engines.kit.model import Night

from .check import check_plan, levels_of, loads_of, missing_of
from .facts import Facts
from .handout import lines_of, served_of, sorted_lines
from .layout import HANDS, Layout
from .model import DEFAULT_ORDER, Criterion, Line, Plan, Served, Shortfall, Value
from .order import in_order
from .proof import counts_for
from .stages import Stages
from .words import of_shortfall, with_reasons


def plan_night(night: Night, *, criteria: Sequence[Criterion] = DEFAULT_ORDER, seconds: float = 10.0) -> Plan:
    """The best plan by the criteria, the first before everything after it; see `Value` for what each counts.

    What is not among `criteria` does not matter, save that "shortfall" must be and "pieces" always comes at the end:
    nothing is brought for no use. The plan does not depend on the order of anything in `night`. It is added up again
    in whole numbers before it is handed out.

    `seconds` is how long may be searched; past it, levels are left "open" with the bound that is proven. As long as
    all are proven, the same night gives the same plan on every machine.

    Raises NightUnsound with all that is wrong with the night, ValueError for criteria that are none.
    """
    order = _checked(criteria)
    facts = Facts.of(in_order(night))
    end = time.monotonic() + seconds
    stages = Stages(layout=Layout(facts=facts), left=lambda: max(0.0, end - time.monotonic()))
    values = stages.run(order)
    # Who hands out what must be known even where nobody asked for it to be good.
    point = stages.layout.reach(HANDS, stages.point)
    served = served_of(stages.layout, point)
    lines = with_reasons(facts, sorted_lines(lines_of(stages.layout, point)))
    plan = _plan(facts, lines, served, values)
    check_plan(facts.night, plan)
    return plan


def _checked(criteria: Sequence[Criterion]) -> tuple[Criterion, ...]:
    order = tuple(criteria)
    strange = set(order) - set(DEFAULT_ORDER)
    if strange or len(set(order)) < len(order) or "shortfall" not in order:
        raise ValueError(
            f"Criteria are some of {', '.join(DEFAULT_ORDER)}, each once, and shortfall among them: {order}."
        )
    return order if "pieces" in order else (*order, "pieces")


def _plan(facts: Facts, lines: tuple[Line, ...], served: tuple[Served, ...], values: Sequence[Value]) -> Plan:
    """Where a level is open, the handing out may have done better than the programme asked."""
    found = levels_of(facts.night, lines, served)
    values = tuple(
        replace(each, value=found[each.level]) if each.proof == "open" and found[each.level] < each.value else each
        for each in values
    )
    return Plan(
        lines=lines,
        served=served,
        shortfalls=_shortfalls(facts, served, values),
        values=values,
        loads=loads_of(facts.night, lines),
    )


def _shortfalls(facts: Facts, served: tuple[Served, ...], values: Sequence[Value]) -> tuple[Shortfall, ...]:
    missing = missing_of(facts.night, served)
    counts = counts_for(facts, served, missing)
    by_level = {each.level: each for each in values}
    return tuple(
        of_shortfall(demand, missing[demand.key], counts[demand.key], by_level)
        for demand in facts.night.demands
        if demand.key in missing
    )
