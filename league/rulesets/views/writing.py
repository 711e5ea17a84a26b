"""Describing a ruleset, changing it section by section or whole, retiring it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.scope import InClub
from league.errors import Refused
from league.rulesets.forms.documents import DocumentForm, NewRulesetForm
from league.rulesets.forms.sections import SECTIONS, SectionForm
from league.rulesets.models import Edition, Ruleset
from league.rulesets.permissions import can_write_rules
from league.rulesets.queries import current_edition, rules_of
from league.rulesets.services.rulesets import bring_back_ruleset, create_ruleset, retire_ruleset, revise_ruleset
from league.rulesets.views.rows import WriteRules
from league.web import ServiceFormView

__all__ = ["RulesetBringBack", "RulesetDocument", "RulesetEdit", "RulesetNew", "RulesetRetire"]

NOTHING_CHANGED = gettext_lazy("Nothing was changed, so the edition stays.")


class RulesetNew(InClub, ServiceFormView):
    template_name = "form_page.html"
    form_class = NewRulesetForm
    title = gettext_lazy("Describe a ruleset")
    button = gettext_lazy("Make the ruleset")
    done_message = gettext_lazy("The ruleset is there. Change it section by section until it is yours.")

    def allows(self) -> bool:
        return can_write_rules(self.member)

    def act(self, form: forms.BaseForm) -> Ruleset:
        return create_ruleset(self.club, document=form.document(), by=self.member)

    def get_success_url(self) -> str:
        return reverse("ruleset", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_cancel_url(self) -> str:
        return reverse("rulesets", kwargs={"club": self.club.slug})


class RulesetEdit(WriteRules):
    """One section. Every save makes the next edition of the whole."""

    template_name = "rulesets/section.html"
    done_message = gettext_lazy("The next edition is made.")
    button = gettext_lazy("Make the next edition")

    def get_form_class(self) -> type[SectionForm]:
        try:
            return SECTIONS[self.kwargs["section"]]
        except KeyError as missing:
            raise Http404 from missing

    @cached_property
    def edition(self) -> Edition:
        return current_edition(self.ruleset)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "rules": rules_of(self.edition), "number": self.edition.number}

    def act(self, form: SectionForm) -> Edition:
        said = form.cleaned_data
        return revise_ruleset(
            self.ruleset, document=form.document(), note=said["note"], number=said["number"], by=self.member
        )

    def form_valid(self, form: SectionForm) -> HttpResponse:
        try:
            self.result = self.act(form)
        except Refused as refusal:
            form.show_refusal(refusal)
            return self.form_invalid(form)
        messages.success(
            self.request, self.done_message if self.result.number > form.cleaned_data["number"] else NOTHING_CHANGED
        )
        return redirect(self.get_success_url())

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        form_class = self.get_form_class()
        title = _("%(ruleset)s: %(section)s") % {"ruleset": self.ruleset.name, "section": form_class.title}
        return {
            **super().get_context_data(**context),
            "title": title,
            "intro": form_class.intro,
            "edition": self.edition,
        }


class RulesetDocument(WriteRules):
    form_class = DocumentForm
    title = gettext_lazy("Put a whole file in its place")
    button = gettext_lazy("Make the next edition")
    done_message = gettext_lazy("The next edition is made.")
    extra_context = {
        "intro": gettext_lazy("The file becomes the next edition. Games and rosters on the table keep theirs.")
    }

    def get_initial(self) -> dict[str, Any]:
        return {"number": current_edition(self.ruleset).number}

    def act(self, form: forms.BaseForm) -> Edition:
        said = form.cleaned_data
        return revise_ruleset(
            self.ruleset, document=form.document_given(), note=said["note"], number=said["number"], by=self.member
        )


class RulesetRetire(WriteRules):
    template_name = "confirm.html"
    form_class = forms.Form
    title = gettext_lazy("Retire this ruleset?")
    button = gettext_lazy("Retire it")
    done_message = gettext_lazy("The ruleset is retired.")
    extra_context = {
        "question": gettext_lazy(
            "No new games, rosters or seasons are begun by it. Everything there is stays, and it can be brought back."
        )
    }

    def act(self, form: forms.BaseForm) -> Ruleset:
        return retire_ruleset(self.ruleset, by=self.member)


class RulesetBringBack(WriteRules):
    template_name = "confirm.html"
    form_class = forms.Form
    title = gettext_lazy("Bring this ruleset back?")
    button = gettext_lazy("Bring it back")
    done_message = gettext_lazy("The ruleset is in use again.")

    def act(self, form: forms.BaseForm) -> Ruleset:
        return bring_back_ruleset(self.ruleset, by=self.member)
