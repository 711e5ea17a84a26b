from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import league.engines.war
from league.engines.war import BuildDepot, Move, SendSupply, replay
from league.engines.war.chronicle import CHAPTER_OF, sentences
from league.engines.war.fog import UMPIRE, view
from league.engines.war.words import CHOSEN, COUNTED, PLAIN
from tests.engines.war.world import CAMPAIGN, Book


def told(book, turn, viewer=UMPIRE):
    states = replay(CAMPAIGN, book.facts)
    seen = view(CAMPAIGN, states, viewer=viewer, turn=turn)
    return [each.text for each in sentences(CAMPAIGN, seen)]


@pytest.fixture
def book():
    return Book()


def noted():
    """Every kind of change that a module of the fold can note, read off its source."""
    found = set()
    for path in Path(league.engines.war.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                first = {"note": 0, "note_of": 1}.get(node.func.attr)
                if first is not None:
                    found |= {
                        each.value
                        for each in ast.walk(node.args[first])
                        if isinstance(each, ast.Constant) and isinstance(each.value, str)
                    }
    return found - {"", "conceded", "simulated"}


def test_everything_the_fold_can_note_has_words_and_a_chapter():
    kinds = {each for each in noted() if re.fullmatch("[a-z_]+", each)}
    assert kinds - {"orders", "aftermath"} <= {*PLAIN, *CHOSEN, *COUNTED} | {"supplied", "short", "cut_off"}
    assert kinds <= CHAPTER_OF.keys()


def test_a_quiet_march_is_told_from_where_to_where(book):
    book.turn(1, commons=[Move(force="sappers", roads=("mill",))])
    assert "The sappers marches from Arrel to The Mere." in told(book, 1)


def test_building_and_sending_are_told_to_the_side_that_did_it_alone(book):
    book.turn(1, commons=[BuildDepot(region="mere"), SendSupply(origin="arrel", to="mere", amount=2)])
    assert any("loads from Arrel to The Mere" in each for each in told(book, 1, "commons"))
    assert not any("loads from Arrel" in each for each in told(book, 1, "wardens"))


def test_one_is_told_apart_from_many(book):
    book.turn(1)
    texts = told(book, 1)
    assert any(re.fullmatch(r"Commons of Arrel gain \d+ points and have \d+\.", each) for each in texts)
