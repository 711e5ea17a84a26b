"""What the pages about a night's kit show, in the order in which somebody asks: what is missing, what I bring, who else."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from django.utils.functional import Promise as Promised
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member, Night
from league.engines.kit.items import fits
from league.engines.kit.plan import Level, Line
from league.stores.models import Carrying, Holding, ItemKind, Loan, PackOffer, Promise
from league.stores.queries.buying import Shopping, kinds_with_offers, piece_of_kind, shopping_of
from league.stores.queries.cautions import Caution, cautions_of
from league.stores.queries.lists import (
    PackingList,
    PackLine,
    Short,
    TableList,
    packing_lists,
    shortfalls,
    table_lists,
)
from league.stores.queries.plan import NightPlan, plan_for

__all__ = ["Missing", "NightKit", "PackingPage", "at_tables", "has_borrowed", "night_kit", "packing_page"]

IMPORTANCES = ("needed", "wanted", "pleasant")
LEVEL_WORDS: Mapping[Level, Promised] = {
    "needed": gettext_lazy("missing of what is needed"),
    "wanted": gettext_lazy("missing of what is wanted"),
    "pleasant": gettext_lazy("missing of what is pleasant to have"),
    "rank": gettext_lazy("how far things stand in for others"),
    "loss": gettext_lazy("what standing in costs the games"),
    "changes": gettext_lazy("pieces packed or unpacked again"),
    "away": gettext_lazy("pieces brought for other people's tables"),
    "carriers": gettext_lazy("people who carry something"),
    "lines": gettext_lazy("things to pack"),
    "excess_ml": gettext_lazy("millilitres more than people can carry"),
    "pieces": gettext_lazy("pieces in use"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Remedy:
    """A kind of the club's that would serve: how it is made, and the packs it is sold in, the cheapest piece first."""

    kind: ItemKind
    offers: tuple[PackOffer, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Missing:
    """One thing that is short, over all the tables that lack some of it; the proofs are the plan's own words, the
    remedies what could be made or bought to have it."""

    name: str
    importance: str
    count: int
    tables: tuple[str, ...]
    make: str
    proofs: tuple[str, ...]
    remedies: tuple[Remedy, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class NightKit:
    """`dropped`: what people promised who do not come after all. `changed`: what is packed in another number than the
    plan now asks for. `stand_ins`: how many of what make
    do, and for what. `at_venue`: what lies there already."""

    planned: NightPlan
    missing: tuple[Missing, ...]
    shopping: Shopping
    mine: PackingList | None
    lists: tuple[PackingList, ...]
    tables: tuple[TableList, ...]
    stand_ins: tuple[tuple[int, str, str], ...]
    at_venue: tuple[tuple[str, int], ...]
    dropped: tuple[Promise, ...]
    changed: tuple[PackLine, ...]
    i_come: bool
    my_room: str

    @property
    def is_complete(self) -> bool:
        return not any(each.importance == "needed" for each in self.missing)

    @property
    def open_values(self) -> list[str]:
        """What was not proven in time to be the least: as it is, and the least it could be."""
        words = _("%(what)s: %(value)s, at least %(bound)s")
        return [
            words % {"what": LEVEL_WORDS[each.level], "value": each.value, "bound": each.bound}
            for each in self.planned.plan.values
            if each.proof == "open"
        ]

    @property
    def rooms(self) -> list[tuple[str, str]]:
        return [(value, str(label)) for value, label in Carrying.Room.choices]


@dataclass(frozen=True, kw_only=True, slots=True)
class PackingPage:
    """One member's list, with what to take care of; `packing` is None where nothing is asked of them."""

    who: Member
    packing: PackingList | None
    cautions: tuple[Caution, ...]
    unpromised: int
    my_room: str
    i_come: bool

    @property
    def rooms(self) -> list[tuple[str, str]]:
        return [(value, str(label)) for value, label in Carrying.Room.choices]


def table_name(planned: NightPlan, key: str) -> str:
    """ "Table 1", with who plays where several games share it."""
    tables = {table.key: table for table in planned.tables}
    shared = [table for table in planned.tables if table.name == tables[key].name]
    return tables[key].name if len(shared) == 1 else f"{tables[key].name} ({who_plays(tables[key].game)})"


def who_plays(game: object) -> str:
    """Everybody at a game, by side, as their seats were read with it."""
    sides = game.sides.all()  # type: ignore[attr-defined]
    seats = game.players.all()  # type: ignore[attr-defined]
    by_side = [", ".join(seat.member.name for seat in seats if seat.side_id == side.pk) for side in sides]
    return _(" against ").join(filter(None, by_side))


def night_kit(night: Night, member: Member, *, budget_pence: int | None = None) -> NightKit:
    """`budget_pence`: what may be spent on what is missing."""
    planned = plan_for(night)
    short = shortfalls(planned)
    kinds = kinds_with_offers(night) if short else []
    lists = packing_lists(planned)
    carriers = {int(carrier.key) for carrier in planned.carriers}
    mine = next((each for each in lists if each.member == member.pk), None)
    return NightKit(
        planned=planned,
        missing=tuple(missing_of(planned, short, kinds)),
        shopping=shopping_of(short, kinds, budget_pence=budget_pence),
        mine=mine,
        lists=lists,
        tables=table_lists(planned),
        stand_ins=tuple(stand_ins(planned.plan.lines)),
        at_venue=tuple(at_venue(planned.plan.lines)),
        dropped=tuple(promise for promise in planned.promises if promise.member_id not in carriers),
        changed=tuple(
            line
            for each in lists
            if each.member in carriers
            for line in each.lines
            if line.is_packed and line.promise and line.promise.count != line.count
        ),
        i_come=member.pk in carriers,
        my_room=room_of(night, member),
    )


def has_borrowed(holding: Holding, member: Member) -> bool:
    """Whether the member has pieces of the holding at home on loan."""
    return Loan.objects.filter(holding=holding, borrower=member, handed_at__isnull=False).outstanding().exists()


def room_of(night: Night, member: Member) -> str:
    said = Carrying.objects.filter(night=night, member=member).values_list("room", flat=True).first()
    return said or ""


def missing_of(planned: NightPlan, short: Sequence[Short], kinds: Sequence[ItemKind]) -> Iterable[Missing]:
    """Shortfalls of one need gathered over tables and sides, the most important first, as the tables come."""
    kept = sorted(short, key=lambda each: IMPORTANCES.index(each.shortfall.importance))
    order: dict[tuple[str, str], list[Short]] = {}
    for each in kept:
        order.setdefault((each.shortfall.importance, need_name(each)), []).append(each)
    for (importance, name), group in order.items():
        yield Missing(
            name=name,
            importance=importance,
            count=sum(each.shortfall.missing for each in group),
            tables=tuple(dict.fromkeys(table_name(planned, each.table.key) for each in group)),
            make=group[0].make,
            proofs=tuple(dict.fromkeys(each.shortfall.words for each in group)),
            remedies=tuple(remedies_for(group[0], kinds)),
        )


def remedies_for(short: Short, kinds: Sequence[ItemKind]) -> Iterable[Remedy]:
    """Kinds that are what is wanted, whatever their colour: one makes or buys the right one."""
    wanted = replace(short.asked.wanted, colour="")
    for kind in kinds:
        offers = sorted(kind.offers.all(), key=lambda each: (each.price_pence / each.pieces, each.pieces))
        if (kind.can_be_made or offers) and fits(wanted, piece_of_kind(kind)):
            yield Remedy(kind=kind, offers=tuple(offers))


def need_name(short: Short) -> str:
    """The need's name without the side it is for."""
    kit = short.table.asked
    same = [each for each in kit if each.need == short.asked.need]
    name = short.asked.demand.name
    return name if len(same) == 1 and not short.asked.side else name.rpartition(" (")[0] or name


def stand_ins(lines: Iterable[Line]) -> Iterable[tuple[int, str, str]]:
    """How many of which thing make do, and the plan's words for it, over all the tables."""
    counts: dict[tuple[str, str], int] = {}
    for line in lines:
        if line.use.rank:
            words = next((reason.words for reason in line.reasons if reason.code == "stand_in"), "")
            counts[line.name, words] = counts.get((line.name, words), 0) + line.count
    return [(count, name, words) for (name, words), count in counts.items()]


def at_venue(lines: Iterable[Line]) -> Iterable[tuple[str, int]]:
    there = sorted((line for line in lines if line.carrier is None), key=lambda line: line.name)
    for name, group in groupby(there, key=lambda line: line.name):
        yield name, sum(line.count for line in group)


def packing_page(night: Night, who: Member) -> PackingPage:
    planned = plan_for(night)
    found = next((each for each in packing_lists(planned) if each.member == who.pk), None)
    lines = found.lines if found else ()
    kinds = [line.at_hand.holding.kind for line in lines if line.at_hand]
    return PackingPage(
        who=who,
        packing=found,
        cautions=tuple(cautions_of(kinds)),
        unpromised=sum(
            1 for line in lines if line.count and (line.promise is None or line.promise.count != line.count)
        ),
        my_room=room_of(night, who),
        i_come=any(int(carrier.key) == who.pk for carrier in planned.carriers),
    )


def at_tables(planned: NightPlan) -> list[tuple[str, str, TableList]]:
    """Each table's list with its name and who plays there."""
    return [(each.table.name, who_plays(each.table.game), each) for each in table_lists(planned)]
