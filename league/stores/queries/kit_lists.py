"""Lists of kit coming in and going out: what was read of one, and one's own kit as one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, cast

from django.db.models.functions import Lower

from accounts.models import User
from league.clubs.models import Club, Member
from league.engines.kit_text import Kind, ParsedKit, ParsedPieces, parse_kit, to_csv
from league.engines.kit_text.model import Condition
from league.rulesets.queries import violation_in_words
from league.stores.models import Holding, ItemKind

__all__ = ["KitPreview", "PreviewLine", "UnreadLine", "kit_as_csv", "preview_of", "read_kit"]


@dataclass(frozen=True, kw_only=True, slots=True)
class PreviewLine:
    """What a line will do. `already`: pieces like it that its owner has on the list now."""

    pieces: ParsedPieces
    kind_name: str
    already: int


@dataclass(frozen=True, kw_only=True, slots=True)
class UnreadLine:
    """A line that cannot be read, with everything that is wrong with it in words."""

    line_number: int
    text: str
    problems: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class KitPreview:
    lines: tuple[PreviewLine, ...]
    bad_lines: tuple[UnreadLine, ...]

    @property
    def can_be_written(self) -> bool:
        """All or nothing: a single bad line keeps everything from being written."""
        return bool(self.lines) and not self.bad_lines

    @property
    def count(self) -> int:
        return sum(line.pieces.count for line in self.lines)


def read_kit(club: Club, source: str) -> ParsedKit:
    """A list read by the kinds that are on the club's list now: one query."""
    kinds = ItemKind.objects.filter(club=club, retired_at=None).order_by("pk").values_list("key", "name")
    return parse_kit(source, [Kind(key=key, name=name) for key, name in kinds])


def preview_of(parsed: ParsedKit, club: Club, owner: Member | None) -> KitPreview:
    """What the list would do to the kit of an owner (None: the club): two queries."""
    names = dict(ItemKind.objects.filter(club=club).values_list("key", "name"))
    rows: Any = Holding.objects.standing().filter(club=club, owner=owner).with_balance()
    had: Counter[tuple[str, str]] = Counter()
    for key, colour, held in rows.values_list("kind__key", "colour", "held"):
        had[key, colour.casefold()] += held
    return KitPreview(
        lines=tuple(
            PreviewLine(pieces=each, kind_name=names[each.kind], already=had[each.kind, each.colour.casefold()])
            for each in parsed.pieces
        ),
        bad_lines=tuple(
            UnreadLine(
                line_number=line.line_number,
                text=line.text,
                problems=tuple(violation_in_words(each) for each in line.problems),
            )
            for line in parsed.bad_lines
        ),
    )


def kit_as_csv(club: Club, owner: Member | None, user: User) -> str:
    """What an owner has, as a list that `read_kit` reads back: one query."""
    rows: Any = Holding.objects.visible_to(user).standing().filter(club=club, owner=owner).with_balance()
    held: Sequence[Any] = rows.select_related("kind").order_by(Lower("kind__name"), "colour", "pk")
    return to_csv(
        ParsedPieces(
            kind=row.kind.key,
            count=row.held,
            colour=row.colour,
            scale_mm=row.scale_mm,
            condition=cast("Condition", row.condition),
            kept=min(row.kept, row.held),
            place=row.place,
            is_private=row.is_private,
            note=row.note,
        )
        for row in held
        if row.held
    )
