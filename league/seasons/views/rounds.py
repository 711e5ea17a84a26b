"""One round, its pairings, and pairing by hand."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.rulesets.queries import current_edition, rules_of
from league.seasons.forms.pairings import MarksForm, PairingsForm
from league.seasons.forms.small import NewRoundForm, RoundForm
from league.seasons.models import Pairing, Round
from league.seasons.queries.drafts import is_drafted, moved_since
from league.seasons.queries.pages import entrants_of, free_entrants, pairing_lines, tables_in_use
from league.seasons.services.marks import mark_unplayed
from league.seasons.services.pairings import pair_many, unpair
from league.seasons.services.rounds import add_round, change_round, open_play
from league.seasons.tables.pairings import PairingTable
from league.seasons.views.rows import OnPairing, OnRound, RunsSeason

__all__ = ["Mark", "OpenPlay", "PairingNew", "RoundEdit", "RoundNew", "RoundPage", "Unpair"]


class RoundPage(OnRound, TemplateView):
    template_name = "seasons/round.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        says_who_is_free = self.round.number and not is_drafted(self.round)
        return super().get_context_data(
            title=_now("%(round)s of %(season)s") % {"round": self.round, "season": self.season.name},
            table=PairingTable(
                pairing_lines(self.round.pairings.all(), self.names),
                club=self.club.slug,
                runs=self.runs,
                member=self.member is not None,
                request=self.request,
            ),
            free=[self.names[entrant.key] for entrant in free_entrants(self.round)] if says_who_is_free else [],
            is_draft=is_drafted(self.round),
            moved=[(self.names[each.entrant], each) for each in moved_since(self.round)],
            **context,
        )


class RoundNew(RunsSeason):
    form_class = NewRoundForm
    title = _("New round")
    button = _("Add the round")

    def get_initial(self) -> dict[str, Any]:
        last = self.season.rounds.order_by("-number").values_list("number", flat=True).first()
        return {"number": (last or 0) + 1}

    def serve(self, form: NewRoundForm) -> Round:
        return add_round(self.season, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        if not hasattr(self, "result"):
            return super().get_success_url()
        return self.address("round", pk=self.season.pk, number=self.result.number)


class OpenPlay(RunsSeason):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Open play")
    button = _("Allow open play")
    extra_context = {
        "question": _("Games outside the rounds: everybody may play any number of them, and all count for the table.")
    }

    def serve(self, form: forms.Form) -> Round:
        return open_play(self.season, by=self.member)

    def get_success_url(self) -> str:
        if not hasattr(self, "result"):
            return super().get_success_url()
        return self.address("round", pk=self.season.pk, number=0)


class RoundEdit(OnRound, RunsSeason):
    form_class = RoundForm
    title = _("Change a round")

    def get_initial(self) -> dict[str, Any]:
        return {"on": self.round.on, "note": self.round.note}

    def serve(self, form: RoundForm) -> Round:
        return change_round(self.round, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.address("round", pk=self.season.pk, number=self.round.number)


class PairingNew(OnRound, RunsSeason):
    """Several pairings typed on one page; all are made or none."""

    template_name = "seasons/pairings_form.html"
    form_class = PairingsForm
    title = _("Pair the round")
    button = _("Make these pairings")
    done_message = _("The pairings are made and their games planned.")

    def get_form_kwargs(self) -> dict[str, Any]:
        # What is sent may arrive twice, and then nobody of it is free any more: the service knows it again.
        sent = self.request.method == "POST"
        return {
            **super().get_form_kwargs(),
            "entrants": list(entrants_of(self.season) if sent else free_entrants(self.round)),
            "tables": list(tables_in_use(self.club)),
            "scenarios": rules_of(current_edition(self.season.ruleset)).scenarios,
        }

    def serve(self, form: PairingsForm) -> list[Pairing]:
        return pair_many(self.round, plans=form.plans(), submission=form.cleaned_data["submission"], by=self.member)

    def get_success_url(self) -> str:
        return self.address("round", pk=self.season.pk, number=self.round.number)


class Unpair(OnPairing):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Take back a pairing")
    button = _("Take it back")
    extra_context = {"question": _("Its game is cancelled. The pairing stays in the book of acts.")}

    def serve(self, form: forms.Form) -> Pairing:
        return unpair(self.pairing, by=self.member)


class Mark(OnPairing):
    form_class = MarksForm
    title = _("Who did not play")
    button = _("Save")

    def get_form_kwargs(self) -> dict[str, Any]:
        seats = self.pairing.seats.select_related("entrant").order_by("position")
        return {**super().get_form_kwargs(), "seats": list(seats)}

    def serve(self, form: MarksForm) -> Pairing:
        return mark_unplayed(self.pairing, seats=form.marks(), by=self.member)
