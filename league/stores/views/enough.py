"""How many markers or dice are enough for so many tables at once."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _
from django.views.generic import TemplateView

from league.stores.forms.enough import EnoughForm
from league.stores.queries.enough_page import enough_page
from league.stores.views.rows import InStores

__all__ = ["EnoughPage"]

USUALLY = {"what": "markers", "tables": 6, "percent": 95}


class EnoughPage(InStores, TemplateView):
    template_name = "stores/enough.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        asked = self.request.GET
        form = EnoughForm({**USUALLY, **{name: asked[name] for name in USUALLY if name in asked}})
        page = enough_page(self.club, **form.cleaned_data) if form.is_valid() else None
        return super().get_context_data(form=form, page=page, title=_("How many are enough?"), **context)
