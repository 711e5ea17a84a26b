"""What the pages about holdings show."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import Q, QuerySet
from django.db.models.functions import Lower

from accounts.models import User
from league.clubs.models import Club, Member, MemberQuerySet
from league.clubs.queries import members_of
from league.stores import permissions
from league.stores.models import Holding, HoldingQuerySet, Movement
from league.stores.queries.balances import Balance, Window, balance_of, with_spare
from league.stores.queries.cautions import Caution, cautions_of
from league.stores.queries.holding_words import what_of, where_of, with_words

__all__ = ["HoldingPage", "colours_of", "holding_page", "kit_of", "movements_of", "owners_for", "shelves_of"]


def kit_of(club: Club, owner: Member | None, user: User, *, today: date) -> HoldingQuerySet:
    """What a member, or with None the club, has; as far as the reader may see it, with balances and words."""
    holdings = Holding.objects.visible_to(user).standing().filter(club=club, owner=owner)
    with_balances = with_spare(with_words(holdings), Window.of_day(None, today=today))
    rows: HoldingQuerySet = with_balances.order_by(Lower("kind__name"), "colour", "pk")
    return rows


def movements_of(holding: Holding) -> QuerySet[Movement, Movement]:
    """The record, the latest line first."""
    return Movement.objects.filter(holding=holding).select_related("by", "loan__borrower").order_by("-sequence")


def owners_for(member: Member) -> MemberQuerySet | None:
    """For whom the reader may write kit down besides the club: themselves and guests; None for who writes their own only."""
    if not permissions.can_keep_stores(member, member.club):
        return None
    return members_of(member.club).filter(Q(pk=member.pk) | Q(user=None))


def shelves_of(club: Club, owner: Member | None, *, but: Holding | None = None) -> list[tuple[str, str]]:
    """The labels of an owner's kit: the code, and what lies there in words."""
    shelves: dict[str, list[str]] = {}
    for holding in Holding.objects.standing().filter(club=club, owner=owner).select_related("kind").order_by("pk"):
        if but is None or holding.label != but.label:
            shelves.setdefault(holding.label, []).append(what_of(holding))
    return [(label, "; ".join(lies)) for label, lies in shelves.items()]


def colours_of(club: Club) -> list[str]:
    """Colours in use in the club, to choose from while typing."""
    used = Holding.objects.filter(club=club, is_private=False).exclude(colour="")
    return sorted(set(used.values_list("colour", flat=True)))


@dataclass(frozen=True, kw_only=True, slots=True)
class HoldingPage:
    """`may_*` tell which buttons the reader gets."""

    holding: Holding
    balance: Balance
    where: str
    cautions: tuple[Caution, ...]
    may_ask: bool
    may_keep: bool
    may_count: bool


def holding_page(holding: Holding, member: Member | None, *, today: date) -> HoldingPage:
    balance = balance_of(holding, Window.of_day(None, today=today))
    stands = holding.retired_at is None
    return HoldingPage(
        holding=holding,
        balance=balance,
        where=where_of(holding),
        cautions=tuple(cautions_of([holding.kind])),
        may_ask=stands and permissions.can_ask_for(member, holding),
        may_keep=permissions.can_keep_holding(member, holding),
        may_count=stands and permissions.can_count(member, holding),
    )
