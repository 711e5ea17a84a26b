"""The filters and tags every template may use."""

from __future__ import annotations

from datetime import UTC, date, datetime
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest
from django.template import Context, Template
from django.utils import timezone

from league.web import with_fractions


def said(words, **context):
    return Template("{% load club %}" + words).render(Context(context))


def test_half_points():
    assert said("{{ points|x2 }}", points=7) == "3½"


def test_no_points_are_no_words():
    assert said("{{ points|x2 }}", points=None) == ""


def test_a_day_names_its_weekday_and_stays_readable_for_programs():
    # 1 January 2030 is a Tuesday (from memory); 317 days, which is 45 weeks and two days, later is a Thursday.
    assert said("{{ on|day }}", on=date(2030, 11, 14)) == '<time datetime="2030-11-14">Thu 14 Nov 2030</time>'


def test_an_hour_falls_on_the_day_of_the_club():
    with timezone.override(ZoneInfo("Pacific/Auckland")):
        assert "2030-11-15" in said("{{ at|short_day }}", at=datetime(2030, 11, 14, 20, tzinfo=UTC))


def test_a_badge_says_its_state_in_words():
    report = SimpleNamespace(state="awaiting", get_state_display=lambda: "awaits <an> answer")
    assert said("{{ report|state_badge }}", report=report) == (
        '<span class="badge" data-state="awaiting">awaits &lt;an&gt; answer</span>'
    )


def test_what_is_held_can_be_said_twice_and_stays_escaped():
    assert said("{% hold title %}{{ name }}{% endhold %}{{ title }}|{{ title }}", name="<b>") == "&lt;b&gt;|&lt;b&gt;"


@pytest.mark.parametrize("path", ["/clubs/weir-street/members/", "/clubs/weir-street/members/7/edit/"])
def test_the_part_being_read_is_marked_in_the_navigation(rf, path):
    page = said('{% nav_link "members" "Members" %}', club=SimpleNamespace(slug="weir-street"), request=rf.get(path))
    assert 'aria-current="' in page


def test_a_page_that_does_not_exist_has_no_link():
    assert said('{% nav_link "no-such-page" "Nothing" %}', club=SimpleNamespace(slug="weir-street")).strip() == ""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("28.5", "28½"),
        ("0.5", "½"),
        ("-0.25", "−¼"),
        ("−3.75", "−3¾"),
        ("12", "12"),
        ("0", "0"),
        ("1.500", "1.500"),
        ("3 / 4", "3 / 4"),
        ("–", "–"),
    ],
)
def test_a_number_with_decimals_is_written_with_fractions(text, told):
    assert with_fractions(text) == told
