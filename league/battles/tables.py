"""Lists of games."""

from __future__ import annotations

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _

from league.battles.models import Game, GameState
from league.battles.queries.games import line_of
from league.templatetags.club import badge
from league.web import Table

__all__ = ["GameTable"]


class GameTable(Table):
    """Games read by `with_lines`; sorted and paged in the database."""

    on = tables.DateColumn(verbose_name=_("Date"), order_by=("on", "pk"))
    sides = tables.Column(verbose_name=_("Sides"), empty_values=(), orderable=False)
    scenario = tables.Column(verbose_name=_("Scenario"), orderable=False)
    ruleset = tables.Column(verbose_name=_("Ruleset"), accessor="edition__ruleset__name")
    table = tables.Column(verbose_name=_("Table"), accessor="table__number")
    state = tables.Column(verbose_name=_("State"))

    class Meta(Table.Meta):
        empty_text = _("No games yet. Log the first one.")
        order_by = "-on"

    def __init__(self, *args: object, club: str, **options: object) -> None:
        self.club = club
        super().__init__(*args, **options)

    def render_sides(self, record: Game) -> SafeString:
        address = reverse("game", kwargs={"club": self.club, "pk": record.pk})
        return format_html('<a href="{}">{}</a>', address, line_of(record).title)

    def value_sides(self, record: Game) -> str:
        return line_of(record).title

    def render_scenario(self, record: Game) -> str:
        return line_of(record).scenario

    def render_state(self, value: str) -> SafeString:
        return badge(value, str(GameState(value).label))

    def value_state(self, value: str) -> str:
        return str(GameState(value).label)
