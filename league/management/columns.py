"""Lines of cells as columns of text."""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["in_columns"]

TEXT_COLUMN = 1  # the name is aligned left, figures right


def in_columns(lines: Sequence[Sequence[str]]) -> str:
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    return "\n".join(
        "  ".join(
            cell.ljust(width) if place == TEXT_COLUMN else cell.rjust(width)
            for place, (cell, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()
        for line in lines
    )
