"""The lists of how strong everybody is."""

from __future__ import annotations

from datetime import date
from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils import formats
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.ratings import CalibrationBin, Skill
from league.seasons.queries.ratings import RatingLine
from league.web import Figures, Table

__all__ = ["CalibrationTable", "RatingTable", "TeamTable"]

PLUS_MINUS = "\N{PLUS-MINUS SIGN}"
THIN = "\N{NARROW NO-BREAK SPACE}"


PROVISIONAL = gettext_lazy("provisional")


def signed(value: float) -> str:
    """A change in whole points, with its sign: "+12", "−7", "0"."""
    whole = round(value)
    return f"+{whole}" if whole > 0 else str(whole).replace("-", "\N{MINUS SIGN}")


def hundredths(share: float) -> str:
    return _("%(share)s %%") % {"share": round(100 * share)}


class OfMembers(Table):
    """A list of members; names lead to their pages for club mates."""

    def __init__(self, *args: Any, club: str, linked: bool, mine: int | None = None, **options: Any) -> None:
        self.club = club
        self.linked = linked
        own = {"class": lambda record: "mine" if record.member_id == mine else None}
        super().__init__(*args, row_attrs=own, **options)

    def render_name(self, value: str, record: Any) -> SafeString | str:
        if not self.linked:
            return value
        address = reverse("player", kwargs={"club": self.club, "pk": record.member_id})
        return format_html('<a href="{}">{}</a>', address, value)

    def value_name(self, value: str) -> str:
        return value


class RatingTable(OfMembers):
    """Ratings with their deviations as "1540 ± 60"; in a CSV file the two are columns of their own."""

    rank = Figures(verbose_name=gettext_lazy("Place"), empty_values=(), order_by=("is_provisional", "rank"))
    name = tables.Column(verbose_name=gettext_lazy("Name"))
    rating = Figures(verbose_name=gettext_lazy("Rating"))
    deviation = Figures(verbose_name=gettext_lazy("Deviation"))
    games = Figures(verbose_name=gettext_lazy("Games"))
    change = Figures(verbose_name=gettext_lazy("Last change"))
    month = tables.Column(verbose_name=gettext_lazy("Last played"))

    class Meta(Table.Meta):
        empty_text = gettext_lazy("Nobody is rated yet. The first game of one against one begins it.")

    def render_rank(self, record: RatingLine) -> str:
        return "\N{EN DASH}" if record.is_provisional else str(record.rank)

    def value_rank(self, record: RatingLine) -> int | str:
        return record.rank or str(PROVISIONAL)

    def render_name(self, value: str, record: RatingLine) -> SafeString | str:
        name = super().render_name(value, record)
        if not record.is_provisional:
            return name
        return format_html('{} <span class="badge" data-state="open">{}</span>', name, PROVISIONAL)

    def render_rating(self, record: RatingLine) -> str:
        # Narrow spaces that do not break: the two numbers are one figure.
        return f"{round(record.rating)}{THIN}{PLUS_MINUS}{THIN}{round(record.deviation)}"

    def value_rating(self, value: float) -> int:
        return round(value)

    def value_deviation(self, value: float) -> int:
        return round(value)

    def render_change(self, value: float) -> str:
        return signed(value)

    def value_change(self, value: float) -> int:
        return round(value)

    def render_month(self, value: date) -> str:
        return formats.date_format(value, "M Y")

    def value_month(self, value: date) -> str:
        return value.strftime("%Y-%m")


class TeamTable(OfMembers):
    rank = Figures(verbose_name=gettext_lazy("Place"))
    name = tables.Column(verbose_name=gettext_lazy("Name"))
    skill = Figures(verbose_name=gettext_lazy("Skill"), order_by="skill__mu")
    cautious = Figures(verbose_name=gettext_lazy("At least"), accessor="skill__cautious")
    games = Figures(verbose_name=gettext_lazy("Games"))

    def render_skill(self, value: Skill) -> str:
        return f"{value.mu:.1f} {PLUS_MINUS} {value.sigma:.1f}"

    def render_cautious(self, value: float) -> str:
        return f"{value:.1f}".replace("-", "\N{MINUS SIGN}")


class CalibrationTable(Table):
    """What was expected of the first side, and what came of it."""

    expected_from = tables.Column(verbose_name=gettext_lazy("Expected"), empty_values=(), orderable=False)
    games = Figures(verbose_name=gettext_lazy("Games"), orderable=False)
    expected = Figures(verbose_name=gettext_lazy("On average"), orderable=False)
    scored = Figures(verbose_name=gettext_lazy("Scored"), orderable=False)
    error = Figures(verbose_name=gettext_lazy("By chance"), orderable=False)

    def render_expected_from(self, record: CalibrationBin) -> str:
        return f"{hundredths(record.low)} \N{EN DASH} {hundredths(record.high)}"

    def render_expected(self, value: float) -> str:
        return hundredths(value)

    def render_scored(self, value: float) -> str:
        return hundredths(value)

    def render_error(self, value: float) -> str:
        return f"{PLUS_MINUS} {hundredths(2 * value)}"
