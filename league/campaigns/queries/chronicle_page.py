"""The chronicle: a turn as it is told, and the whole war as lines over time."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from league.battles.models import Photo
from league.campaigns.models import Story
from league.campaigns.queries.play_page import (
    BattleLine,
    ForceLine,
    battles_seen,
    forces_seen,
    loads,
)
from league.campaigns.queries.seen import Seen, sentence_in_words
from league.clubs.queries.people import names_for
from league.engines.war.chronicle import Chapter
from league.engines.war.fog import View

if TYPE_CHECKING:
    from accounts.models import User

__all__ = ["Book", "BookLine", "Page", "Plot", "Series", "page_of", "plots_of", "told_of_turn"]

HUNDRED = 100
CHAPTERS: dict[Chapter, str] = {
    "orders": gettext_noop("On the march"),
    "supply": gettext_noop("Supply"),
    "battles": gettext_noop("Battles"),
    "aftermath": gettext_noop("Afterwards"),
    "umpire": gettext_noop("By the umpire's word"),
}
ENTRIES = {
    "opening": gettext_noop("there at the beginning"),
    "produced": gettext_noop("produced"),
    "moved": gettext_noop("sent on or received"),
    "used": gettext_noop("used by a force"),
    "fought": gettext_noop("used in battle"),
    "spent": gettext_noop("spent on a depot or recruits"),
    "captured": gettext_noop("captured"),
    "spoilt": gettext_noop("spoilt"),
    "settled": gettext_noop("by the umpire's word"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class BookLine:
    """One line of the book of stocks, `amount` signed."""

    where: str
    faction: str
    what: str
    about: str
    amount: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Book:
    """The book of one stock for one turn: what was there before, its lines, and their sum."""

    where: str
    faction: str
    before: str
    lines: tuple[BookLine, ...]
    after: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Page:
    """A turn of the chronicle. `chapters` are (heading, sentences), `stories` (story, who told it)."""

    view: View
    chapters: tuple[tuple[str, tuple[str, ...]], ...]
    forces: tuple[ForceLine, ...]
    battles: tuple[BattleLine, ...]
    books: tuple[Book, ...]
    stories: tuple[tuple[Story, str], ...]
    photos: tuple[Photo, ...]
    previous: int | None
    following: int | None


def page_of(seen: Seen, turn: int, user: User) -> Page | None:
    """One turn as the reader may see it, with the pictures they may; None where they may not."""
    view = seen.view(turn)
    if view is None or seen.newest is None:
        return None
    battles = battles_seen(seen, view)
    games = [each.game_id for each in battles if each.game_id]
    return Page(
        view=view,
        chapters=told_of_turn(seen, view),
        forces=forces_seen(seen, view),
        battles=battles,
        books=_books(seen, view),
        stories=_stories(seen, turn),
        photos=tuple(Photo.objects.visible_to(user).filter(game__in=games).order_by("pk")) if games else (),
        previous=turn - 1 if turn > 0 else None,
        following=turn + 1 if turn < seen.newest else None,
    )


def _stories(seen: Seen, turn: int) -> tuple[tuple[Story, str], ...]:
    rows = Story.objects.shown().filter(campaign=seen.campaign, turn=turn).select_related("by", "campaign")
    stories = list(rows.order_by("pk"))
    names = names_for(seen.reader, [each.by for each in stories])
    return tuple((each, names[each.by_id]) for each in stories)


def told_of_turn(seen: Seen, view: View) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The turn's sentences under their headings; headings with nothing under them are left out."""
    found: defaultdict[Chapter, list[str]] = defaultdict(list)
    for each in seen.sentences(view):
        found[each.chapter].append(sentence_in_words(each))
    return tuple((_(words), tuple(found[key])) for key, words in CHAPTERS.items() if found[key])


def _books(seen: Seen, view: View) -> tuple[Book, ...]:
    """Every stock of the reader's side that something happened to, or that lies somewhere."""
    names = {key: force.name for key, force in view.forces.items()} | seen.regions
    lines: defaultdict[tuple[str, str], list[tuple[int, BookLine]]] = defaultdict(list)
    for each in view.entries:
        line = BookLine(
            where=seen.regions.get(each.region, each.region),
            faction=seen.factions[each.faction],
            what=_(ENTRIES[each.kind]),
            about=names.get(each.about, ""),
            amount=signed(each.amount_x100),
        )
        lines[each.region, each.faction].append((each.amount_x100, line))
    found = []
    for region, faction in sorted({*lines, *view.balances}):
        after = view.balances.get((region, faction), 0)
        before = after - sum(amount for amount, _line in lines[region, faction])
        found.append(
            Book(
                where=seen.regions.get(region, region),
                faction=seen.factions[faction],
                before=loads(before),
                lines=tuple(line for _amount, line in lines[region, faction]),
                after=loads(after),
            )
        )
    return tuple(found)


def signed(amount_x100: int) -> str:
    return loads(amount_x100) if amount_x100 < 0 else f"+{loads(amount_x100)}"


# Lines over time.


@dataclass(frozen=True, kw_only=True, slots=True)
class Series:
    """One faction's line: a value for each turn, None where the reader does not know it."""

    name: str
    values: tuple[int | None, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Plot:
    """`turns` are the turns along the foot, turn 0 the beginning."""

    key: str
    title: str
    turns: tuple[int, ...]
    series: tuple[Series, ...]


def plots_of(seen: Seen) -> tuple[Plot, ...]:
    """Territory, strength, supply and losses turn by turn, of what the reader may see; a plot without any line is left
    out."""
    pages = seen.views()
    turns = tuple(each.turn for each in pages)
    found = []
    for key, title, value in (
        ("territory", _("Regions held"), _territory),
        ("points", _("Points"), _points),
        ("strength", _("Figures in the field"), _strength),
        ("supply", _("Loads in stock"), _supply),
        ("losses", _("Figures lost for good"), _losses),
    ):
        series = [
            Series(name=name, values=tuple(value(page, faction) for page in pages))
            for faction, name in seen.factions.items()
        ]
        known = tuple(each for each in series if any(number is not None for number in each.values))
        if known:
            found.append(Plot(key=key, title=title, turns=turns, series=known))
    return tuple(found)


def _territory(view: View, faction: str) -> int | None:
    everything = len(view.control_known) == len(view.map.regions)
    return sum(holder == faction for holder in view.control.values()) if everything else None


def _points(view: View, faction: str) -> int | None:
    return view.points.get(faction)


def _is_open(view: View, faction: str) -> bool:
    """Whether the reader sees all of a faction's: its own side and the umpire do."""
    forces = [each for each in view.forces.values() if each.faction == faction]
    return bool(forces) and all(each.known == "own" for each in forces)


def _strength(view: View, faction: str) -> int | None:
    if not _is_open(view, faction):
        return None
    return sum(each.figures or 0 for each in view.forces.values() if each.faction == faction and not each.gone)


def _losses(view: View, faction: str) -> int | None:
    if not _is_open(view, faction):
        return None
    return sum(each.force.lost for each in view.forces.values() if each.faction == faction and each.force)


def _supply(view: View, faction: str) -> int | None:
    if not _is_open(view, faction):
        return None
    return sum(amount for (_region, owner), amount in view.balances.items() if owner == faction) // HUNDRED
