"""The frame around every page."""

from __future__ import annotations

import re

import pytest
from django.template.loader import render_to_string


@pytest.fixture
def page(browse, member):
    return browse(member).get("/clubs/weir-street/members/").content.decode()


def test_a_reader_can_skip_the_navigation(page):
    assert page.index('href="#content"') < page.index("<nav") and '<main id="content"' in page


def test_the_language_and_the_width_of_the_screen_are_named(page):
    assert '<html lang="en-gb">' in page and "width=device-width" in page


def test_the_title_begins_with_the_page_and_names_the_club(page):
    assert re.search(r"<title>[^<]+ · Weir Street Irregulars</title>", page)


def test_there_is_one_first_heading(page):
    assert len(re.findall(r"<h1\b", page)) == 1


def test_signing_out_is_a_form_not_a_link(page):
    assert re.search(r'<form method="post" action="/account/logout/">', page)


def test_a_visitor_is_offered_to_sign_in(db, client):
    assert 'href="/account/login/"' in client.get("/account/password/reset/").content.decode()


def test_only_organisers_see_the_desk(browse, organiser, member):
    address, desk = "/clubs/weir-street/members/", 'href="/clubs/weir-street/desk/"'
    assert desk in browse(organiser).get(address).content.decode()
    assert desk not in browse(member).get(address).content.decode()


def test_the_name_of_a_club_cannot_bring_markup():
    page = render_to_string("base.html", {"title": "<script>alert(1)</script>", "club": None})
    assert "<script>alert" not in page


def test_the_reader_of_the_api_has_no_line_of_script_in_its_page(db, browse, member):
    response = browse(member).get("/api/v1/docs/")
    assert response.status_code == 200
    assert re.findall(r"<script(?![^>]*\bsrc=)|<style|\sstyle=", response.content.decode()) == []


def test_the_content_policy_allows_nothing_inline(db, client):
    policy = client.get("/account/login/")["Content-Security-Policy"]
    assert "unsafe-inline" not in policy and "script-src 'self'" in policy and "style-src 'self'" in policy
