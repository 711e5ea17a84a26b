"""How the tests of the standings engine read published data and say a game in one line."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from league.engines.standings import Entrant, Game, Side

REFERENCE = Path(__file__).parents[2] / "reference"


@pytest.fixture
def reference() -> Callable[[str, str], Any]:
    """`reference("leagues", "rugby")`: a published file, read."""
    return lambda topic, name: json.loads((REFERENCE / topic / f"{name}.json").read_text(encoding="utf-8"))


@pytest.fixture
def entrants() -> Callable[..., tuple[Entrant, ...]]:
    """`entrants("a", "b")`: entrants named by their ids."""
    return lambda *ids: tuple(Entrant(id=str(one), name=str(one)) for one in ids)


@pytest.fixture
def scored() -> Callable[..., Game]:
    """`scored("g1", 1, a=3, b=0)`: a game told by its scores."""
    return lambda game_id, round_number, **scores: Game(
        id=game_id,
        round=round_number,
        sides=tuple(Side(entrant_id=one, score=score) for one, score in scores.items()),
    )


@pytest.fixture
def unplayed() -> Callable[..., Game]:
    """`unplayed("g1", 1, a="bye")`: a bye, an absence, a forfeit."""
    return lambda game_id, round_number, **kinds: Game(
        id=game_id,
        round=round_number,
        sides=tuple(Side(entrant_id=one, unplayed=kind) for one, kind in kinds.items()),
    )
