"""A holding in words: what it is, where it lies, whose it is. Reads what was selected with it."""

from __future__ import annotations

from django.utils.translation import gettext as _

from league.stores.models import Holding, HoldingQuerySet, ItemKind

__all__ = ["place_of", "what_of", "where_of", "whose_of", "with_words"]

WITH_WORDS = ("kind", "owner", "keeper", "venue")


def with_words(holdings: HoldingQuerySet) -> HoldingQuerySet:
    """The holdings with everything that these words read."""
    selected: HoldingQuerySet = holdings.select_related(*WITH_WORDS)
    return selected


def described(kind: ItemKind, *, colour: str, scale_mm: int | None) -> str:
    """ "Smoke marker, grey, 28 mm"."""
    scale = _("%(scale)s mm") % {"scale": scale_mm} if scale_mm else ""
    return ", ".join(part for part in (kind.name, colour, scale) if part)


def what_of(holding: Holding) -> str:
    return described(holding.kind, colour=holding.colour, scale_mm=holding.scale_mm)


def whose_of(holding: Holding) -> str:
    return holding.owner.name if holding.owner else _("the club")


def where_of(holding: Holding) -> str:
    """ "The boat shed: second shelf", "with Quenna: red tin"; nothing where nobody said."""
    with_owner = holding.owner and not holding.venue and (holding.keeper or holding.owner) == holding.owner
    at = _("with %(name)s") % {"name": holding.owner.name} if with_owner and holding.owner else ""
    return ": ".join(part for part in (at, place_of(holding)) if part)


def place_of(holding: Holding) -> str:
    """The same for somebody who knows whose it is: only the place where it is with its owner."""
    at = ""
    if holding.venue:
        at = holding.venue.name
    elif holding.keeper and holding.keeper_id != holding.owner_id:
        at = _("with %(name)s") % {"name": holding.keeper.name}
    return ": ".join(part for part in (at, holding.place) if part)
