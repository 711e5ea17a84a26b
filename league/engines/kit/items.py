"""What a piece of kit is, and whether it is what a ruleset asks for."""

from __future__ import annotations

import re
from dataclasses import dataclass

from league.engines.rulesets import Category, Wanted

__all__ = ["TOOLS", "Piece", "fits", "folded", "good_of"]

# Handed about and used in turn; everything else lies on the table and serves one purpose at a time.
TOOLS: frozenset[Category] = frozenset({"die", "template", "ruler"})
# One of these without a use of its own serves for any; a piece of scenery that nobody named is no hill.
PLAIN: frozenset[Category] = frozenset({"die", "token", "marker", "template", "ruler", "bag"})
# What stands beside figures, so that figures of another height make it look out of place.
BESIDE_FIGURES: frozenset[Category] = frozenset({"scenery", "marker", "token"})
# What may be larger than was asked for; the rest must be of the size.
AT_LEAST: frozenset[Category] = frozenset({"ruler", "bag", "mat", "scenery", "paper", "consumable", "other"})

BETWEEN_WORDS = re.compile(r"[\W_]+")


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """One piece by what it is; what is empty is not known, or does not apply.

    `sizes_mm`: across a template (one for each circle that a nested one offers), along a ruler, both sides of a mat.
    `scale_mm`: how tall the figures stand that it was made for.
    """

    category: Category
    use: str = ""
    sides: int | None = None
    sizes_mm: tuple[int, ...] = ()
    scale_mm: int | None = None
    colour: str = ""


def folded(text: str) -> str:
    """A name as it is compared: "Machine-Gun" and "machine gun" are one."""
    return BETWEEN_WORDS.sub(" ", text.casefold()).strip()


def good_of(piece: Piece) -> str:
    """The key that all pieces alike share."""
    said = {
        "use": folded(piece.use),
        "sides": piece.sides,
        "mm": "+".join(map(str, sorted(set(piece.sizes_mm)) if piece.category == "template" else piece.sizes_mm)),
        "scale": piece.scale_mm,
        "colour": folded(piece.colour),
    }
    return " ".join([piece.category, *(f"{name}={value}" for name, value in said.items() if value)])


def fits(wanted: Wanted, piece: Piece) -> bool:
    """Whether such a piece is what is asked for, without making do."""
    return (
        wanted.category == piece.category
        and _serves(wanted, piece)
        and wanted.sides in {None, piece.sides}
        and (not wanted.colour or folded(wanted.colour) == folded(piece.colour))
        and _stands_beside(wanted, piece)
        and _has_the_size(wanted, piece)
    )


def _serves(wanted: Wanted, piece: Piece) -> bool:
    if not wanted.use or (not piece.use and piece.category in PLAIN):
        return True
    return folded(wanted.use) == folded(piece.use)


def _stands_beside(wanted: Wanted, piece: Piece) -> bool:
    if wanted.scale_mm is None or piece.scale_mm is None or piece.category not in BESIDE_FIGURES:
        return True
    return abs(wanted.scale_mm - piece.scale_mm) <= wanted.scale_tolerance_mm


def _has_the_size(wanted: Wanted, piece: Piece) -> bool:
    if wanted.size_mm is None:
        return True
    if wanted.category not in AT_LEAST:
        return any(abs(size - wanted.size_mm) <= wanted.tolerance_mm for size in piece.sizes_mm)
    asked = sorted((size for size in (wanted.size_mm, wanted.depth_mm) if size is not None), reverse=True)
    has = sorted(piece.sizes_mm, reverse=True)
    return len(has) >= len(asked) and all(
        size >= least - wanted.tolerance_mm for size, least in zip(has, asked, strict=False)
    )
