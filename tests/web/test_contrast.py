"""Every ink on every paper, in both modes, by the formula of WCAG 2.2.

Formula: WCAG 2.2, definitions of "relative luminance" and "contrast ratio"
(https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio). Thresholds: 1.4.3 (4.5:1 for text), 1.4.11 (3:1 for borders of
inputs and the ring of focus).
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

CSS = (Path(__file__).parents[2] / "league/static/league/ledger.css").read_text(encoding="utf-8")
COLOUR = re.compile(r"--([a-z-]+):\s*(#[0-9a-f]{3,6})\b")
ROOTS = re.findall(r":root \{(.*?)\}", CSS, re.DOTALL)
LIGHT = dict(COLOUR.findall(ROOTS[0]))
MODES = {
    "light": LIGHT,
    "dark": LIGHT | dict(COLOUR.findall(ROOTS[1])),
    "print": LIGHT | dict(COLOUR.findall(ROOTS[2])),
}
PAPERS = ["paper", "sheet", "wash"]
TEXT = [(ink, paper) for ink in ("ink", "ink-quiet", "accent") for paper in PAPERS] + [("fill-ink", "fill")]
LINES = [(line, paper) for line in ("rule-strong", "accent") for paper in PAPERS]


def luminance(colour: str) -> float:
    digits = colour.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    channels = (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted([luminance(one), luminance(other)])
    return (lighter + 0.05) / (darker + 0.05)


def test_black_on_white_is_21_to_1():
    # WCAG 2.2: "contrast ratios can range from 1 to 21".
    assert contrast("#000", "#fff") == pytest.approx(21)


def test_a_colour_on_itself_is_1_to_1():
    assert contrast("#9b1c2e", "#9b1c2e") == 1


def test_the_lightest_grey_that_may_carry_text_on_white_is_767676():
    # The well-known border of 4.5:1 on white (from memory).
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize(("ink", "paper"), TEXT)
def test_text_stands_out_from_its_paper(mode, ink, paper):
    assert contrast(MODES[mode][ink], MODES[mode][paper]) >= 4.5


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize(("line", "paper"), LINES)
def test_borders_and_the_ring_of_focus_stand_out(mode, line, paper):
    assert contrast(MODES[mode][line], MODES[mode][paper]) >= 3


def test_dark_names_every_colour_anew():
    assert set(COLOUR.findall(ROOTS[1])) and {name for name, _ in COLOUR.findall(ROOTS[1])} == set(LIGHT)


def test_no_colour_is_used_but_the_named_ones():
    rest = re.sub(r":root \{.*?\}", "", CSS, flags=re.DOTALL)
    # A shadow carries no meaning.
    rest = rest.replace("rgb(0 0 0 / 0.2)", "")
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b|rgba?\(|hsla?\(|oklch\(", rest) == []


def test_nothing_is_fetched_by_the_style_sheet():
    assert "url(" not in CSS and "@import" not in CSS and "@font-face" not in CSS
