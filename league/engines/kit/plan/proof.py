"""Why nobody can do better where something is short: the demands that compete, and all that could serve them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from .check import count_holds
from .facts import Facts
from .model import RANKS, Count, GoodCount, Served


def count_for(facts: Facts, served: Iterable[Served], missing: dict[str, int], demand: str) -> Count | None:
    """The count that proves what `demand` and those it competes with miss together; None if counting does not prove it.

    From the demand to every good that could serve it, on to every demand that such a good serves now, and so on: the
    side of a minimal cut on which the demand lies.
    """
    night = facts.night
    serving: defaultdict[str, set[str]] = defaultdict(set)
    for each in served:
        serving[each.use.good] |= {key for key, _ in each.use.covers}
    within, goods, waiting = {demand}, set[str](), [demand]
    while waiting:
        for use in facts.uses_for.get(waiting.pop(), ()):
            good = night.uses[use].good
            if good not in goods:
                goods.add(good)
                fresh = serving[good] - within
                within |= fresh
                waiting.extend(sorted(fresh))
    parts = tuple(_good_count(facts, good, within) for good in sorted(goods))
    asked = sum(each.count for each in night.demands if each.key in within)
    meets = sum(each.meets for each in parts)
    count = Count(demands=tuple(sorted(within)), goods=parts, asked=asked, meets=meets, missing=asked - meets)
    rank = {each.key: RANKS[each.importance] for each in night.demands}
    alike = all(rank[key] <= rank[demand] for key in within)
    proven = alike and count.missing == sum(missing.get(key, 0) for key in within) and count_holds(night, count)
    return count if proven else None


def _good_count(facts: Facts, good: str, within: set[str]) -> GoodCount:
    held = facts.held.get(good, 0)
    meets = 0
    for key in within:
        for use in facts.uses_for.get(key, ()):
            each = facts.night.uses[use]
            if each.good == good:
                pieces = sum(pieces for other, pieces in each.covers if other in within)
                meets = max(meets, held * pieces // each.takes)
    return GoodCount(good=good, held=held, meets=meets)
