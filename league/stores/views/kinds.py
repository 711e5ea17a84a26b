"""The club's list of kinds, for everybody to read and for those who keep the stores to mend."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from django.db.models import QuerySet
from django.forms import Form
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.stores import permissions
from league.stores.forms.kinds import KindForm, NewKindForm, OfferForm
from league.stores.models import ItemKind, PackOffer
from league.stores.queries.kinds_page import caution_choices, kind_page, kinds_of
from league.stores.services.kinds import (
    KindFacts,
    add_kind,
    bring_back_kind,
    change_kind,
    offer_pack,
    retire_kind,
    withdraw_offer,
)
from league.stores.tables.kinds import KindTable
from league.stores.views.rows import InStores, KitAct, KitForm, OnKind
from league.web import TablePage

__all__ = [
    "KindBringBack",
    "KindEdit",
    "KindNew",
    "KindPage",
    "KindRetire",
    "KindsPage",
    "OfferNew",
    "OfferWithdraw",
]

DESCRIBED = [field.name for field in fields(KindFacts)]


def facts_of(form: Form) -> KindFacts:
    typed = {name: form.cleaned_data[name] for name in DESCRIBED}
    return KindFacts(**{**typed, "sizes_mm": tuple(typed["sizes_mm"]), "cautions": tuple(typed["cautions"])})


class KindsPage(InStores, TablePage):
    """What the club counts; those offered no more with `?retired=1`."""

    table_class = KindTable
    template_name = "stores/kinds.html"
    title = _("Kinds of kit")
    csv_name = "kinds"

    @property
    def is_retired(self) -> bool:
        return self.request.GET.get("retired") == "1"

    def get_table_data(self) -> QuerySet[ItemKind]:
        return kinds_of(self.club, retired=self.is_retired)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        may_add = permissions.can_add_kind(self.member, self.club)
        return super().get_context_data(may_add=may_add, is_retired=self.is_retired, **context)


class KindPage(OnKind, TemplateView):
    template_name = "stores/kind.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        page = kind_page(self.kind, self.member)
        return super().get_context_data(page=page, title=self.kind.name, **context)


class KindForms(KitForm):
    """Both forms of a kind choose among the usual cautions."""

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"cautions": caution_choices(), **super().get_form_kwargs()}


class KindNew(KindForms):
    form_class = NewKindForm
    title = _("Describe a kind of kit")
    button = _("Add the kind")
    done_message = _("The kind is on the list.")

    def allows(self) -> bool:
        return permissions.can_add_kind(self.member, self.club)

    def back_to(self) -> str:
        return self.path_to("kinds")

    def act(self, form: Form) -> ItemKind:
        said = form.cleaned_data
        return add_kind(self.club, facts=facts_of(form), key=said["key"], submission=said["submission"], by=self.member)

    def get_success_url(self) -> str:
        return self.path_to("kind", pk=self.result.pk)


class ChangeKind(OnKind, KitForm):
    """What those who keep the stores do with a kind."""

    def allows(self) -> bool:
        return permissions.can_keep_stores(self.member, self.kind.club)


class KindEdit(ChangeKind, KindForms):
    form_class = KindForm
    title = _("Describe the kind")
    done_message = _("The kind is described anew.")

    def get_initial(self) -> dict[str, Any]:
        return {name: getattr(self.kind, name) for name in DESCRIBED}

    def act(self, form: Form) -> ItemKind:
        return change_kind(self.kind, facts=facts_of(form), by=self.member)


class KindRetire(ChangeKind):
    form_class = Form
    template_name = "confirm.html"
    title = _("Take this kind off the list?")
    button = _("Take it off")
    done_message = _("The kind is off the list.")
    extra_context = {"intro": _("It is not offered for new kit any more. What there is of it stays, with its record.")}

    def act(self, form: Form) -> ItemKind:
        return retire_kind(self.kind, by=self.member)


class KindBringBack(OnKind, KitAct):
    done_message = _("The kind is on the list again.")

    def act(self) -> ItemKind:
        return bring_back_kind(self.kind, by=self.member)


class OfferNew(ChangeKind):
    form_class = OfferForm
    title = _("A pack it is sold in")
    button = _("Note the pack")
    done_message = _("The pack is noted. The list of what to buy reckons with it.")

    def act(self, form: Form) -> PackOffer:
        return offer_pack(self.kind, **form.cleaned_data, by=self.member)


class OfferWithdraw(OnKind, KitAct):
    done_message = _("The pack is struck out.")

    def act(self) -> None:
        offer = get_object_or_404(
            PackOffer.objects.select_related("kind__club"), kind=self.kind, pk=self.kwargs["offer"]
        )
        return withdraw_offer(offer, by=self.member)
