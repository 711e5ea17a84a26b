"""What the pages about kinds show."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, F, Q, QuerySet
from django.db.models.functions import Lower
from django.utils.translation import gettext as _

from league.clubs.models import Club, Member
from league.engines.sizes import lengths_as_text
from league.stores import permissions
from league.stores.models import Category, ItemKind, PackOffer
from league.stores.queries.cautions import CAUTIONS, Caution, cautions_of

__all__ = ["KindPage", "caution_choices", "kind_page", "kinds_of", "kinds_to_choose", "size_words"]


def kinds_of(club: Club, *, retired: bool = False) -> QuerySet[ItemKind, ItemKind]:
    """The club's kinds by what they are for and name, each with `holdings_count`, how many members and the club hold it."""
    standing = Count("holdings", filter=Q(holdings__retired_at=None, holdings__is_private=False))
    kinds = ItemKind.objects.filter(club=club, retired_at__isnull=not retired)
    ordered: QuerySet[ItemKind, ItemKind] = kinds.annotate(holdings_count=standing).order_by(
        "category", Lower("name"), "pk"
    )
    return ordered


def kinds_to_choose(club: Club) -> list[ItemKind]:
    """Kinds that new kit may be of, in the order in which a form offers them."""
    kinds = ItemKind.objects.filter(club=club, retired_at=None).order_by(Lower("name"), "pk")
    place = {value: number for number, value in enumerate(Category.values)}
    return sorted(kinds, key=lambda kind: place[kind.category])


def caution_choices() -> list[tuple[str, str]]:
    return [(key, str(caution.title)) for key, caution in CAUTIONS.items()]


def size_words(kind: ItemKind) -> str:
    """ "1 in, 2 in"; "6 sides"."""
    if kind.sides:
        return _("%(sides)s sides") % {"sides": kind.sides}
    return lengths_as_text(kind.sizes_mm)


@dataclass(frozen=True, kw_only=True, slots=True)
class KindPage:
    kind: ItemKind
    sizes: str
    offers: tuple[PackOffer, ...]
    cautions: tuple[Caution, ...]
    may_change: bool


def kind_page(kind: ItemKind, member: Member | None) -> KindPage:
    offers = PackOffer.objects.filter(kind=kind, withdrawn_at=None)
    return KindPage(
        kind=kind,
        sizes=size_words(kind),
        offers=tuple(offers.order_by(F("price_pence") * 1.0 / F("pieces"), "pieces", "pk")),
        cautions=tuple(cautions_of([kind])),
        may_change=permissions.can_keep_stores(member, kind.club),
    )
