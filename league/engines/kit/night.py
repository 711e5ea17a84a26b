"""A night's demands beside what people hold: every use that could be made of every good."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from league.engines.kit.items import TOOLS, Piece, fits, folded, good_of
from league.engines.kit.model import Apart, Carrier, Night, Packed, Supply, Use
from league.engines.kit.needs import Asked
from league.engines.rulesets import StandIn, Wanted

__all__ = ["Holding", "night_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Holding:
    """`count` spare pieces of one sort. `carrier`: who has them; None: they are at the venue already."""

    key: str
    name: str
    piece: Piece
    count: int
    carrier: str | None = None
    bulk_ml: int = 0


def night_of(
    asked: Iterable[Asked],
    holdings: Iterable[Holding],
    carriers: Iterable[Carrier],
    packed: Iterable[Packed] = (),
) -> Night:
    """What a plan is made from. What belongs to people who are not among `carriers` stays at home.

    Rank 0 is the thing itself. Tools that are handed about (dice, templates, rulers) meet all the demands of one lot
    at once; everything else lies on the table and meets one demand at a time.
    """
    asked, carriers = tuple(asked), tuple(carriers)
    coming = {each.key for each in carriers} | {None}
    there = [each for each in holdings if each.carrier in coming and each.count > 0]
    keys = {each.key for each in there}
    return Night(
        demands=tuple(each.demand for each in asked),
        uses=tuple(_uses(asked, dict.fromkeys(each.piece for each in there))),
        supplies=tuple(
            Supply(
                key=each.key,
                good=good_of(each.piece),
                name=each.name,
                count=each.count,
                carrier=each.carrier,
                bulk_ml=each.bulk_ml,
            )
            for each in there
        ),
        carriers=carriers,
        apart=tuple(_apart(asked)),
        packed=tuple(each for each in packed if each.supply in keys),
    )


def _apart(asked: Iterable[Asked]) -> Iterator[Apart]:
    told_apart: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for each in asked:
        if each.sharing == "apart":
            told_apart[each.demand.table, each.need].append(each.demand.key)
    for (table, _need), demands in told_apart.items():
        if len(demands) > 1:
            yield Apart(table=table, demands=tuple(demands))


def _uses(asked: Sequence[Asked], pieces: Collection[Piece]) -> Iterator[Use]:
    goods = {good_of(piece): piece for piece in pieces}
    matches = _Matches(goods)
    for lot in _lots(asked):
        found: defaultdict[str, list[_Way]] = defaultdict(list)
        for each in lot:
            for good, alike in matches.of(each).items():
                found[good] += [replace(way, demand=each.demand.key) for way in alike]
        for good, ways in found.items():
            yield from _of_lot(lot[0].demand.table, good, goods[good], ways)


def _lots(asked: Iterable[Asked]) -> Iterator[list[Asked]]:
    """The tools of a table or of one side that are used in turn, together; everything else by itself."""
    lots: defaultdict[tuple[str, ...], list[Asked]] = defaultdict(list)
    for each in asked:
        in_turn = each.wanted.category in TOOLS and each.sharing != "apart"
        owner = (each.demand.table, each.side)
        lots[owner if in_turn else (*owner, each.demand.key)].append(each)
    yield from lots.values()


@dataclass(frozen=True, kw_only=True, slots=True)
class _Way:
    demand: str = ""
    takes: int = 1
    covers: int = 1
    rank: int = 0
    loss: int = 0
    note: str = ""

    @property
    def is_one_for_one(self) -> bool:
        return self.takes == self.covers == 1


class _Matches:
    """Which goods meet a demand and how, reckoned once for all tables that want the same thing."""

    def __init__(self, goods: Mapping[str, Piece]) -> None:
        self.goods = goods
        self.known: dict[tuple[Wanted, tuple[StandIn, ...]], dict[str, tuple[_Way, ...]]] = {}

    def of(self, asked: Asked) -> Mapping[str, tuple[_Way, ...]]:
        key = (asked.wanted, asked.stand_ins)
        if key not in self.known:
            all_ways = ((good, tuple(_ways(asked, piece))) for good, piece in self.goods.items())
            self.known[key] = {good: ways for good, ways in all_ways if ways}
        return self.known[key]


def _ways(asked: Asked, piece: Piece) -> Iterator[_Way]:
    """How the piece may meet the demand: as itself, otherwise in every way that the ruleset lets it stand in."""
    if fits(asked.wanted, piece):
        yield _Way()
        return
    known: dict[tuple[int, int], StandIn] = {}
    for each in sorted(asked.stand_ins, key=lambda each: (each.rank, each.loss)):
        if fits(each.piece, piece):
            known.setdefault((each.takes, each.covers), each)
    for each in known.values():
        yield _Way(takes=each.takes, covers=each.covers, rank=each.rank, loss=each.loss, note=each.note)


def _of_lot(table: str, good: str, piece: Piece, ways: Sequence[_Way]) -> Iterator[Use]:
    """One use for all that the piece does one for one up to a rank, one for every rank; one each for the rest."""
    look = folded(piece.colour)
    together = [way for way in ways if way.is_one_for_one]
    for rank in sorted({way.rank for way in together}):
        met = [way for way in together if way.rank <= rank]
        yield Use(
            table=table,
            good=good,
            covers=tuple((way.demand, 1) for way in met),
            rank=rank,
            loss=sum(way.loss for way in met),
            note="; ".join(dict.fromkeys(way.note for way in met if way.note)),
            look=look,
        )
    for way in ways:
        if not way.is_one_for_one:
            yield Use(
                table=table,
                good=good,
                covers=((way.demand, way.covers),),
                takes=way.takes,
                rank=way.rank,
                loss=way.loss,
                note=way.note,
                look=look,
            )
