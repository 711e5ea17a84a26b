"""What the roster pages share: the roster the address names, and who may change it."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from django.urls import reverse

from league.clubs.scope import InClub
from league.rosters.models import Roster, Unit
from league.rosters.permissions import can_change_roster, can_copy_roster, can_retire_roster
from league.web import ServiceFormView

__all__ = ["ChangeRoster", "OnRoster", "OnUnit"]


class OnRoster(InClub):
    """Gives `self.roster`, where this person may see it."""

    roster: Roster

    def allows(self) -> bool:
        rows = Roster.objects.visible_to(self.request.user).select_related("club", "owner", "ruleset", "copied_from")
        self.roster = get_object_or_404(rows, club=self.club, pk=self.kwargs["pk"])
        return super().allows()

    def address(self, name: str = "roster", **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club.slug, "pk": self.roster.pk, **kwargs})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {
            "roster": self.roster,
            "may_change": can_change_roster(self.member, self.roster),
            "may_retire": can_retire_roster(self.member, self.roster),
            "may_copy": can_copy_roster(self.member, self.club),
            **super().get_context_data(**context),
        }


class ChangeRoster(OnRoster, ServiceFormView):
    """A form that changes one roster."""

    template_name = "form_page.html"

    def allows(self) -> bool:
        return super().allows() and can_change_roster(self.member, self.roster)

    def get_success_url(self) -> str:
        return self.address()

    def get_cancel_url(self) -> str:
        return self.address()


class OnUnit(ChangeRoster):
    """Gives `self.unit`, a unit of the roster that is not removed."""

    unit: Unit

    def allows(self) -> bool:
        allowed = super().allows()
        rows = Unit.objects.filter(roster=self.roster, removed_at=None).select_related("roster__club")
        self.unit = get_object_or_404(rows, pk=self.kwargs["unit"])
        return allowed
