"""Packs by the colour they are bought in: each pack is of one, and whoever buys chooses which."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from string import ascii_uppercase
from typing import Final

from league.engines.kit.items import fits, folded
from league.engines.kit.needs import Asked
from league.engines.kit.offers import Offer
from league.engines.rulesets import Wanted

__all__ = ["in_colours", "letters_of", "words_of_colours"]

# A colour that is still to be chosen; no colour in words has an underscore once it is folded.
CHOSEN: Final = "_"
LETTERS: Final = ascii_uppercase


def in_colours(wanted: Iterable[Asked], offers: Iterable[Offer]) -> list[Offer]:
    """Each offer once for every colour that somebody asks it for: those asked for by name, and as many more as the most
    sides that are to be told apart at one table. Once without a colour where it makes no difference.
    """
    sides: Counter[tuple[str, str]] = Counter()
    named: defaultdict[Wanted, set[str]] = defaultdict(set)
    apart: set[Wanted] = set()
    for asked in wanted:
        plain = replace(asked.wanted, colour="")
        if asked.wanted.colour:
            named[plain].add(folded(asked.wanted.colour))
        elif asked.sharing == "apart":
            sides[asked.demand.table, asked.need] += 1
            apart.add(plain)
    most = max(sides.values(), default=0)
    chosen = [f"{CHOSEN}{number:03}" for number in range(most)] if most > 1 else []
    found = []
    for offer in offers:
        piece = replace(offer.piece, colour="")
        colours = sorted({colour for plain, known in named.items() if fits(plain, piece) for colour in known})
        if any(fits(plain, piece) for plain in apart):
            colours += chosen
        found += [replace(offer, piece=replace(piece, colour=colour)) for colour in colours or [""]]
    return found


def letters_of(colours: Iterable[str]) -> dict[str, str]:
    """A letter for each of the colours that are still to be chosen: A, B and so on, as they come."""
    bought = dict.fromkeys(colour for colour in colours if colour.startswith(CHOSEN))
    return {colour: LETTERS[at] if at < len(LETTERS) else str(at + 1) for at, colour in enumerate(bought)}


def words_of_colours(packs: Sequence[tuple[str, int]], letters: Mapping[str, str]) -> str:
    """How many packs of which colour, as sentences; nothing to say where the colour does not matter."""
    known = [f"{count} in {colour}" for colour, count in packs if colour and colour not in letters]
    # Where all that is told apart is of one colour, that may be any.
    free = [f"{count} in colour {letters[colour]}" for colour, count in packs if colour in letters and len(letters) > 1]
    told = known + free
    if not told:
        return ""
    listed = told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"
    return f"{listed}. Each letter is a colour of your choice, for sides to be told apart by." if free else f"{listed}."
