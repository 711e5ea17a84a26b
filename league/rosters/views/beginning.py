"""What the pages that begin a roster share: the ruleset it is written by, and for whom it may be."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from league.clubs.scope import InClub
from league.engines.rulesets import Ruleset as Rules
from league.rosters.forms.rosters import ChooseRulesetForm
from league.rosters.queries.choices import owners_for, rulesets_in_use
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition, rules_of

__all__ = ["WithRuleset"]


class WithRuleset(InClub):
    """For pages that begin a roster: gives `self.ruleset`, and asks for it where the club has several."""

    ruleset: Ruleset

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        return self.choose() or super().get(request, *args, **kwargs)  # type: ignore[misc]

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        return self.choose() or super().post(request, *args, **kwargs)  # type: ignore[misc]

    def choose(self) -> HttpResponse | None:
        """Find the ruleset; None, or the page that asks for it."""
        rulesets = rulesets_in_use(self.club)
        chosen = self.request.GET.get("ruleset", "")
        if chosen.isascii() and chosen.isdigit():
            self.ruleset = get_object_or_404(rulesets, pk=int(chosen[:18]))
            return None
        if len(rulesets) == 1:
            self.ruleset = rulesets[0]
            return None
        context = {
            "club": self.club,
            "me": self.member,
            "title": self.title,
            "form": ChooseRulesetForm(rulesets=rulesets) if rulesets else None,
        }
        return render(self.request, "rosters/choose_ruleset.html", context)

    @cached_property
    def rules(self) -> Rules:
        return rules_of(current_edition(self.ruleset))

    def get_form_kwargs(self) -> dict[str, Any]:
        return {
            **super().get_form_kwargs(),  # type: ignore[misc]
            "rules": self.rules,
            "owners": owners_for(self.member),
            "me": self.member,
        }

    def get_success_url(self) -> str:
        return reverse("roster", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {
            "ruleset": self.ruleset,
            **super().get_context_data(**context),
        }

    def get_cancel_url(self) -> str:
        return reverse("rosters", kwargs={"club": self.club.slug})
