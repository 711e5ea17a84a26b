"""What the dice said of the fallen, in words, and which die to throw."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.engines.rulesets import CasualtyTable, Outcome

__all__ = ["die_in_words", "fate_in_words", "fates_in_words", "table_in_words"]


def fate_in_words(outcome: Outcome) -> str:
    match outcome.fate:
        case "back":
            return _("back for the next game")
        case "lost":
            return _("lost for good")
        case "out":
            words = ngettext("misses the next game", "misses the next %(games)s games", outcome.games)
            return words % {"games": outcome.games}


def fates_in_words(table: CasualtyTable, rolls: Sequence[int]) -> list[str]:
    """What each kind of roll came to, with how many figures it befell where each figure has its die."""
    if table.roll_for == "unit":
        return [fate_in_words(table.outcome_of(roll)) for roll in rolls]
    befell: dict[str, int] = {}
    for roll in sorted(rolls):
        words = fate_in_words(table.outcome_of(roll))
        befell[words] = befell.get(words, 0) + 1
    return [f"{count} {words}" for words, count in befell.items()]


def die_in_words(table: CasualtyTable) -> str:
    """Which die to take in hand, and how to read it where it has more faces than the table asks for."""
    reading = table.reading
    if reading.thrown == reading.sides:
        return _("Throw a die of %(sides)s sides.") % {"sides": reading.sides}
    runs = [
        faces_in_words([face for face in range(1, reading.thrown + 1) if reading.read(face) == counts])
        for counts in range(1, reading.sides + 1)
    ]
    shared = ", ".join(
        _("%(faces)s counts as %(number)s") % {"faces": faces, "number": number}
        for number, faces in enumerate(runs, start=1)
    )
    words = _("Throw a die of %(thrown)s sides and enter what it shows: %(shared)s.")
    return words % {"thrown": reading.thrown, "shared": shared}


def table_in_words(table: CasualtyTable) -> list[tuple[str, str]]:
    """Each line of the table by the faces of the die that is thrown."""
    faces = range(1, table.reading.thrown + 1)
    return [
        (faces_in_words([face for face in faces if table.outcome_of(face) is outcome]), fate_in_words(outcome))
        for outcome in table.outcomes
    ]


def faces_in_words(faces: Sequence[int]) -> str:
    return str(faces[0]) if len(faces) == 1 else f"{faces[0]}\N{EN DASH}{faces[-1]}"
