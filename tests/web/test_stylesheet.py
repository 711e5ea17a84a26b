"""The style sheet carries nothing that no page uses."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SHEET = ROOT / "league/static/league/ledger.css"
RULES = re.sub(r"/\*.*?\*/", "", SHEET.read_text(encoding="utf-8"), flags=re.DOTALL)
CLASSES = sorted(set(re.findall(r"\.([a-z][a-z-]+)", re.sub(r"\{[^{}]*\}", "{}", RULES))))
# Where a class can be named: in a template, in a table or form, in the script.
NAMED_IN = [
    *(ROOT / "templates").rglob("*.html"),
    *(ROOT / "league").rglob("*.py"),
    ROOT / "league/static/league/site.js",
]
BUDGET = 12_000  # bytes compressed, of a first visit on a slow phone: our own budget


@pytest.fixture(scope="module")
def named() -> str:
    return "\n".join(path.read_text(encoding="utf-8") for path in NAMED_IN)


@pytest.mark.parametrize("name", CLASSES)
def test_every_class_of_the_sheet_is_used(name, named):
    if name.startswith("field-"):  # field.html puts these together from the kind of the field
        name = "field-{{ kind }}" if name == "field-checkbox" else name
    assert re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", named)


def test_the_sheet_keeps_to_its_budget():
    assert len(gzip.compress(SHEET.read_bytes())) <= BUDGET
