"""What a sheet of labels, and the page that a label opens, show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db.models import F, OuterRef, Subquery, Sum
from django.db.models.functions import Coalesce, Lower

from accounts.models import User
from league.clubs.models import Club, Member
from league.stores import permissions
from league.stores.models import Holding, HoldingQuerySet, Movement
from league.stores.queries.cautions import Caution, cautions_of
from league.stores.queries.holding_words import what_of, where_of, whose_of, with_words

__all__ = ["Label", "Shelf", "ShelfLine", "labels_of", "shelf_of"]

PIECE = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class Label:
    """What is printed: the code in pieces that can be read out, and what lies there."""

    code: str
    lines: tuple[str, ...]
    whose: str
    where: str
    cautions: tuple[Caution, ...]

    @property
    def spelt(self) -> str:
        return spelt(self.code)


@dataclass(frozen=True, kw_only=True, slots=True)
class ShelfLine:
    """A holding of a shelf and how many pieces the record says lie there: those lent are not, those set aside are."""

    holding: Holding
    what: str
    there: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Shelf:
    label: Label
    lines: tuple[ShelfLine, ...]
    may_count: bool


def spelt(code: str) -> str:
    """ "abcd efgh jk"."""
    return " ".join(code[at : at + PIECE] for at in range(0, len(code), PIECE))


def labels_of(
    club: Club, user: User, *, owner: Member | None = None, is_clubs: bool = False, code: str = ""
) -> list[Label]:
    """The labels of one owner, of the club's own kit, or of one shelf; of all that the reader sees without any of these."""
    holdings = Holding.objects.visible_to(user).standing().filter(club=club)
    if owner is not None or is_clubs:
        holdings = holdings.filter(owner=owner)
    if code:
        holdings = holdings.filter(label=code)
    return [label_for(shelf) for shelf in shelves_in(with_words(holdings))]


def shelves_in(holdings: HoldingQuerySet) -> list[list[Holding]]:
    shelves: dict[str, list[Holding]] = {}
    for holding in holdings.order_by(Lower("kind__name"), "colour", "pk"):
        shelves.setdefault(holding.label, []).append(holding)
    return list(shelves.values())


def label_for(shelf: list[Holding]) -> Label:
    first = shelf[0]
    return Label(
        code=first.label,
        lines=tuple(what_of(each) for each in shelf),
        whose=whose_of(first),
        where=where_of(first),
        cautions=tuple(cautions_of(each.kind for each in shelf)),
    )


def shelf_of(club: Club, code: str, member: Member | None, user: User) -> Shelf | None:
    """What lies under a label, as far as the reader sees it; None where nothing does."""
    waiting = Movement.objects.filter(holding=OuterRef("pk"), loan__handed_at=None, loan__withdrawn_at=None)
    aside: Any = waiting.values("holding").annotate(pieces=Sum("out_change")).values("pieces")
    holdings = Holding.objects.visible_to(user).standing().filter(club=club, label=code.lower())
    rows: Any = with_words(holdings).select_related("club").with_balance()
    rows = rows.annotate(there=F("held") - F("out") + Coalesce(Subquery(aside), 0))
    shelf = list(rows.order_by(Lower("kind__name"), "colour", "pk"))
    if not shelf:
        return None
    return Shelf(
        label=label_for(shelf),
        lines=tuple(ShelfLine(holding=each, what=what_of(each), there=each.there) for each in shelf),
        may_count=all(permissions.can_count(member, each) for each in shelf),
    )
