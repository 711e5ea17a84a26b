"""Adding a photo, looking at it, taking it away."""

from __future__ import annotations

from typing import Any

from django.forms import Form
from django.http import FileResponse, HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.generic import View

from league.battles import permissions
from league.battles.forms.small import PhotoForm
from league.battles.models import Photo
from league.battles.services.photos import add_photo, remove_photo
from league.battles.views.rows import OnGame, OnPhoto, placed
from league.web import ServiceFormView, picture_response

__all__ = ["PhotoFile", "PhotoNew", "PhotoRemove", "photo_response"]


class PhotoNew(OnGame, ServiceFormView):
    template_name = "battles/photo_form.html"
    form_class = PhotoForm
    title = _("Add a photo")
    button = _("Add the photo")
    done_message = _("The photo is added.")

    def allows(self) -> bool:
        return permissions.can_add_photo(self.member, self.game)

    def act(self, form: PhotoForm) -> Photo:
        return placed(lambda: add_photo(self.game, by=self.member, **form.cleaned_data), lambda field: field or "file")

    def get_success_url(self) -> str:
        return f"{self.address()}#photos"

    def get_cancel_url(self) -> str:
        return self.address()


class PhotoFile(OnPhoto, View):
    """The picture itself, for those who may see its game."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> FileResponse:
        return photo_response(self.photo)


def photo_response(photo: Photo) -> FileResponse:
    """The picture of a game; raises Http404 when it is no longer where the club keeps its photos."""
    return picture_response(photo.file, filename=f"game-{photo.game_id}-photo-{photo.pk}.jpg")


class PhotoRemove(OnPhoto, ServiceFormView):
    template_name = "confirm.html"
    form_class = Form
    title = _("Take the photo away?")
    question = _("The picture is deleted for good.")
    button = _("Take it away")
    done_message = _("The photo is gone.")

    def allows(self) -> bool:
        return permissions.can_remove_photo(self.member, self.game, self.photo)

    def act(self, form: Form) -> None:
        remove_photo(self.photo, by=self.member)

    def get_success_url(self) -> str:
        return reverse("game", kwargs={"club": self.club.slug, "pk": self.game.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(question=self.question, **context)

    def get_cancel_url(self) -> str:
        return self.get_success_url()
