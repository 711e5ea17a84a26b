"""Every template of the house: nothing inline that the content policy would stop, no word that cannot be translated."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from django.template import engines

ROOT = Path(__file__).parents[2] / "templates"
TEMPLATES = sorted(ROOT.rglob("*.html"))

SILENT = re.compile(
    r"\{#.*?#\}"
    r"|\{%\s*comment\b.*?%\}.*?\{%\s*endcomment\s*%\}"
    r"|\{%\s*blocktrans(?:late)?\b.*?%\}.*?\{%\s*endblocktrans(?:late)?\s*%\}"
    r"|\{%.*?%\}"
    r"|\{\{.*?\}\}",
    re.DOTALL,
)
TAG = re.compile(r"<[^>]*>", re.DOTALL)
SPOKEN_ATTRIBUTE = re.compile(r'\b(?:alt|title|aria-label|placeholder)="([^"]*)"')
WORD = re.compile(r"[^\W\d_]{2,}")
# The name of the house and of file formats are the same in every language.
NAMES = {"Drumhead", "CSV", "JSON", "API"}


def words_outside_translation(text: str) -> list[str]:
    bare = SILENT.sub(" ", text)
    spoken = [*SPOKEN_ATTRIBUTE.findall(bare), TAG.sub(" ", bare)]
    return [word for part in spoken for word in WORD.findall(html.unescape(part)) if word not in NAMES]


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_a_template_holds_no_inline_style_or_script(path):
    text = path.read_text(encoding="utf-8")
    inline = re.findall(r"\sstyle\s*=|<style\b|<script\b(?![^>]*\bsrc=)|\son[a-z]+\s*=\s*[\"']|javascript:", text)
    assert inline == []


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_a_template_fetches_nothing_from_elsewhere(path):
    assert re.findall(r"(?:src|href|action)=[\"'](?:https?:)?//", path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_every_word_of_a_template_can_be_translated(path):
    assert words_outside_translation(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_a_template_can_be_read_by_the_engine(path):
    engines["django"].engine.get_template(named(path))


@pytest.mark.parametrize("path", TEMPLATES, ids=named)
def test_a_form_that_changes_something_carries_its_token(path):
    text = path.read_text(encoding="utf-8")
    forms = re.findall(r"<form\b[^>]*method=\"post\".*?</form>", text, re.DOTALL)
    assert all("{% csrf_token %}" in form for form in forms)


@pytest.mark.parametrize(
    "text",
    [
        "<p>Hello</p>",
        '<img alt="A map">',
        "{% if x %}Yes{% endif %}",
        '{% translate "a" %} more',
        "<a\nhref='x'>go on</a>",
    ],
)
def test_the_check_finds_a_bare_word(text):
    assert words_outside_translation(text) != []


@pytest.mark.parametrize(
    "text",
    [
        '<p>{% translate "Hello" %}</p>',
        "{% blocktranslate %}Hello {{ name }}{% endblocktranslate %}",
        "{# a word #}{% comment %}more words{% endcomment %}",
        "<b>7&nbsp;½ · &rarr;</b>",
    ],
)
def test_the_check_leaves_translated_words_alone(text):
    assert words_outside_translation(text) == []
