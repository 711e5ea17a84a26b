"""The lists of a forecast: who may still reach what, and how likely each place is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import django_tables2 as tables
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.documents.season_foretold import Foretold
from league.seasons.queries.forecast_words import (
    ForecastRow,
    aim_name,
    bands_of,
    chance_words,
    verdict_words,
)
from league.web import Figures, HalfPoints, Table

__all__ = ["OddsTable", "PlacesTable"]

# From which chance on a cell is shaded how darkly; the number stands in it all the same.
SHADES = ((0.8, 5), (0.6, 4), (0.4, 3), (0.2, 2), (0.05, 1))
STATES = {"through": "yes", "out": ""}


def shade_of(chance: float) -> str:
    step = next((step for least, step in SHADES if chance >= least), 0)
    return f"num heat-{step}" if step else "num"


class ChanceColumn(Figures):
    """The chance of one aim with twice its standard error."""

    def __init__(self, place: int, **options: Any) -> None:
        self.place = place
        super().__init__(accessor="aims", order_by=(), orderable=False, **options)

    def render(self, record: ForecastRow) -> str:
        chance, error, _verdict = record.aims[self.place]
        if not error or not 0 < chance < 1:
            return chance_words(chance)
        return f"{chance_words(chance)} ± {200 * error:.1f}"

    def value(self, record: ForecastRow) -> float:
        return round(record.aims[self.place][0], 4)


class VerdictColumn(tables.Column):
    """What is certain of one aim."""

    def __init__(self, place: int, **options: Any) -> None:
        self.place = place
        super().__init__(accessor="aims", orderable=False, **options)

    def render(self, record: ForecastRow) -> SafeString:
        verdict = record.aims[self.place][2]
        state = STATES.get(verdict, "open")
        return format_html('<span class="badge" data-state="{}">{}</span>', state, verdict_words(verdict))

    def value(self, record: ForecastRow) -> str:
        return record.aims[self.place][2]


class BandColumn(Figures):
    """The chance to finish in one place, or in one of several."""

    def __init__(self, place: int, name: str) -> None:
        self.place = place
        cell = {
            "class": lambda record: shade_of(record.bands[place]),
            "data-label": _("Place %(place)s") % {"place": name},
        }
        super().__init__(accessor="bands", orderable=False, attrs={"td": cell}, verbose_name=name)

    def render(self, record: ForecastRow) -> str:
        return chance_words(record.bands[self.place])

    def value(self, record: ForecastRow) -> float:
        return round(record.bands[self.place], 4)


class OfEntrants(Table):
    place = Figures(verbose_name=gettext_lazy("Now"), orderable=False)
    name = tables.Column(verbose_name=gettext_lazy("Entrant"), orderable=False)

    def __init__(
        self, rows: Sequence[ForecastRow], *, told: Foretold, own: frozenset[str] = frozenset(), **options: Any
    ) -> None:
        mine = {"class": lambda record: "mine" if record.entrant_id in own else None}
        super().__init__(rows, extra_columns=self.columns_of(told), row_attrs=mine, **options)

    def columns_of(self, told: Foretold) -> list[tuple[str, tables.Column]]:
        raise NotImplementedError


class OddsTable(OfEntrants):
    points_x2 = HalfPoints(verbose_name=gettext_lazy("Points"), orderable=False)

    def columns_of(self, told: Foretold) -> list[tuple[str, tables.Column]]:
        columns: list[tuple[str, tables.Column]] = []
        for place, aim in enumerate(told.aims):
            name = aim_name(aim.name)
            columns.append((f"chance_{aim.name}", ChanceColumn(place, verbose_name=name)))
            columns.append((f"verdict_{aim.name}", VerdictColumn(place, verbose_name=verdict_head(name))))
        return columns


class PlacesTable(OfEntrants):
    """Shaded by chance, with the number in every cell."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, attrs={"class": "ledger heat"}, **options)

    def columns_of(self, told: Foretold) -> list[tuple[str, tables.Column]]:
        return [
            (f"band_{low}", BandColumn(place, band_name(low, high)))
            for place, (low, high) in enumerate(bands_of(len(told.ids)))
        ]


def verdict_head(name: str) -> str:
    return _("%(aim)s: certain") % {"aim": name}


def band_name(low: int, high: int) -> str:
    return str(low) if low == high else f"{low}\N{EN DASH}{high}"
