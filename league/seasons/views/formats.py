"""How the rounds of a season come about: its rules page, choosing it, drawing it up, what the draw looks at."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.seasons.forms.formats import FormatForm, PlaceForm, SeedingForm
from league.seasons.models import Entrant, Round, Season
from league.seasons.queries.documents import pairing_of_season
from league.seasons.queries.formats import CRITERION_WORDS, format_in_words
from league.seasons.queries.seeding import seeding_of
from league.seasons.services.formats import choose_format, draw_up_rounds
from league.seasons.services.placing import place_entrant, seed_everybody
from league.seasons.tables.seeding import SeedingTable
from league.seasons.views.rows import OnEntrant, OnSeason, RunsSeason

__all__ = ["DrawUp", "EntrantPlace", "FormatEdit", "FormatPage", "Seeding"]


class FormatPage(OnSeason, TemplateView):
    """The rules of the season's format in plain words."""

    template_name = "seasons/format.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        pairing = pairing_of_season(self.season)
        criteria = pairing.criteria if pairing.format == "swiss" else ()
        return super().get_context_data(
            title=_("How rounds come about"),
            paragraphs=format_in_words(pairing),
            criteria=[(CRITERION_WORDS[name], name in pairing.must) for name in criteria],
            **context,
        )


class FormatEdit(RunsSeason):
    template_name = "seasons/format_form.html"
    form_class = FormatForm
    title = _("How rounds come about")
    button = _("Save")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "pairing": pairing_of_season(self.season)}

    def serve(self, form: FormatForm) -> Season:
        return choose_format(self.season, pairing=form.pairing(), by=self.member)

    def get_success_url(self) -> str:
        if not self.season.entrants.exists():
            return self.address("entrant-new", pk=self.season.pk)
        return self.address("season-format", pk=self.season.pk)

    def get_cancel_url(self) -> str:
        return self.address("season-format", pk=self.season.pk)


class DrawUp(RunsSeason):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Draw up all rounds")
    button = _("Draw them up")
    done_message = _("All rounds are drawn up and everybody can see them.")
    extra_context = {
        "question": _("All rounds by the Berger tables, at once and for all to see. Nobody can enter afterwards.")
    }

    def serve(self, form: forms.Form) -> list[Round]:
        return draw_up_rounds(self.season, by=self.member)


class EntrantPlace(OnEntrant):
    form_class = PlaceForm
    title = _("What the draw looks at")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "season": self.season}

    def get_initial(self) -> dict[str, Any]:
        row = self.entrant
        return {
            "division": row.division_id,
            "seed_number": row.seed_number,
            "party": row.party,
            "is_newcomer": row.is_newcomer,
        }

    def serve(self, form: PlaceForm) -> Entrant:
        return place_entrant(self.entrant, **form.cleaned_data, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=self.entrant.name, **context)


class Seeding(RunsSeason):
    """Everybody's place in the seeding at once, beside the ratings it would go by."""

    template_name = "seasons/seeding.html"
    form_class = SeedingForm
    title = _("Seeding")
    button = _("Number it")
    done_message = _("The seeding is numbered.")

    def serve(self, form: SeedingForm) -> list[Entrant]:
        return seed_everybody(self.season, order=form.cleaned_data["order"], by=self.member)

    def get_success_url(self) -> str:
        return self.address("seeding", pk=self.season.pk)

    def get_cancel_url(self) -> str:
        return self.address("season", pk=self.season.pk)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        lines = seeding_of(self.season, today=timezone.localdate())
        return super().get_context_data(table=SeedingTable(lines, club=self.club.slug, runs=True), **context)
