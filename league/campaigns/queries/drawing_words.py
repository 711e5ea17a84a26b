"""What the signs of a drawn map mean, and which letter stands for whom."""

from __future__ import annotations

import string
from collections.abc import Iterable

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

__all__ = ["CONDITIONS", "KINDS", "MARKS", "SIGNS", "letters_of", "terrain_sign"]

KINDS: dict[str, str | Promise] = {"road": _("road"), "river": _("river"), "sea_lane": _("sea lane")}
SIGNS: dict[str, str | Promise] = {
    "stronghold": _("stronghold"),
    "port": _("port"),
    "source": _("source of supply, with its yield"),
    "depot": _("depot"),
    "worth": _("worth in points"),
    "contested": _("battle"),
    "full": _("road that is full"),
    "blocked": _("blocked"),
}
MARKS: dict[str, str | Promise] = {
    "full": _("full"),
    "blocked": _("blocked"),
    "used": _("carries supply"),
    "short": _("short of supply"),
    "cut_off": _("cut off"),
}
CONDITIONS: dict[str, str | Promise] = {"short": _("short of supply"), "cut_off": _("cut off")}

# A terrain is a free word of the campaign's. Those whose word says what they look like have a sign; the others stand in
# words. Matched by the beginnings of words, in English, as the campaign writes them.
TERRAIN_SIGNS = {
    "hill": ("hill", "down", "ridge", "height", "moor"),
    "mountain": ("mount", "peak", "alp", "crag"),
    "wood": ("wood", "forest", "jungle", "grove", "orchard"),
    "marsh": ("marsh", "fen", "bog", "swamp", "mire", "reed"),
    "town": ("town", "city", "village", "street", "urban", "built"),
    "open": ("open", "plain", "field", "farm", "meadow", "steppe", "grass"),
    "sand": ("sand", "desert", "dune", "beach"),
    "water": ("water", "river", "lake", "sea", "ford"),
}


def terrain_sign(terrain: str) -> str:
    """The name of the sign for a terrain, empty where there is none."""
    words = terrain.casefold().replace("_", " ").replace("-", " ").split()
    for sign, beginnings in TERRAIN_SIGNS.items():
        if any(word.startswith(beginnings) for word in words):
            return sign
    return ""


def letters_of(names: Iterable[str]) -> list[str]:
    """A letter or figure for each name, no two alike: an initial of its own where that is free."""
    taken: list[str] = []
    for name in names:
        initials = [word[0] for word in name.split() if word[0].isupper()]
        wanted = [*initials, *(each for each in name if each.isalnum()), *string.ascii_uppercase, *string.digits]
        free = (each.upper()[:1] for each in wanted if each.upper()[:1] not in taken)
        taken.append(next(free, str(len(taken) + 1)))
    return taken
