"""A round before it is published: its draft, what is fixed in it, and publishing it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django import forms
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.errors import Refused
from league.seasons.forms.drafts import BYE, PinForm, PostponeForm, PublishForm
from league.seasons.models import Pairing, Pin, Round, Season
from league.seasons.queries.documents import pairing_of_season
from league.seasons.queries.drafts import RoundDraft, draft_of
from league.seasons.queries.pages import free_entrants, tables_in_use
from league.seasons.services.drafts import publish_round
from league.seasons.services.pins import pin_bye, pin_pairing, pin_table, unpin
from league.seasons.services.postponements import postpone
from league.seasons.tables.drafts import DraftTable, PinTable
from league.seasons.views.rows import OnPairing, OnRound, RunsSeason

__all__ = ["DraftPage", "PinNew", "PinRemove", "Postpone"]


class DraftPage(OnRound, RunsSeason):
    """The draft with its reasons, and the one button that makes it everybody's."""

    template_name = "seasons/draft.html"
    form_class = PublishForm
    done_message = _("The round is published. Everybody can see it.")

    @cached_property
    def draft(self) -> RoundDraft:
        return draft_of(self.round)

    def serve(self, form: PublishForm) -> Round:
        return publish_round(self.round, seen=form.cleaned_data["seen"], by=self.member)

    def act(self, form: PublishForm) -> Round:
        try:
            made: Round = super().act(form)
        except Refused as refusal:
            self.refused = refusal.status
            raise
        return made

    def form_invalid(self, form: forms.BaseForm) -> HttpResponse:
        response = super().form_invalid(form)
        response.status_code = getattr(self, "refused", response.status_code)
        return response

    def get_success_url(self) -> str:
        return self.address("round", pk=self.season.pk, number=self.round.number)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        self.round.refresh_from_db()
        titles = dict(self.season.divisions.values_list("key", "name"))
        shown = RoundDraft(round=self.round) if self.round.published_at else self.draft
        return super().get_context_data(
            title=_now("Draft of %(round)s") % {"round": self.round},
            draft=shown,
            table=DraftTable(shown.lines, club=self.club.slug, titles=titles, request=self.request),
            pins=PinTable(shown.pins, club=self.club.slug, request=self.request),
            can_pin=self.round.published_at is None,
            planned=pairing_of_season(self.season).rounds if self.season.format == Season.Format.SWISS else None,
            **context,
        )


class PinNew(OnRound, RunsSeason):
    form_class = PinForm
    title = _("Fix a part of the draft")
    button = _("Fix it")
    extra_context = {"intro": _("The rest of the round is paired around it.")}

    def get_form_kwargs(self) -> dict[str, Any]:
        return {
            **super().get_form_kwargs(),
            "entrants": list(free_entrants(self.round)),
            "tables": list(tables_in_use(self.club)),
            "sides": pairing_of_season(self.season).sides if self.season.format == Season.Format.SWISS else 0,
        }

    def serve(self, form: PinForm) -> Pin:
        first, second, table = form.cleaned_data["first"], form.cleaned_data["second"], form.chosen_table
        if second == BYE:
            return pin_bye(self.round, entrant_id=first, by=self.member)
        if second.isdigit():
            return pin_pairing(self.round, entrant_ids=[first, int(second)], table=table, by=self.member)
        assert table is not None, "the form asks for a table"
        return pin_table(self.round, entrant_id=first, table=table, by=self.member)

    def get_success_url(self) -> str:
        return self.address("round-draft", pk=self.season.pk, number=self.round.number)


class PinRemove(OnRound, RunsSeason):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Take out what was fixed")
    button = _("Take it out")

    @cached_property
    def pin(self) -> Pin:
        return get_object_or_404(self.round.pins.select_related("round__season__club"), pk=self.kwargs["pin"])

    def serve(self, form: forms.Form) -> Pin:
        return unpin(self.pin, by=self.member)

    def get_success_url(self) -> str:
        return self.address("round-draft", pk=self.season.pk, number=self.round.number)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        seats = self.pin.seats.select_related("entrant").order_by("position")
        question = ", ".join(seat.entrant.name for seat in seats)
        return super().get_context_data(question=question, **context)


class Postpone(OnPairing):
    form_class = PostponeForm
    title = _("Postpone a game")
    button = _("Postpone it")
    done_message = _("The game is postponed. The next round can be paired meanwhile.")

    def serve(self, form: PostponeForm) -> Pairing:
        return postpone(self.pairing, until=form.cleaned_data["until"], by=self.member)
