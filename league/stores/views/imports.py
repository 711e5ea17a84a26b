"""Kit from a list: shown as it was read, written once it is confirmed; and one's own kit as a list."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.utils.translation import gettext_lazy as _
from django.views.generic import View

from league.stores.forms.imports import KitListForm
from league.stores.models import Holding
from league.stores.queries.holdings_page import owners_for
from league.stores.queries.kit_lists import KitPreview, kit_as_csv, preview_of, read_kit
from league.stores.services.imports import import_kit
from league.stores.views.rows import InStores, KitForm

__all__ = ["KitFile", "KitImport"]


class KitImport(KitForm):
    form_class = KitListForm
    template_name = "stores/import.html"
    title = _("Kit from a list")
    done_message = _("Everything on the list is written down.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"owners": owners_for(self.member), "me": self.member, **super().get_form_kwargs()}

    def get_initial(self) -> dict[str, Any]:
        return {"owner": self.member.pk}

    def form_valid(self, form: KitListForm) -> HttpResponse:
        preview = self.preview(form)
        if "write" in self.request.POST and form.is_confirmed(preview):
            return super().form_valid(form)
        return self.show(form, preview, status=422 if preview.bad_lines else 200)

    def form_invalid(self, form: KitListForm) -> HttpResponse:
        if form.cleaned_data.get("text"):
            return self.show(form, self.preview(form), status=422)
        return super().form_invalid(form)

    def preview(self, form: KitListForm) -> KitPreview:
        return preview_of(read_kit(self.club, form.cleaned_data["text"]), self.club, form.owner_chosen)

    def show(self, form: KitListForm, preview: KitPreview, status: int) -> HttpResponse:
        form.as_preview()
        return self.render_to_response(self.get_context_data(form=form, preview=preview), status=status)

    def act(self, form: KitListForm) -> list[Holding]:
        parsed = read_kit(self.club, form.cleaned_data["text"])
        return import_kit(
            self.club,
            pieces=parsed.pieces,
            owner=form.owner_chosen,
            submission=form.cleaned_data["submission"],
            by=self.member,
        )

    def back_to(self) -> str:
        return self.path_to("kit")

    def get_success_url(self) -> str:
        owners = {holding.owner_id for holding in self.result}
        return self.path_to("my-kit" if owners == {self.member.pk} else "club-kit")


class KitFile(InStores, View):
    """One's own kit, in the form in which a list is taken in."""

    def get(self, *args: Any, **kwargs: Any) -> HttpResponse:
        text = kit_as_csv(self.club, self.member, self.request.user)
        answer = HttpResponse(text, content_type="text/csv; charset=utf-8")
        answer["Content-Disposition"] = 'attachment; filename="kit-list.csv"'
        return answer
