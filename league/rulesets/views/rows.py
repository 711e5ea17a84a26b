"""What the ruleset pages share: the ruleset the address names, and who may write it."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from django.urls import reverse

from league.clubs.scope import InClub
from league.rulesets.models import Ruleset
from league.rulesets.permissions import can_write_rules
from league.web import ServiceFormView

__all__ = ["OnRuleset", "WriteRules"]


class OnRuleset(InClub):
    """Gives `self.ruleset`."""

    ruleset: Ruleset

    def allows(self) -> bool:
        rows = Ruleset.objects.visible_to(self.request.user).select_related("club")
        self.ruleset = get_object_or_404(rows, club=self.club, pk=self.kwargs["pk"])
        return super().allows()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {
            "ruleset": self.ruleset,
            "may_write": can_write_rules(self.member),
            **super().get_context_data(**context),
        }

    def address(self, name: str = "ruleset", **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club.slug, "pk": self.ruleset.pk, **kwargs})


class WriteRules(OnRuleset, ServiceFormView):
    """A form that changes one ruleset."""

    template_name = "form_page.html"

    def allows(self) -> bool:
        return super().allows() and can_write_rules(self.member)

    def get_success_url(self) -> str:
        return self.address()

    def get_cancel_url(self) -> str:
        return self.address()
