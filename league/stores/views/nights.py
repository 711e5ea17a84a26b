"""A night's kit: what its tables need, who brings what, and what is still missing."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.clubs.models import Member
from league.stores import permissions
from league.stores.forms.nights import BudgetForm, CarryForm, PartForm, PromiseForm
from league.stores.models import Holding, Promise
from league.stores.queries import plan_for
from league.stores.queries.night_page import at_tables, has_borrowed, night_kit, packing_page
from league.stores.services.packing import remind_of_packing
from league.stores.services.parts import take_on_part
from league.stores.services.promises import (
    mark_packed,
    mark_unpacked,
    promise_to_bring,
    say_carrying,
    withdraw_promise,
)
from league.stores.views.rows import KitAct, KitForm, OnNight

__all__ = [
    "CarrySay",
    "NightKitPage",
    "PackingMine",
    "PackingPage",
    "PackingRemind",
    "PartTake",
    "PromiseNew",
    "PromisePack",
    "PromiseUnpack",
    "PromiseWithdraw",
    "TableSheets",
]


class NightKitPage(OnNight, TemplateView):
    """With `?budget=` the list of what to buy keeps within it."""

    template_name = "stores/night.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        form = BudgetForm(self.request.GET if "budget" in self.request.GET else None)
        budget = form.cleaned_data["budget"] if form.is_valid() else None
        page = night_kit(self.night, self.member, budget_pence=budget)
        title = _now("Kit of the night")
        return super().get_context_data(page=page, part=PartForm(), form_of_budget=form, title=title, **context)


class TableSheets(OnNight, TemplateView):
    """For printing: what lies on each table, and where it comes from."""

    template_name = "stores/tables.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        planned = plan_for(self.night)
        return super().get_context_data(tables=at_tables(planned), title=_now("Kit, table by table"), **context)


class PackingPage(OnNight, TemplateView):
    """What one member brings: for the member, and for those who keep the stores."""

    template_name = "stores/packing.html"

    @cached_property
    def who(self) -> Member:
        rows = Member.objects.visible_to(self.request.user).filter(club=self.club)
        return get_object_or_404(rows, pk=self.kwargs["member"])

    def allows(self) -> bool:
        return self.who == self.member or self.keeps

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        title = _now("What I bring") if self.who == self.member else _now("What %(name)s brings") % {"name": self.who}
        page = packing_page(self.night, self.who)
        return super().get_context_data(page=page, part=PartForm(), title=title, **context)


class PackingMine(OnNight, TemplateView):
    """Straight to one's own list."""

    def get(self, *args: Any, **kwargs: Any) -> HttpResponse:
        return redirect(self.path_to("packing", night=self.night.pk, member=self.member.pk))


class PackingRemind(OnNight, KitAct):
    """One press: everybody gets their list by mail."""

    def act(self) -> list[Member]:
        return remind_of_packing(self.night, by=self.member)

    @property
    def done_message(self) -> str:
        return _now("Everybody who brings something, and has an address here, was sent their list today.")


class NightForm(OnNight, KitForm):
    """A form about the night's kit; it ends on one's own list."""

    def get_success_url(self) -> str:
        return self.path_to("packing", night=self.night.pk, member=self.member.pk)

    def back_to(self) -> str:
        return OnNight.get_success_url(self)


class CarrySay(NightForm):
    form_class = CarryForm
    title = _("What can you carry?")
    button = _("Say so")
    done_message = _("The plan goes by what you can carry.")

    def act(self, form: Any) -> Any:
        return say_carrying(self.night, room=form.cleaned_data["room"], by=self.member)


class PartTake(NightForm):
    form_class = PartForm
    title = _("Bring what the plan asks of you?")
    button = _("I bring all of it")
    done_message = _("Promised. The plan counts on it.")

    def act(self, form: Any) -> list[Promise]:
        return take_on_part(self.night, submission=form.cleaned_data["submission"], by=self.member)


class PromiseNew(NightForm):
    """So many of one holding, because I say so: more or fewer than the plan asks, or something it does not know."""

    form_class = PromiseForm
    title = _("How many do you bring?")
    button = _("I bring them")
    done_message = _("Promised. The plan counts on it.")

    @cached_property
    def holding(self) -> Holding:
        rows = Holding.objects.visible_to(self.request.user).filter(club=self.club)
        return get_object_or_404(rows.select_related("club", "kind", "owner"), pk=self.kwargs["holding"])

    def allows(self) -> bool:
        borrowed = has_borrowed(self.holding, self.member)
        return permissions.can_promise(self.member, self.holding, self.member, has_borrowed=borrowed)

    def get_initial(self) -> dict[str, Any]:
        return {"count": self.request.GET.get("count", 1)}

    def act(self, form: Any) -> Promise:
        return promise_to_bring(self.holding, night=self.night, **form.cleaned_data, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=self.holding.kind.name, **context)


class PromisePress(OnNight, KitAct):
    """A press on a promise of the night; it leads back to the list it stands on."""

    @cached_property
    def promise(self) -> Promise:
        rows = Promise.objects.filter(night=self.night, holding__in=Holding.objects.visible_to(self.request.user))
        return get_object_or_404(rows.select_related("holding__club"), pk=self.kwargs["pk"])

    def get_success_url(self) -> str:
        return self.path_to("packing", night=self.night.pk, member=self.promise.member_id)


class PromisePack(PromisePress):
    done_message = _("Packed.")

    def act(self) -> Promise:
        return mark_packed(self.promise, by=self.member)


class PromiseUnpack(PromisePress):
    done_message = _("Out of the bag again.")

    def act(self) -> Promise:
        return mark_unpacked(self.promise, by=self.member)


class PromiseWithdraw(PromisePress):
    done_message = _("Taken back. The plan goes on without it.")

    def act(self) -> Promise:
        return withdraw_promise(self.promise, by=self.member)
