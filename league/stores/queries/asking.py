"""What somebody typed into the one search box, read: the words for a thing, a size, and the day it is wanted for.

"red markers, free on the 12th", "28mm hills", "3 inch template 2026-04-02". Words that only make it a sentence are
passed over. What is read is shown back, so that a misreading is seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

__all__ = ["WORD", "Asked", "folded", "read_asked", "stem"]

INCH_MM: Final = 25.4  # exact by the international inch of 1959
ISO_DAY = re.compile(r"\b(\d{4})-(\d\d)-(\d\d)\b")
ORDINAL = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th)\b(?:\s+(?:of\s+)?([a-z]{3,9}))?", re.IGNORECASE)
MILLIMETRES = re.compile(r"\b(\d{1,5})\s*mm\b", re.IGNORECASE)
INCHES = re.compile(r"\b(\d{1,3})\s*(?:inch(?:es)?\b|in\b|″|\")", re.IGNORECASE)
WORD = re.compile(r"[^\W_]+")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
FILLING = frozenset(
    {
        "a",
        "an",
        "any",
        "for",
        "free",
        "has",
        "have",
        "i",
        "is",
        "need",
        "of",
        "on",
        "some",
        "spare",
        "spares",
        "the",
        "to",
        "want",
        "who",
        "with",
    }
)
SHORT: Final = 3
YEARS_AHEAD: Final = 8  # a 29 February comes at least this often
WORDS_MOST: Final = 8


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """`words` are folded and without a plural's s; `on` is a day, or None where none was named; sizes in mm."""

    words: tuple[str, ...] = ()
    sizes_mm: tuple[int, ...] = ()
    on: date | None = None


def read_asked(text: str, *, today: date) -> Asked:
    """Read a line as typed. "The 12th" is the next one, today included; a day that is none is left among the words."""
    on: date | None = None

    def taken(found: re.Match[str]) -> str:
        nonlocal on
        day = day_of(found, today)
        if day is None or on is not None:
            return found[0]
        on = day
        return " " if found.re is ISO_DAY or is_month(found[2]) or not found[2] else f" {found[2]}"

    text = ORDINAL.sub(taken, ISO_DAY.sub(taken, text))
    sizes = [int(found[1]) for found in MILLIMETRES.finditer(text)]
    text = MILLIMETRES.sub(" ", text)
    sizes += [round(int(found[1]) * INCH_MM) for found in INCHES.finditer(text)]
    text = INCHES.sub(" ", text)
    words = (stem(word) for word in WORD.findall(folded(text)) if word not in FILLING)
    return Asked(words=tuple(dict.fromkeys(words))[:WORDS_MOST], sizes_mm=tuple(dict.fromkeys(sizes)), on=on)


def folded(text: str) -> str:
    return text.casefold()


def stem(word: str) -> str:
    """A word as it is looked for: without the s of several."""
    return word[:-1] if len(word) > SHORT and word.endswith("s") and not word.endswith("ss") else word


def day_of(found: re.Match[str], today: date) -> date | None:
    if found.re is ISO_DAY:
        return first_real([(int(found[1]), int(found[2]))], int(found[3]), today=None)
    month = MONTHS.index(found[2][:SHORT].casefold()) + 1 if is_month(found[2]) else None
    ahead = (
        (today.year + (today.month - 1 + n) // 12, (today.month - 1 + n) % 12 + 1) for n in range(12 * YEARS_AHEAD)
    )
    return first_real([each for each in ahead if month in {None, each[1]}], int(found[1]), today=today)


def is_month(word: str | None) -> bool:
    return word is not None and word[:SHORT].casefold() in MONTHS


def first_real(months: Iterable[tuple[int, int]], day: int, *, today: date | None) -> date | None:
    """The first of these months that has such a day, from today on."""
    for year, month in months:
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if today is None or found >= today:
            return found
    return None
