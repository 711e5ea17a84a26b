"""Games that players arrange themselves, and the ladder."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from league.seasons import permissions
from league.seasons.forms.drafts import ChallengeForm
from league.seasons.models import Pairing, Season
from league.seasons.queries.ladders import rungs_of
from league.seasons.services.challenges import arrange_game
from league.seasons.tables.ladders import LadderTable
from league.seasons.views.rows import OnSeason, PlacedForm
from league.web import TablePage

__all__ = ["Challenge", "LadderPage"]


class LadderPage(OnSeason, TablePage):
    table_class = LadderTable
    template_name = "seasons/ladder.html"
    title = _("Ladder")
    csv_name = "ladder"

    def get_table_data(self) -> Any:
        return rungs_of(self.season) if self.season.format == Season.Format.LADDER else ()

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club.slug, "names": self.names}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        may = self.season.closed_at is None and permissions.can_arrange(self.member, self.season)
        return super().get_context_data(may_arrange=may, **context)


class Challenge(OnSeason, PlacedForm):
    """A player's own game in an open season, or a challenge on a ladder."""

    is_open = False
    form_class = ChallengeForm
    title = _("Arrange a game")
    button = _("Arrange it")
    done_message = _("The game is planned.")

    def allows(self) -> bool:
        return permissions.can_arrange(self.member, self.season)

    def get_form_kwargs(self) -> dict[str, Any]:
        present = list(self.season.entrants.filter(left_at=None).prefetch_related("players").order_by("name", "pk"))
        own = [row for row in present if permissions.can_arrange(self.member, self.season, [row])]
        return {**super().get_form_kwargs(), "own": own, "others": present}

    def get_initial(self) -> dict[str, Any]:
        return {"on": timezone.localdate()}

    def serve(self, form: ChallengeForm) -> Pairing:
        data = form.cleaned_data
        return arrange_game(
            self.season,
            entrant_ids=[data["first"], data["second"]],
            on=data["on"],
            submission=data["submission"],
            by=self.member,
        )

    def get_success_url(self) -> str:
        if not hasattr(self, "result"):
            return self.address("season", pk=self.season.pk)
        return self.address("game", pk=self.result.game_id)

    def get_cancel_url(self) -> str:
        return self.address("season", pk=self.season.pk)
