"""What people read when something is not there, not theirs, out of date or broken."""

from __future__ import annotations

import pytest
from django.template.loader import render_to_string
from django.test import Client

from league import web


def test_an_address_that_leads_nowhere(db, client):
    response = client.get("/no/such/page/")
    assert response.status_code == 404 and "There is no such page" in response.content.decode()


def test_a_page_kept_for_others(db, browse, member):
    response = browse(member).get("/clubs/weir-street/edit/")
    assert response.status_code == 403 and "Nothing was changed" in response.content.decode()


def test_a_form_sent_from_a_page_that_had_grown_stale(db):
    strict = Client(enforce_csrf_checks=True)
    response = strict.post("/account/login/", {"login": "odalys@club.test", "password": "a very long one"})
    assert response.status_code == 403 and "Nothing was saved" in response.content.decode()


def test_the_page_for_a_broken_site_needs_neither_database_nor_request():
    assert "was not saved" in render_to_string("500.html")


def test_the_stale_page_is_the_one_named_in_the_settings(settings):
    assert f"{web.csrf_failure.__module__}.{web.csrf_failure.__name__}" == settings.CSRF_FAILURE_VIEW


@pytest.mark.parametrize("word", ["oops", "forbidden", "invalid", "please", "error 4"])
@pytest.mark.parametrize("template", ["404.html", "403.html", "500.html", "stale.html"])
def test_trouble_is_told_in_plain_words(template, word):
    assert word not in render_to_string(template).lower()
