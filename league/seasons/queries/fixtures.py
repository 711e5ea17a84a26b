"""A list of fixtures as somebody typed it: every line read, and everything wrong with it said."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _

from league.seasons.models import Entrant, PairingSide, Season

__all__ = ["FixtureLine", "read_fixtures"]

FEWEST = 3  # round, who, against whom
WITH_DAY = 4
LINES_MOST = 2000
ROUNDS_MOST = 1000
BYE_WORDS = frozenset({"bye", "-"})


@dataclass(frozen=True, kw_only=True, slots=True)
class FixtureLine:
    """One line, counted from 1. `entrants` has one for a bye; `faults` everything that keeps it from being a pairing."""

    number: int
    text: str
    round: int = 0
    entrants: tuple[Entrant, ...] = ()
    on: date | None = None
    faults: tuple[str, ...] = ()


def read_fixtures(season: Season, text: str) -> tuple[FixtureLine, ...]:
    """The lines of a list: round, who, against whom, and perhaps the day, parted by commas, semicolons or tabs.

    Entrants go by the names they have in the season, whatever the capitals; `bye` or a dash is nobody. Empty lines are
    left out. Two queries, however long the list.
    """
    named = {row.name.casefold(): row for row in season.entrants.order_by("pk")}
    seated = {
        (number, entrant_id)
        for number, entrant_id in PairingSide.objects.filter(
            pairing__round__season=season, removed_at=None
        ).values_list("pairing__round__number", "entrant_id")
    }
    lines: list[FixtureLine] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        if len(lines) == LINES_MOST:
            words = _("A list has %(most)s lines at most; the rest was not read.") % {"most": LINES_MOST}
            lines.append(FixtureLine(number=number, text=line, faults=(words,)))
            break
        read = read_line(number, line, named)
        faults = [*read.faults, *faults_of_seats(read, seated)]
        seated |= {(read.round, entrant.pk) for entrant in read.entrants}
        lines.append(
            FixtureLine(
                number=number, text=line, round=read.round, entrants=read.entrants, on=read.on, faults=tuple(faults)
            )
        )
    return tuple(lines)


def read_line(number: int, line: str, named: Mapping[str, Entrant]) -> FixtureLine:
    cells = cells_of(line)
    if not FEWEST <= len(cells) <= WITH_DAY:
        words = _("Write the round, who, against whom, and perhaps the day.")
        return FixtureLine(number=number, text=line, faults=(words,))
    faults = []
    in_round = int(cells[0]) if cells[0].isascii() and cells[0].isdigit() else 0
    if not 1 <= in_round <= ROUNDS_MOST:
        faults.append(_("“%(text)s” is no number of a round.") % {"text": cells[0]})
    entrants = []
    for place, name in enumerate(cells[1:FEWEST]):
        found = named.get(name.casefold())
        if found is not None:
            entrants.append(found)
        elif not (place and name.casefold() in BYE_WORDS):
            faults.append(_("Nobody called “%(name)s” is in the season.") % {"name": name})
    on = None
    if len(cells) == WITH_DAY and cells[FEWEST]:
        try:
            on = date.fromisoformat(cells[FEWEST])
        except ValueError:
            faults.append(_("“%(text)s” is no day; write it as 2030-11-14.") % {"text": cells[FEWEST]})
    return FixtureLine(number=number, text=line, round=in_round, entrants=tuple(entrants), on=on, faults=tuple(faults))


def cells_of(line: str) -> list[str]:
    delimiter = next((each for each in ("\t", ";") if each in line), ",")
    row = next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
    return [cell.strip() for cell in row]


def faults_of_seats(line: FixtureLine, seated: set[tuple[int, int]]) -> Iterator[str]:
    entrants = line.entrants
    if len(entrants) > 1 and entrants[0] == entrants[1]:
        yield _("%(name)s cannot meet themselves.") % {"name": entrants[0].name}
    for entrant in dict.fromkeys(entrants):
        if entrant.left_at is not None:
            yield _("%(name)s has left the season.") % {"name": entrant.name}
        if (line.round, entrant.pk) in seated:
            told = {"name": entrant.name, "round": line.round}
            yield _("%(name)s is paired in round %(round)s already.") % told
