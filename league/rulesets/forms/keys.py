"""The keys programs know a thing by, made from the names people give it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection

__all__ = ["key_from"]

LONGEST = 40
UNFIT = re.compile(r"[^a-z0-9]+")


def key_from(name: str, taken: Collection[str], *, kind: str) -> str:
    """A key for a new thing, unlike those `taken`: "Línea foot" gives `linea_foot`, the next one `linea_foot_2`.

    `kind` stands in where the name has no letter of the Latin alphabet.
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = UNFIT.sub("_", plain).strip("_")
    if not stem or not stem[0].isalpha():
        stem = f"{kind}_{stem}".rstrip("_")
    stem = stem[: LONGEST - 4].rstrip("_")
    number, key = 1, stem
    while key in taken:
        number += 1
        key = f"{stem}_{number}"
    return key
