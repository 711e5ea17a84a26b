"""A season as a file: out and in."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.text import slugify
from django.utils.translation import gettext_lazy as _
from django.views.generic import View

from league.clubs.scope import InClub
from league.rulesets.queries import rulesets_of
from league.seasons import permissions
from league.seasons.forms.small import ImportForm
from league.seasons.models import Season
from league.seasons.queries import season_file
from league.seasons.services.imports import import_season
from league.seasons.views.rows import OnSeason
from league.web import ServiceFormView

__all__ = ["SeasonFile", "SeasonImport"]


class SeasonFile(OnSeason, View):
    """Names every player, so it is not one of the public pages."""

    is_open = False

    def allows(self) -> bool:
        return permissions.can_download(self.member, self.season)

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        name = slugify(self.season.name) or f"season-{self.season.pk}"
        return HttpResponse(
            season_file(self.season, reader=self.member),
            content_type="application/json",
            headers={"Content-Disposition": f'attachment; filename="{name}.json"'},
        )


class SeasonImport(InClub, ServiceFormView):
    template_name = "form_page.html"
    form_class = ImportForm
    title = _("Season from a file")
    button = _("Take it in")
    done_message = _("The season is taken in.")
    extra_context = {
        "intro": _("Players are found among the club's people by exact name; who is not found becomes a guest.")
    }

    def allows(self) -> bool:
        return permissions.can_start_season(self.member)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "rulesets": rulesets_of(self.club, with_retired=False)}

    def act(self, form: ImportForm) -> Season:
        return import_season(self.club, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return reverse("season", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_cancel_url(self) -> str:
        return reverse("seasons", kwargs={"club": self.club.slug})
