"""Kit as people have it on a list: lines in a message, a spreadsheet saved as CSV, a JSON file."""

from __future__ import annotations

from league.engines.kit_text.model import BadLine, Kind, ParsedKit, ParsedPieces
from league.engines.kit_text.parse import parse_kit
from league.engines.kit_text.table import to_csv

__all__ = ["BadLine", "Kind", "ParsedKit", "ParsedPieces", "parse_kit", "to_csv"]
