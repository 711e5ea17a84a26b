"""The usual cautions that go with a kind of thing, chosen by key.

Common practice, no source: each only reminds of the maker's sheet, the venue's rules and the law of the place, which
go before it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.stores.models import ItemKind

__all__ = ["CAUTIONS", "Caution", "cautions_of", "deference"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Caution:
    """A usual caution: what it is about, and the reminder itself."""

    title: str | Promise
    text: str | Promise


CAUTIONS: dict[str, Caution] = {
    "knife": Caution(
        title=gettext_lazy("Knives and saws"),
        text=gettext_lazy(
            "Cut away from yourself on a mat, with a sharp blade and a steady hold. Cap it when you put it down, and "
            "bin used blades in something they cannot come through. Not for children unless an adult stands by."
        ),
    ),
    "aerosol": Caution(
        title=gettext_lazy("Spray primer and varnish"),
        text=gettext_lazy(
            "Spray outdoors or with strong airing, away from flames, sparks and heat, and never in the hall. Do not "
            "breathe the mist. Do not pierce or burn the can, even when empty."
        ),
    ),
    "solvent": Caution(
        title=gettext_lazy("Solvents and thinners"),
        text=gettext_lazy(
            "Air the room, keep flames away, and wear gloves that the maker's sheet names. Keep it closed, in its own "
            "marked bottle, out of children's reach. Do not pour it down a drain."
        ),
    ),
    "resin": Caution(
        title=gettext_lazy("Resin"),
        text=gettext_lazy(
            "Liquid resin can cause allergies: gloves, eye protection and good airing. Sand hardened resin wet and "
            "with a mask, because its dust harms the lungs."
        ),
    ),
    "superglue": Caution(
        title=gettext_lazy("Superglue"),
        text=gettext_lazy(
            "It bonds skin and eyelids in seconds. Keep it from eyes and from children. Never pull bonded skin apart: "
            "warm soapy water helps, and for an eye or the mouth get medical help at once."
        ),
    ),
    "laser": Caution(
        title=gettext_lazy("Laser pointers and line lasers"),
        text=gettext_lazy(
            "Never towards a face, a mirror or a window. Use only one that is marked for its class and that the law "
            "of the place lets people have; a string or a straight edge shows a line of sight as well."
        ),
    ),
    "magnet": Caution(
        title=gettext_lazy("Small strong magnets"),
        text=gettext_lazy(
            "Swallowed magnets can kill. Keep loose ones from children altogether, and get medical help at once if one "
            "may have been swallowed. Keep them from pacemakers and other implants."
        ),
    ),
    "small_parts": Caution(
        title=gettext_lazy("Small parts"),
        text=gettext_lazy(
            "Dice, tokens and markers can choke a small child. Count them out and in, and keep them off the floor "
            "where toddlers are about."
        ),
    ),
    "heavy": Caution(
        title=gettext_lazy("Heavy boxes"),
        text=gettext_lazy("Lift boards and full boxes with another person, and keep the way out of the hall free."),
    ),
}


def deference() -> str:
    return _("The maker's sheet, the venue's rules and the law of the place go before this.")


def cautions_of(kinds: Iterable[ItemKind]) -> list[Caution]:
    """The usual cautions of these kinds, each once, in the order of the list above, and the club's own."""
    kinds = list(kinds)
    keys = {key for kind in kinds for key in kind.cautions}
    usual = [caution for key, caution in CAUTIONS.items() if key in keys]
    own = {kind.caution: kind for kind in kinds if kind.caution}
    return usual + [Caution(title=kind.name, text=text) for text, kind in own.items()]
