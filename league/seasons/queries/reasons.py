"""The page of one number: what it is, by which rule, and everything that adds up to it, in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _

from league.engines.standings import Reason
from league.engines.standings.table import written
from league.seasons.models import Pairing
from league.seasons.queries.standings import (
    EN_DASH,
    MINUS,
    PLAIN_COLUMNS,
    Comparison,
    Standings,
    explain_cell,
    explain_rank,
    tie_break_of,
    was_asked,
)
from league.seasons.queries.words import column_name, column_words, kind_words
from league.web import half_points

__all__ = ["CellPage", "ReasonLine", "cell_page"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ReasonLine:
    """One reason to show; `game_pk` leads to the game where the reader may see it."""

    words: str
    amount: str
    round: int | None
    against: str
    note: str
    game_pk: int | None


@dataclass(frozen=True, kw_only=True, slots=True)
class CellPage:
    """Everything about one number. `comparisons` for a place in the table, `lines` for any other number."""

    title: str
    name: str
    column: str
    value: str
    total: str
    rule: str
    lines: tuple[ReasonLine, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
    other: str = ""
    is_ratio: bool = False
    is_direct: bool = False
    is_asked: bool = True


def cell_page(
    reckoned: Standings, *, entrant: str, column: str, names: Mapping[str, str], with_games: bool
) -> CellPage:
    """One query for the games, none without `with_games`.

    Raises:
        KeyError: the table has no such entrant or column.
    """
    name = names.get(entrant, "")
    rules = reckoned.document.rules
    title = _("%(column)s of %(name)s") % {"column": column_name(column), "name": name}
    rule = column_words(column, rules)
    if column == "rank":
        row = reckoned.row(entrant)
        told = explain_rank(reckoned, entrant=entrant)
        place = f"{row.rank}=" if row.shared else str(row.rank)
        other = names.get(told[0].other, "") if told else ""
        return CellPage(
            title=title, name=name, column=column, value=place, total=place, rule=rule, comparisons=told, other=other
        )
    cell = explain_cell(reckoned, entrant=entrant, column=column)
    asked = column in PLAIN_COLUMNS or was_asked(tie_break_of(reckoned.row(entrant), column))
    games = games_by_key(reckoned, cell.reasons) if with_games else {}
    return CellPage(
        title=title,
        name=name,
        column=column,
        value=shown(column, cell.text) if asked else EN_DASH,
        total=shown(column, cell.total) if asked else EN_DASH,
        rule=rule,
        is_ratio=any(reason.divisor for reason in cell.reasons),
        is_direct=column == "direct_encounter",
        is_asked=asked,
        lines=tuple(
            ReasonLine(
                words=kind_words(reason.kind),
                amount=shown(column, amount_of(reason, cell.scale)),
                round=reason.round,
                against=names.get(reason.opponent_id, "") if reason.opponent_id else "",
                note=reason.note,
                game_pk=games.get(reason.game_id) if reason.game_id else None,
            )
            for reason in cell.reasons
        ),
    )


def shown(column: str, text: str) -> str:
    """Points as people write them; any other number as it is, with a true minus."""
    if column != "points":
        return text.replace("-", MINUS)
    return half_points(round(2 * float(text)))


def amount_of(reason: Reason, scale: int) -> str:
    if reason.divisor:
        return f"{reason.contribution} / {reason.divisor}"
    return written(reason.contribution, scale)


def games_by_key(reckoned: Standings, reasons: tuple[Reason, ...]) -> dict[str, int]:
    """The games behind the reasons, by the pairing's name in the document."""
    keys = {reason.game_id for reason in reasons if reason.game_id}
    rows = Pairing.objects.filter(round__season=reckoned.season, key__in=keys, removed_at=None, game__isnull=False)
    return {key: game_pk for key, game_pk in rows.values_list("key", "game_id") if game_pk is not None}
