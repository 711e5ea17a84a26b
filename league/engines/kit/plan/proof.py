"""Why nobody can do better where something is short: the demands that compete, and all that could serve them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from .facts import Facts
from .model import RANKS, Count, GoodCount, Served
from .tally import Tally
from .words import of_count


def counts_for(facts: Facts, served: Iterable[Served], missing: dict[str, int]) -> dict[str, Count | None]:
    """By demand that misses something: the count that proves what it and those it competes with miss together; None if
    counting does not prove it.

    From the demand to every good that could serve it, on to every demand that such a good serves now, and so on: the
    side of a minimal cut on which the demand lies.
    """
    serving: defaultdict[str, set[str]] = defaultdict(set)
    for each in served:
        serving[each.use.good] |= {key for key, _ in each.use.covers}
    ranks = {each.key: RANKS[each.importance] for each in facts.night.demands}
    tally = Tally.of(facts.night)
    known: dict[frozenset[str], Count | None] = {}
    found: dict[str, Count | None] = {}
    for demand in missing:
        within, goods = _closure(facts, serving, demand)
        if any(ranks[key] > ranks[demand] for key in within):
            found[demand] = None
        else:
            if within not in known:
                known[within] = _count(facts, tally, within, goods, missing)
            found[demand] = known[within]
    return found


def _closure(facts: Facts, serving: Mapping[str, set[str]], demand: str) -> tuple[frozenset[str], set[str]]:
    within, goods, waiting = {demand}, set[str](), [demand]
    while waiting:
        for use in facts.uses_for.get(waiting.pop(), ()):
            good = facts.night.uses[use].good
            if good not in goods:
                goods.add(good)
                fresh = serving[good] - within
                within |= fresh
                waiting.extend(sorted(fresh))
    return frozenset(within), goods


def _count(
    facts: Facts, tally: Tally, within: frozenset[str], goods: set[str], missing: Mapping[str, int]
) -> Count | None:
    best: dict[str, int] = dict.fromkeys(goods, 0)
    for key in within:
        for use in facts.uses_for.get(key, ()):
            each = facts.night.uses[use]
            pieces = sum(pieces for other, pieces in each.covers if other in within)
            best[each.good] = max(best[each.good], facts.held.get(each.good, 0) * pieces // each.takes)
    parts = tuple(GoodCount(good=good, held=facts.held.get(good, 0), meets=best[good]) for good in sorted(goods))
    asked = sum(facts.asked[key] for key in within)
    meets = sum(each.meets for each in parts)
    count = Count(demands=tuple(sorted(within)), goods=parts, asked=asked, meets=meets, missing=asked - meets)
    if count.missing != sum(missing.get(key, 0) for key in within) or not tally.holds(count):
        return None
    return replace(count, words=of_count(facts, count))
