"""A round on a screen in the hall, and on paper."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _now
from django.views.generic import TemplateView

from league.seasons.queries.pages import PairingLine, pairing_lines
from league.seasons.tables.pairings import BoardTable
from league.seasons.views.rows import OnRound

__all__ = ["BoardPage", "SheetPage"]

MOST_IN_A_COLUMN = 8


class BoardPage(OnRound, TemplateView):
    """Large; with `?live=1` fetched anew by itself, so that results appear as they are filed. Nobody who only looks it
    up has the page change under their eyes.
    """

    template_name = "seasons/board.html"
    seconds = 30

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        lines = pairing_lines(self.round.pairings.all(), self.names)
        told = {"round": self.round, "season": self.season.name}
        return super().get_context_data(
            title=_now("%(round)s of %(season)s") % told,
            lines=lines,
            seconds=self.seconds,
            is_live=self.request.GET.get("live") == "1",
            tables=[BoardTable(part, club=self.club.slug, request=self.request) for part in halves(lines)],
            **context,
        )


def halves(lines: list[PairingLine]) -> list[list[PairingLine]]:
    """In one list while a screen has room for it, else in two side by side."""
    if len(lines) <= MOST_IN_A_COLUMN:
        return [lines]
    middle = (len(lines) + 1) // 2
    return [lines[:middle], lines[middle:]]


class SheetPage(BoardPage):
    """For printing: with room for the scores."""

    template_name = "seasons/sheet.html"
