"""What can be wrong with a situation: everything at once, each with its place and in plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from league.engines.maps import Faction, faults_of
from league.engines.maps.model import MOST
from league.engines.rulesets import Violation, gettext_noop
from league.engines.supply.model import BadSituation, Force, Sending, Situation, Stock

__all__ = ["check_sendings", "check_situation", "violations_of", "violations_of_sendings"]


def check_situation(situation: Situation) -> None:
    """Raise `BadSituation` with every reason, or return."""
    _refuse(violations_of(situation))


def check_sendings(sendings: Sequence[Sending], situation: Situation) -> None:
    """Raise `BadSituation` with every reason, or return."""
    _refuse(violations_of_sendings(sendings, situation))


def _refuse(violations: tuple[Violation, ...]) -> None:
    if violations:
        raise BadSituation(violations)


def violations_of(situation: Situation) -> tuple[Violation, ...]:
    """Every violation, none for a sound situation. A map on which no war could start is sound enough to reckon on.

    Places are those of the situation: `map.roads[3].loss`, `stocks[0].region`, `forces[2]`.
    """
    desk = _Desk(factions=frozenset(situation.factions), regions=frozenset(each.key for each in situation.map.regions))
    return tuple(
        chain(
            _of_the_map(situation),
            (
                Violation(
                    code="unknown_region",
                    message=gettext_noop("%(region)s is said to be contested, but is no region of the map."),
                    args={"region": region},
                    place="contested",
                )
                for region in sorted(situation.contested - desk.regions)
            ),
            _stocks(situation, desk),
            _twice("forces", [each.key for each in situation.forces]),
            chain.from_iterable(_force(f"forces[{n}]", each, desk) for n, each in enumerate(situation.forces)),
        )
    )


def violations_of_sendings(sendings: Sequence[Sending], situation: Situation) -> tuple[Violation, ...]:
    """Every violation, none for sound sendings. Places are `sendings[0].to`."""
    desk = _Desk(factions=frozenset(situation.factions), regions=frozenset(each.key for each in situation.map.regions))
    return tuple(
        chain(
            _twice("sendings", [each.key for each in sendings]),
            chain.from_iterable(_sending(f"sendings[{n}]", each, desk) for n, each in enumerate(sendings)),
        )
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Desk:
    """What is known, to look names up in."""

    factions: frozenset[str]
    regions: frozenset[str]

    def faction(self, place: str, faction: str) -> Iterator[Violation]:
        if faction not in self.factions:
            words = gettext_noop("There is no faction %(faction)s.")
            yield Violation(code="unknown_faction", message=words, args={"faction": faction}, place=f"{place}.faction")

    def region(self, place: str, region: str) -> Iterator[Violation]:
        if region not in self.regions:
            words = gettext_noop("There is no region %(region)s on the map.")
            yield Violation(code="unknown_region", message=words, args={"region": region}, place=place)


def _of_the_map(situation: Situation) -> Iterator[Violation]:
    factions = [Faction(key=key, name=key) for key in situation.factions]
    for fault in faults_of(situation.map, factions=factions, holders=situation.holders):
        if fault.severity == "broken":
            at = "" if fault.index is None else f"[{fault.index}]"
            field = f".{fault.field}" if fault.field else ""
            place = f"map.{fault.part}{at}{field}"
            yield Violation(code=fault.code, message=fault.message, args=fault.args, place=place)


def _twice(part: str, keys: Sequence[str]) -> Iterator[Violation]:
    times = Counter(keys)
    for number, key in enumerate(keys):
        if times[key] > 1:
            words = gettext_noop("%(times)s of these have the key %(key)s.")
            args = {"times": times[key], "key": key}
            yield Violation(code="key_twice", message=words, args=args, place=f"{part}[{number}].key")


def _stocks(situation: Situation, desk: _Desk) -> Iterator[Violation]:
    times = Counter((each.faction, each.region) for each in situation.stocks)
    for number, stock in enumerate(situation.stocks):
        place = f"stocks[{number}]"
        if times[stock.faction, stock.region] > 1:
            words = gettext_noop("%(faction)s has %(times)s stocks in %(region)s, where one would hold it all.")
            args = {
                "faction": stock.faction,
                "region": stock.region,
                "times": times[stock.faction, stock.region],
            }
            yield Violation(code="stock_twice", message=words, args=args, place=place)
        yield from desk.faction(place, stock.faction)
        yield from desk.region(f"{place}.region", stock.region)
        yield from _in_range(f"{place}.loads", stock.loads, least=0)
        yield from _in_enemy_hands(place, stock, situation)


def _in_enemy_hands(place: str, stock: Stock, situation: Situation) -> Iterator[Violation]:
    if not situation.welcome(stock.region, stock.faction) and stock.region not in situation.contested:
        words = gettext_noop(
            "The stock in %(region)s is said to belong to %(faction)s, but %(holder)s holds the region."
        )
        args = {"region": stock.region, "faction": stock.faction, "holder": situation.holders[stock.region]}
        yield Violation(code="enemy_hands", message=words, args=args, place=place)


def _force(place: str, force: Force, desk: _Desk) -> Iterator[Violation]:
    if not force.key:
        yield Violation(code="no_key", message=gettext_noop("This has no key."), place=f"{place}.key")
    yield from desk.faction(place, force.faction)
    yield from desk.region(f"{place}.region", force.region)
    yield from _in_range(f"{place}.need", force.need, least=0)
    yield from _in_range(f"{place}.importance", force.importance, least=1)


def _sending(place: str, sending: Sending, desk: _Desk) -> Iterator[Violation]:
    if not sending.key:
        yield Violation(code="no_key", message=gettext_noop("This has no key."), place=f"{place}.key")
    yield from desk.faction(place, sending.faction)
    yield from desk.region(f"{place}.origin", sending.origin)
    yield from desk.region(f"{place}.to", sending.to)
    yield from _in_range(f"{place}.loads", sending.loads, least=1)
    if sending.origin == sending.to:
        words = gettext_noop("%(region)s cannot send supply to itself.")
        yield Violation(code="to_itself", message=words, args={"region": sending.to}, place=f"{place}.to")


def _in_range(place: str, value: int, *, least: int) -> Iterable[Violation]:
    if not least <= value <= MOST:
        words = gettext_noop("This must be from %(least)s to %(most)s; it is %(value)s.")
        args = {"least": least, "most": MOST, "value": value}
        yield Violation(code="out_of_range", message=words, args=args, place=place)
