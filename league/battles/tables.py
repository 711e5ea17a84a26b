"""Lists of games."""

from __future__ import annotations

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.battles.models import Game, GameState
from league.battles.queries.balance import BalanceLine
from league.battles.queries.games import line_of
from league.engines.balance import Interval
from league.templatetags.club import badge
from league.web import Figures, Table

__all__ = ["BalanceTable", "FactionBalanceTable", "GameTable", "TableBalanceTable"]

FINDINGS = {
    "few": _("too few games to say"),
    "even": _("even odds are possible"),
    "players": _("uneven, but the players' strength may be why"),
}


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


def hundredths(share: float) -> str:
    return _now("%(share)s %%") % {"share": round(100 * share)}


def with_interval(share: float, interval: Interval) -> str:
    return f"{hundredths(share)} ({round(100 * interval.low)}\N{EN DASH}{round(100 * interval.high)})"


class BalanceTable(Table):
    """Scenarios: the share of the first side, as counted and between players equally strong, each with its interval."""

    name = tables.Column(verbose_name=_("Scenario"))
    side = tables.Column(verbose_name=_("Side"))
    games = Figures(verbose_name=_("Games"))
    record = Figures(verbose_name=_("Won, drawn, lost"), empty_values=(), orderable=False)
    share = tables.Column(verbose_name=_("Share"))
    fair_share = tables.Column(verbose_name=_("Between equals"))
    finding = tables.Column(verbose_name=_("What it says"), orderable=False)
    ruleset = tables.Column(verbose_name=_("Ruleset"))

    class Meta(Table.Meta):
        empty_text = _("No game with sides of a scenario has been reported yet.")

    def render_record(self, record: BalanceLine) -> str:
        return f"{record.wins}\N{EN DASH}{record.draws}\N{EN DASH}{record.losses}"

    def render_share(self, record: BalanceLine) -> str:
        return with_interval(record.share, record.interval)

    def render_fair_share(self, record: BalanceLine) -> str:
        return with_interval(record.fair_share, record.fair_interval)

    def render_finding(self, record: BalanceLine) -> str:
        if record.finding != "uneven":
            return str(FINDINGS[record.finding])
        return self.words_for_uneven(record)

    def words_for_uneven(self, record: BalanceLine) -> str:
        """Which side has it easier."""
        if record.favours_side:
            return _now("favours %(side)s") % {"side": record.side}
        return _now("against %(side)s") % {"side": record.side}


class FactionBalanceTable(BalanceTable):
    """Each faction against each other one."""

    side = tables.Column(verbose_name=_("Faction"))
    name = tables.Column(verbose_name=_("Against"))

    class Meta(Table.Meta):
        sequence = ("side", "name", "...")
        empty_text = _("No game between two factions has been reported yet.")


class TableBalanceTable(BalanceTable):
    """Tables: the share of whichever side the scenario names first."""

    name = tables.Column(verbose_name=_("Table"))

    class Meta(Table.Meta):
        exclude = ("side", "ruleset")
        empty_text = _("No game with sides of a scenario has been reported from a table yet.")

    def words_for_uneven(self, record: BalanceLine) -> str:
        return _now("favours the first side") if record.favours_side else _now("favours the second side")
