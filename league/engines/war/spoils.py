"""Who holds a region, and what becomes of the supply that lies there."""

from __future__ import annotations

from collections.abc import Sequence

from league.engines.war.state import ForceState
from league.engines.war.working import HUNDRED, Working

__all__ = ["occupy", "spoil_excess", "take"]


def occupy(w: Working, region: str, forces: Sequence[ForceState], *, captured: int | None = None) -> None:
    """Forces of one side stand in a region alone: it is theirs, unless an ally's already."""
    holder = w.control.get(region)
    if not forces or (holder is not None and not w.hostile(holder, forces[0].faction)):
        return
    order = [each.key for each in w.campaign.factions]
    taker = min((each.faction for each in forces), key=order.index)
    take(w, region, taker, captured=captured)


def take(w: Working, region: str, taker: str, *, captured: int | None = None) -> None:
    """A region changes hands: its depot is the taker's, and of what lies there a part, by the rules or as reported."""
    loser = w.control.get(region, "")
    w.control[region] = taker
    w.note(
        "region_taken",
        known=w.control_known,
        region=region,
        faction=taker,
        loser=loser,
    )
    if region in w.depots and w.hostile(w.depots[region], taker):
        w.depots[region] = taker
    owners = [faction for (place, faction), amount in w.balances.items() if place == region and amount]
    for owner in owners:
        if not w.hostile(owner, taker):
            continue
        there = w.stock(region, owner)
        got = there * w.campaign.rules.captured_percent // HUNDRED if captured is None else captured * HUNDRED
        got = min(there, max(0, got))
        w.book("captured", region, owner, -got, region)
        w.book("captured", region, taker, got, region)
        w.book("spoilt", region, owner, got - there, region)
        w.note(
            "stock_captured",
            known="region",
            region=region,
            faction=taker,
            loser=owner,
            amount_x100=got,
            spoilt_x100=there - got,
        )


def spoil_excess(w: Working) -> None:
    """What no place is left for spoils: more than a depot or source holds, or none there any more."""
    rules = w.campaign.rules
    for (region, faction), amount in list(w.balances.items()):
        most: int | None = 0
        if w.depots.get(region) == faction:
            most = rules.depot_holds
        elif w.keeps(region, faction):
            most = rules.source_holds
        if most is not None and amount > most * HUNDRED:
            w.book("spoilt", region, faction, most * HUNDRED - amount, region)
            w.note("stock_spoilt", known="side", region=region, faction=faction, amount_x100=amount - most * HUNDRED)
