"""The picture of a holding: adding it, looking at it, taking it away."""

from __future__ import annotations

from typing import Any

from django.forms import Form
from django.http import FileResponse, Http404, HttpRequest
from django.utils.translation import gettext_lazy as _
from django.views.generic import View

from league.battles.views.rows import placed
from league.stores.forms.holdings import PhotoForm
from league.stores.models import Holding
from league.stores.services.photos import photograph_holding, remove_holding_photo
from league.stores.views.holdings import KeepHolding
from league.stores.views.rows import OnHolding
from league.web import picture_response

__all__ = ["HoldingPhoto", "HoldingPhotoNew", "HoldingPhotoRemove"]


class HoldingPhoto(OnHolding, View):
    """The picture itself, for those who may see the holding."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> FileResponse:
        if not self.holding.photo:
            raise Http404
        return picture_response(self.holding.photo, filename=f"kit-{self.holding.pk}.jpg")


class HoldingPhotoNew(KeepHolding):
    form_class = PhotoForm
    title = _("Add a photo")
    button = _("Add the photo")
    done_message = _("The photo is added.")

    def act(self, form: Form) -> Holding:
        return placed(
            lambda: photograph_holding(self.holding, **form.cleaned_data, by=self.member), lambda field: field or "file"
        )


class HoldingPhotoRemove(KeepHolding):
    form_class = Form
    template_name = "confirm.html"
    title = _("Take the photo away?")
    button = _("Take it away")
    done_message = _("The photo is gone.")
    extra_context = {"question": _("The picture is deleted for good.")}

    def act(self, form: Form) -> Holding:
        return remove_holding_photo(self.holding, by=self.member)
