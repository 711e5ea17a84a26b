"""What people and the club have, and what happened to it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.forms import Form
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.stores import permissions
from league.stores.forms.holdings import BookForm, HoldingEditForm, HoldingForm, PlaceForm
from league.stores.models import Act, Holding, Movement
from league.stores.queries.holding_words import what_of
from league.stores.queries.holdings_page import (
    colours_of,
    holding_page,
    kit_of,
    movements_of,
    owners_for,
    shelves_of,
)
from league.stores.queries.kinds_page import kinds_to_choose
from league.stores.services.holdings import (
    HoldingFacts,
    add_holding,
    bring_back_holding,
    change_holding,
    retire_holding,
)
from league.stores.services.movements import book_movement
from league.stores.tables.holdings import HoldingTable, MovementTable
from league.stores.views.rows import InStores, KitAct, KitForm, OnHolding
from league.web import TablePage

__all__ = [
    "ClubKit",
    "HoldingBook",
    "HoldingBringBack",
    "HoldingEdit",
    "HoldingMove",
    "HoldingNew",
    "HoldingPage",
    "HoldingRetire",
    "MemberKit",
    "MyKit",
]

DESCRIBED = [name for name in HoldingFacts.__slots__ if name != "label"]
BOOKS = {
    Act.BOUGHT: (_("Bought"), _("How many were bought?")),
    Act.MADE: (_("Made"), _("How many were made?")),
    Act.RECEIVED: (_("Received"), _("How many came?")),
    Act.USED_UP: (_("Used up"), _("How many are used up?")),
    Act.LOST: (_("Lost"), _("How many are lost?")),
    Act.BROKEN: (_("Broken"), _("How many are broken?")),
    Act.GIVEN: (_("Given away"), _("How many were given away?")),
}


class KitList(InStores, TablePage):
    """All the kit of one owner."""

    table_class = HoldingTable
    template_name = "stores/holdings.html"
    csv_name = "kit"
    owner: Member | None = None

    def get_table_data(self) -> QuerySet[Holding]:
        return kit_of(self.club, self.owner, self.request.user, today=timezone.localdate())

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        may_add = permissions.can_own_holdings_for(self.member, self.club, self.owner)
        whose = self.owner.pk if self.owner else ""
        return super().get_context_data(
            owner=self.owner,
            may_add=may_add,
            new_url=f"{self.path_to('holding-new')}?owner={whose}",
            **context,
        )


class MyKit(KitList):
    title = _("My kit")

    @property
    def owner(self) -> Member | None:
        return self.member


class ClubKit(KitList):
    title = _("The club's kit")


class MemberKit(KitList):
    @cached_property
    def owner(self) -> Member:
        rows = Member.objects.visible_to(self.request.user).filter(club=self.club)
        return get_object_or_404(rows, pk=self.kwargs["member"])

    @property
    def title(self) -> str:
        return _now("Kit of %(name)s") % {"name": self.owner.name}


class HoldingPage(OnHolding, TablePage):
    """A holding with its record."""

    table_class = MovementTable
    template_name = "stores/holding.html"
    csv_name = "record"

    def get_table_data(self) -> QuerySet[Movement]:
        return movements_of(self.holding)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            page=holding_page(self.holding, self.member, today=timezone.localdate()),
            books=[(act.value, words) for act, (words, _question) in BOOKS.items()],
            title=what_of(self.holding),
            **context,
        )


class HoldingNew(KitForm):
    """Quick to fill in on a phone: kind, number, colour, place; the rest folded."""

    form_class = HoldingForm
    template_name = "stores/holding_form.html"
    title = _("Add kit")
    button = _("Add it")
    done_message = _("It is written down.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {
            "club": self.club,
            "kinds": kinds_to_choose(self.club),
            "owners": owners_for(self.member),
            "shelves": shelves_of(self.club, self.member),
            **super().get_form_kwargs(),
        }

    def get_initial(self) -> dict[str, Any]:
        asked = self.request.GET
        owner = asked.get("owner", str(self.member.pk))
        given = {name: asked[name] for name in ("kind", "colour", "count") if name in asked}
        return {"owner": owner, **given}

    def act(self, form: Form) -> Holding:
        said = form.cleaned_data
        facts = HoldingFacts(label=said.get("label", ""), **{name: said.get(name) for name in DESCRIBED})
        return add_holding(
            said["kind"],
            owner=said.get("owner", self.member),
            count=said["count"],
            act=said["act"] or Act.RECEIVED,
            reason=said["reason"],
            facts=facts,
            submission=said["submission"],
            by=self.member,
        )

    def back_to(self) -> str:
        return self.path_to("my-kit")

    def get_success_url(self) -> str:
        if "another" in self.request.POST:
            return self.path_to("holding-new")
        return self.path_to("my-kit" if self.result.owner_id == self.member.pk else "club-kit")

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(colours=colours_of(self.club), **context)
        return {**context, "no_kinds": not context["form"].kinds}


class KeepHolding(OnHolding, KitForm):
    """A form of whoever keeps the holding."""

    def allows(self) -> bool:
        return permissions.can_keep_holding(self.member, self.holding)

    def facts(self, **changed: Any) -> HoldingFacts:
        """The holding as it is described, but for what changed."""
        kept = {name: getattr(self.holding, name) for name in DESCRIBED}
        return HoldingFacts(**{**kept, **changed})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=what_of(self.holding), **context)


class HoldingEdit(KeepHolding):
    form_class = HoldingEditForm
    template_name = "stores/holding_edit.html"
    title = _("Describe the kit")
    done_message = _("It is described anew.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {
            "club": self.club,
            "is_owned": self.holding.owner_id is not None,
            "shelves": shelves_of(self.club, self.holding.owner, but=self.holding),
            **super().get_form_kwargs(),
        }

    def get_initial(self) -> dict[str, Any]:
        return {name: getattr(self.holding, name) for name in DESCRIBED}

    def act(self, form: Form) -> Holding:
        return change_holding(self.holding, facts=self.facts(**form.cleaned_data), by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(colours=colours_of(self.club), **context)


class HoldingMove(KeepHolding):
    """Handed on to somebody else to look after, or put somewhere else."""

    form_class = PlaceForm
    title = _("Where is it now?")
    button = _("It is there now")
    done_message = _("Its place is written down.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"club": self.club, "is_owned": self.holding.owner_id is not None, **super().get_form_kwargs()}

    def get_initial(self) -> dict[str, Any]:
        return {name: getattr(self.holding, name) for name in ("place", "venue", "keeper")}

    def act(self, form: Form) -> Holding:
        return change_holding(self.holding, facts=self.facts(**form.cleaned_data), by=self.member)


class HoldingBook(KeepHolding):
    """So many came or went: one line in the record."""

    form_class = BookForm
    done_message = _("The record has a new line.")

    @cached_property
    def booked(self) -> Act:
        try:
            act = Act(self.kwargs["act"])
        except ValueError:
            raise Http404 from None
        if act not in BOOKS:
            raise Http404
        return act

    @property
    def title(self) -> str:
        return str(BOOKS[self.booked][1])

    def act(self, form: Form) -> Movement:
        return book_movement(self.holding, act=self.booked, **form.cleaned_data, by=self.member)


class HoldingRetire(KeepHolding):
    form_class = Form
    template_name = "confirm.html"
    title = _("Put this away?")
    button = _("Put it away")
    done_message = _("It is put away.")

    def act(self, form: Form) -> Holding:
        return retire_holding(self.holding, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        words = _now("%(what)s keeps its record, is found no more and lends nothing.")
        return super().get_context_data(question=words % {"what": what_of(self.holding)}, **context)


class HoldingBringBack(OnHolding, KitAct):
    done_message = _("It is out again.")

    def act(self) -> Holding:
        return bring_back_holding(self.holding, by=self.member)
