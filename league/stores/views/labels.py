"""Labels to print and stick on, and the count that a phone's camera opens from one."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.forms import Form
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.clubs.models import Member
from league.stores.forms.counts import CountForm
from league.stores.models import ShelfCount
from league.stores.queries.labels_page import Label, Shelf, labels_of, shelf_of
from league.stores.services.counts import count_shelf
from league.stores.views.rows import InStores, KitForm

__all__ = ["CountPage", "LabelsPage"]

CLUBS_OWN = "club"


class LabelsPage(InStores, TemplateView):
    """Mine, or with `?whose=` the club's or another's; with `?label=` one alone."""

    template_name = "stores/labels.html"

    @cached_property
    def labels(self) -> list[Label]:
        whose, code = self.request.GET.get("whose", ""), self.request.GET.get("label", "")
        if code:
            return labels_of(self.club, self.request.user, code=code)
        if whose == CLUBS_OWN:
            return labels_of(self.club, self.request.user, is_clubs=True)
        owner = self.member
        if whose.isdecimal():
            owner = get_object_or_404(Member.objects.visible_to(self.request.user), club=self.club, pk=int(whose))
        return labels_of(self.club, self.request.user, owner=owner)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        tags = [
            (label, self.request.build_absolute_uri(self.path_to("count", label=label.code))) for label in self.labels
        ]
        return super().get_context_data(tags=tags, title=_now("Labels"), **context)


class CountPage(KitForm):
    """What lies under the label, and how many of it somebody counted."""

    form_class = CountForm
    template_name = "stores/count.html"
    button = _("Write the count down")
    done_message = _("The count is written down.")

    @cached_property
    def shelf(self) -> Shelf:
        shelf = shelf_of(self.club, self.kwargs["label"], self.member, self.request.user)
        if shelf is None:
            raise Http404
        return shelf

    def allows(self) -> bool:
        """Everybody reads what lies there; the shelf of a member is that member's to count."""
        return self.request.method != "POST" or self.shelf.may_count

    @property
    def title(self) -> str:
        return _now("Count what lies here") if self.shelf.may_count else _now("What lies here")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"lines": self.shelf.lines, **super().get_form_kwargs()}

    def act(self, form: Form) -> ShelfCount:
        said = form.cleaned_data
        return count_shelf(
            self.club,
            label=self.shelf.label.code,
            counted=form.counted(),
            reason=said["reason"],
            submission=said["submission"],
            by=self.member,
        )

    def get_success_url(self) -> str:
        return self.path_to("count", label=self.shelf.label.code)

    def back_to(self) -> str:
        return self.path_to("kit")

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(shelf=self.shelf, **context)
