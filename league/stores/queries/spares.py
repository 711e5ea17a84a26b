"""Who has spare red markers, free on the 12th? One search, for the page and the API alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, overload

from django.db.models import Q

from accounts.models import User
from league.clubs.models import Club, Member
from league.stores.models import Category, Holding, HoldingQuerySet, ItemKind
from league.stores.queries.asking import WORD, Asked, folded, read_asked, stem
from league.stores.queries.balances import Window, balances_of

__all__ = ["LOOKED_AT", "SIZE_TOLERANCE_MM", "Found", "SpareAsk", "Spares", "find_spares"]

SIZE_TOLERANCE_MM = 2
# Nobody reads further; it keeps a search for everything as quick as one for something.
LOOKED_AT = 1_000


@dataclass(frozen=True, kw_only=True, slots=True)
class SpareAsk:
    """What is looked for. `text` is what was typed; the rest narrows it. A day named in the text gives way to `on`."""

    text: str = ""
    on: date | None = None
    kind: ItemKind | None = None
    category: str = ""
    colour: str = ""
    scale_mm: int | None = None


class Found(Sequence[Holding]):
    """Holdings that have something to spare, the most first, each with `spare`, its kind, owner, keeper and venue.

    How many there are is known; the rows are read, one query, for the slice that is shown.
    """

    def __init__(self, spare: Mapping[int, int]) -> None:
        self._spare = spare
        self._pks = sorted(spare, key=lambda pk: (-spare[pk], pk))

    def __len__(self) -> int:
        return len(self._pks)

    @overload
    def __getitem__(self, place: int) -> Holding: ...
    @overload
    def __getitem__(self, place: slice) -> list[Holding]: ...
    def __getitem__(self, place: int | slice) -> Holding | list[Holding]:
        if isinstance(place, int):
            return self._rows([self._pks[place]])[0]
        return self._rows(self._pks[place])

    def __iter__(self) -> Iterator[Holding]:
        return iter(self._rows(self._pks))

    def _rows(self, pks: list[int]) -> list[Holding]:
        rows: Any = Holding.objects.filter(pk__in=pks).select_related("kind", "owner", "keeper", "venue")
        by_pk = {row.pk: row for row in rows}
        for pk, row in by_pk.items():
            row.spare = self._spare[pk]
        return [by_pk[pk] for pk in pks if pk in by_pk]


@dataclass(frozen=True, kw_only=True, slots=True)
class Spares:
    """What was found. `on`: the day they are free on, None for now. `unknown`: words that nothing and nobody in the
    club is called by. `is_cut`: so much answers to the words that only the first of it was looked at."""

    holdings: Found
    on: date | None
    unknown: tuple[str, ...] = ()
    is_cut: bool = False


def find_spares(user: User, club: Club, ask: SpareAsk, *, today: date) -> Spares:
    """Holdings of the club that the person may see, with more than nothing spare on the day.

    Two queries read the club's words, a third its names where a word is no thing's; then one the balances of what
    answers to them, one what is promised, and one the rows of the page that is shown.
    """
    asked = read_asked(ask.text, today=today)
    on = ask.on or asked.on
    matching, unknown = holdings_for(club, asked) if asked.words or asked.sizes_mm else (Q(), ())
    rows = narrowed(Holding.objects.visible_to(user).standing().filter(matching, club=club), ask)
    window = Window.of_day(on, today=today)
    counted = balances_of(rows.order_by("kind_id", "colour", "pk")[: LOOKED_AT + 1], club, window)
    spare = {pk: balance.spare for pk, balance in list(counted.items())[:LOOKED_AT] if balance.spare}
    return Spares(holdings=Found(spare), on=on, unknown=unknown, is_cut=len(counted) > LOOKED_AT)


def narrowed(rows: HoldingQuerySet, ask: SpareAsk) -> HoldingQuerySet:
    if ask.kind is not None:
        rows = rows.filter(kind=ask.kind)
    if ask.category:
        rows = rows.filter(kind__category=ask.category)
    if ask.colour:
        rows = rows.filter(colour__iexact=ask.colour.strip())
    if ask.scale_mm is not None:
        rows = rows.filter(scale_mm=ask.scale_mm)
    return rows


def holdings_for(club: Club, asked: Asked) -> tuple[Q, tuple[str, ...]]:
    """A condition for what the words and sizes say, and the words that say nothing.

    The words are held against the club's kinds and colours here rather than in the database, which folds letters
    otherwise on each system; what remains is a condition on two columns with an index.
    """
    kinds = list(ItemKind.objects.filter(club=club).only("name", "use", "category", "sizes_mm"))
    called = {kind.pk: words_of(kind) for kind in kinds}
    pairs = set(Holding.objects.standing().filter(club=club).order_by().values_list("kind", "colour").distinct())
    left, unknown, condition = pairs, [], Q()
    for word in asked.words:
        said = {pair for pair in pairs if is_called(word, (*called[pair[0]], *words_in(pair[1])))}
        if said:
            left = left & said
        elif owners := owners_called(club, word):
            condition &= Q(owner__in=owners)
        else:
            unknown.append(word)
    for size in asked.sizes_mm:
        sized = [kind.pk for kind in kinds if any(abs(each - size) <= SIZE_TOLERANCE_MM for each in kind.sizes_mm)]
        condition &= Q(kind__in=sized) | Q(scale_mm=size)
    if unknown:
        condition &= Q(pk__in=())
    elif left != pairs:
        condition &= one_of(left, pairs)
    return condition, tuple(unknown)


def one_of(left: set[tuple[int, str]], pairs: set[tuple[int, str]]) -> Q:
    """A condition for these pairs of kind and colour, as few alternatives as they can be grouped into."""
    colours: defaultdict[int, set[str]] = defaultdict(set)
    every: defaultdict[int, set[str]] = defaultdict(set)
    for pairs_of, found in ((left, colours), (pairs, every)):
        for kind, colour in pairs_of:
            found[kind].add(colour)
    groups: defaultdict[frozenset[str] | None, list[int]] = defaultdict(list)
    for kind, some in colours.items():
        groups[None if some == every[kind] else frozenset(some)].append(kind)
    condition = Q(pk__in=())
    for some_or_all, of_kinds in groups.items():
        alternative = Q(kind__in=sorted(of_kinds))
        condition |= alternative if some_or_all is None else alternative & Q(colour__in=sorted(some_or_all))
    return condition


def words_of(kind: ItemKind) -> tuple[str, ...]:
    """Every word a kind goes by: its name, what it serves as, and what it is for."""
    return words_in(f"{kind.name} {kind.use} {kind.category} {Category(kind.category).label}")


def words_in(text: str) -> tuple[str, ...]:
    return tuple(stem(word) for word in WORD.findall(folded(text)))


def is_called(word: str, names: Iterable[str]) -> bool:
    """By its beginning, so that a word half typed finds what it will find when it is whole."""
    return any(name.startswith(word) for name in names)


def owners_called(club: Club, word: str) -> list[int]:
    people = Member.objects.present().filter(club=club).values_list("pk", "name")
    return [pk for pk, name in people if is_called(word, words_in(name))]
