"""How the tests of the pairing engine read published data."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

REFERENCE = Path(__file__).parents[2] / "reference" / "pairing"


@pytest.fixture
def published() -> Callable[[str], Any]:
    """`published("berger_tables")`: a published file, read."""
    return lambda name: json.loads((REFERENCE / f"{name}.json").read_text(encoding="utf-8"))
