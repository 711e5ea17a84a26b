"""What a newcomer needs for a first game."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.generic import TemplateView

from league.rosters.models import Roster
from league.stores.queries.first_game_page import first_game_page
from league.stores.views.rows import InStores

__all__ = ["FirstGamePage"]


class FirstGamePage(InStores, TemplateView):
    """For the roster at `pk`: what is there already, what is lent, made, and bought last; as the reader's own kit has it."""

    template_name = "stores/first_game.html"

    @cached_property
    def roster(self) -> Roster:
        rows = Roster.objects.visible_to(self.request.user).filter(club=self.club)
        return get_object_or_404(rows.select_related("ruleset", "owner", "club"), pk=self.kwargs["pk"])

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        page = first_game_page(self.roster, self.member, today=timezone.localdate())
        title = _("Kit for a game with %(roster)s") % {"roster": self.roster.name}
        return super().get_context_data(page=page, roster=self.roster, title=title, **context)
