from __future__ import annotations

from datetime import date

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _

from league.battles.models import GameState
from league.home.queries import PlayerResult
from league.templatetags.club import short_day
from league.web import Table

__all__ = ["ResultTable"]

OUTCOMES = {"win": _("won"), "draw": _("drawn"), "loss": _("lost")}


class ResultTable(Table):
    """A player's games, told from the player's side. Links lead on only for club mates."""

    on = tables.DateColumn(verbose_name=_("date"))
    opponents = tables.Column(verbose_name=_("against"))
    scenario = tables.Column(verbose_name=_("scenario"))
    score = tables.Column(verbose_name=_("score"), orderable=False)
    outcome = tables.Column(verbose_name=_("result"))
    state = tables.Column(verbose_name=_("state"))

    class Meta(Table.Meta):
        empty_text = _("No games yet.")
        order_by = "-on"

    def __init__(self, *args: object, club: str, linked: bool, **options: object) -> None:
        self.club = club
        self.linked = linked
        super().__init__(*args, **options)

    def render_on(self, record: PlayerResult, value: date) -> SafeString:
        shown = short_day(value)
        if not self.linked:
            return shown
        address = reverse("game", kwargs={"club": self.club, "pk": record.game_id})
        return format_html('<a href="{}">{}</a>', address, shown)

    def render_outcome(self, value: str) -> object:
        return OUTCOMES.get(value, "")

    def render_state(self, value: str) -> SafeString:
        return format_html('<span class="badge" data-state="{}">{}</span>', value, GameState(value).label)

    def value_state(self, value: str) -> str:
        return str(GameState(value).label)
