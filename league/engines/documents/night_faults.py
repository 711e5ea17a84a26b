"""What no schema can see in a night document: ids nobody has, things told twice, more packed than there is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from league.engines.documents.night_parts import NightDocument, NightTable
from league.engines.documents.reading import Fault
from league.engines.kit.needs import Asked, Game, needs_of
from league.engines.rulesets import Wanted

__all__ = ["PIECES_MOST", "asked_at", "faults_of"]

PIECES_MOST = 10_000


def asked_at(table: NightTable) -> tuple[Asked, ...]:
    """What the table's game asks for, then what is told outright."""
    return (*(needs_of(table.game) if table.game else ()), *table.needs)


def faults_of(night: NightDocument) -> Iterator[Fault]:
    """Every fault across the parts of a document whose single parts are in order."""
    yield from _twice([each.id for each in night.tables], "/tables/{}/id", "Another table has this id.")
    yield from _twice([each.name for each in night.tables], "/tables/{}/name", "Another table has this name.")
    yield from _twice([each.key for each in night.people], "/people/{}/id", "Another person has this id.")
    yield from _twice([each.key for each in night.holdings], "/holdings/{}/id", "Another holding has this id.")
    yield from _twice([each.key for each in night.offers], "/offers/{}/id", "Another pack has this id.")
    for place, offer in enumerate(night.offers):
        if offer.piece.sides is not None and offer.piece.category != "die":
            yield Fault(place=f"/offers/{place}/piece/sides", text="Only a die has sides to count.")
    for place, table in enumerate(night.tables):
        at = f"/tables/{place}"
        if table.game:
            yield from _game(table.game, f"{at}/game")
        yield from _needs(table, at)
    yield from _people(night)
    yield from _packed(night)


def _twice(values: Sequence[object], place: str, text: str) -> Iterator[Fault]:
    seen = set()
    for index, value in enumerate(values):
        if value in seen:
            yield Fault(place=place.format(index), text=text)
        seen.add(value)


def _game(game: Game, at: str) -> Iterator[Fault]:
    if game.scenario and game.ruleset.scenario(game.scenario) is None:
        yield Fault(place=f"{at}/scenario", text="The ruleset has no such scenario.")
    yield from _twice([side.key for side in game.sides], at + "/sides/{}/key", "Another side has this key.")
    for place, side in enumerate(game.sides):
        for number, unit in enumerate(side.units):
            if game.ruleset.unit_class(unit.unit_class) is None:
                yield Fault(place=f"{at}/sides/{place}/units/{number}/class", text="The ruleset has no such class.")
    for place, peak in enumerate(game.peaks):
        need = game.ruleset.kit.need(peak.need)
        if need is None or need.per != "markers":
            yield Fault(place=f"{at}/peaks/{place}/need", text="The ruleset has no such need of markers.")
    yield from _twice([each.need for each in game.peaks], at + "/peaks/{}/need", "Another peak is of this need.")


def _needs(table: NightTable, at: str) -> Iterator[Fault]:
    from_game = needs_of(table.game) if table.game else ()
    known = Counter(each.demand.key for each in from_game)
    for each in from_game:
        if each.demand.count > PIECES_MOST:
            words = f"This asks for {each.demand.count} of “{each.demand.name}”; {PIECES_MOST} is the most."
            yield Fault(place=f"{at}/game", text=words)
    for place, asked in enumerate(table.needs):
        here = f"{at}/needs/{place}"
        if known[asked.demand.key]:
            yield Fault(place=f"{here}/key", text="This is asked for at this table already.")
        known[asked.demand.key] += 1
        if asked.sharing == "apart" and asked.wanted.colour:
            yield Fault(place=f"{here}/sharing", text="What must all be of one colour cannot be told apart by it.")
        yield from _wanted(asked.wanted, f"{here}/wanted")
        for number, stand_in in enumerate(asked.stand_ins):
            yield from _wanted(stand_in.piece, f"{here}/stand_ins/{number}/piece")


def _wanted(wanted: Wanted, at: str) -> Iterator[Fault]:
    if wanted.sides is not None and wanted.category != "die":
        yield Fault(place=f"{at}/sides", text="Only a die has sides to count.")
    if wanted.depth_mm is not None and wanted.size_mm is None:
        yield Fault(place=f"{at}/depth_mm", text="Say the first side before the second.")


def _people(night: NightDocument) -> Iterator[Fault]:
    tables = {each.id for each in night.tables}
    people = {each.key for each in night.people}
    for place, person in enumerate(night.people):
        for number, table in enumerate(person.tables):
            if table not in tables:
                yield Fault(place=f"/people/{place}/tables/{number}", text="There is no such table.")
    for place, holding in enumerate(night.holdings):
        if holding.carrier is not None and holding.carrier not in people:
            yield Fault(place=f"/holdings/{place}/carrier", text="Nobody of this id comes.")
        if holding.piece.sides is not None and holding.piece.category != "die":
            yield Fault(place=f"/holdings/{place}/piece/sides", text="Only a die has sides to count.")


def _packed(night: NightDocument) -> Iterator[Fault]:
    tables = {each.id for each in night.tables}
    held = {each.key: each.count for each in night.holdings}
    packed: Counter[str] = Counter()
    for place, each in enumerate(night.packed):
        if each.table not in tables:
            yield Fault(place=f"/packed/{place}/table", text="There is no such table.")
        if each.supply not in held:
            yield Fault(place=f"/packed/{place}/holding", text="There is no such holding.")
            continue
        packed[each.supply] += each.count
        if packed[each.supply] > held[each.supply]:
            words = f"{packed[each.supply]} of these would be packed, but there are {held[each.supply]}."
            yield Fault(place=f"/packed/{place}/count", text=words)
    pairs = [(each.supply, each.table) for each in night.packed]
    yield from _twice(pairs, "/packed/{}", "This holding is packed for this table already.")
