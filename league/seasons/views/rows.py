"""How the pages of this room reach their rows."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.urls import reverse

from league.clubs.scope import InClub
from league.errors import Refused, Violation
from league.seasons import permissions
from league.seasons.models import Entrant, Pairing, Round, Season
from league.seasons.queries import entrant_names
from league.web import ServiceFormView

__all__ = ["OnEntrant", "OnPairing", "OnRound", "OnSeason", "PlacedForm", "RunsSeason"]


class OnSeason(InClub):
    """A page about the season at `pk`; visitors of a club with public pages may read it."""

    is_open = True
    kwargs: dict[str, Any]
    request: HttpRequest

    @cached_property
    def season(self) -> Season:
        seasons = Season.objects.visible_to(self.request.user).filter(club=self.club)
        found: Season = get_object_or_404(seasons.select_related("club", "ruleset"), pk=self.kwargs["pk"])
        return found

    @property
    def runs(self) -> bool:
        """Whether the reader can change the season."""
        return permissions.can_run_season(self.member, self.season) and self.season.closed_at is None

    @cached_property
    def names(self) -> dict[str, str]:
        return entrant_names(self.season, self.member)

    def address(self, name: str, **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club.slug, **kwargs})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"season": self.season, "runs": self.runs, **context})


class PlacedForm(ServiceFormView):
    """A form that knows, by `place_of`, at which of its fields a violation belongs."""

    template_name = "form_page.html"

    def act(self, form: Any) -> Any:
        """Call the service; every violation comes back with the name of a field of the form, or none."""
        try:
            return self.serve(form)
        except Refused as refusal:
            if hasattr(form, "place_of"):
                refusal.violations = tuple(
                    Violation(each.message, form.place_of(each.field), each.code) for each in refusal.violations
                )
            raise

    def serve(self, form: Any) -> Any:
        """Call the one service; its result is kept as `self.result`."""
        raise NotImplementedError


class RunsSeason(OnSeason, PlacedForm):
    """A form by which an organiser changes the season."""

    is_open = False

    def allows(self) -> bool:
        return permissions.can_run_season(self.member, self.season)

    def get_success_url(self) -> str:
        return self.address("season", pk=self.season.pk)

    def get_cancel_url(self) -> str:
        return self.get_success_url()


class OnEntrant(RunsSeason):
    @cached_property
    def entrant(self) -> Entrant:
        return get_object_or_404(self.season.entrants.select_related("season__club"), key=self.kwargs["entrant"])


class OnRound(OnSeason):
    @cached_property
    def round(self) -> Round:
        return get_object_or_404(self.season.rounds.select_related("season__club"), number=self.kwargs["number"])

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"round": self.round, **context})


class OnPairing(OnRound, RunsSeason):
    @cached_property
    def pairing(self) -> Pairing:
        pairings = self.round.pairings.filter(removed_at=None).select_related("round__season__club", "game")
        return get_object_or_404(pairings, key=self.kwargs["pairing"])

    def get_success_url(self) -> str:
        return self.address("round", pk=self.season.pk, number=self.round.number)
