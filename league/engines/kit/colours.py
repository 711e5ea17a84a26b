"""Packs by the colour they are bought in: each pack is of one, and whoever buys chooses which."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from league.engines.kit.items import fits, folded
from league.engines.kit.needs import Asked
from league.engines.kit.offers import Offer
from league.engines.rulesets import Wanted

__all__ = ["in_colours", "words_of_colours"]

# A colour that is still to be chosen; no colour in words has an underscore once it is folded.
CHOSEN: Final = "_"


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


def words_of_colours(packs: Sequence[tuple[str, int]]) -> str:
    """How many packs of which colour, as a sentence; nothing to say where the colour does not matter."""
    named = [f"{count} in {colour}" for colour, count in packs if colour and not colour.startswith(CHOSEN)]
    chosen = [count for colour, count in packs if colour.startswith(CHOSEN)]
    apart = len(chosen) > 1
    if apart:
        more = [f"{count} of another" for count in chosen[1:]]
        named += [f"{chosen[0]} of one colour", *more]
    elif chosen and named:
        named.append(f"{chosen[0]} of another colour")
    if not named:
        return ""
    listed = named[0] if len(named) == 1 else f"{', '.join(named[:-1])} and {named[-1]}"
    return f"{listed}, so that sides can be told apart." if apart else f"{listed}."
