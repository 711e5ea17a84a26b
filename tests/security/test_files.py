"""Every list as a file: what people wrote stays text in a spreadsheet."""

from __future__ import annotations

import csv
import io
import re

import pytest
from django.apps import apps
from django.db import models

from tests.security.places import path_of, places

# OWASP, CSV Injection (from memory): a cell that begins like one of these may be taken for a formula.
STARTS = ("=", "+", "-", "@", "\t", "\r")
NUMBER = re.compile(r"-?\d+(\.\d+)?")
FORMULA = "=HYPERLINK(1)"
WRITTEN = {"name", "title", "note", "label", "caption", "text", "faction", "address", "notes", "reason", "about"}
LISTS = {"members", "nights", "night", "venues", "venue", "invitations", "book", "games", "rosters", "rulesets"}
LISTS |= {"ruleset-editions", "seasons", "standings", "player", "tokens", "roster-csv"}


@pytest.fixture
def poisoned(world):
    """Whatever people can write begins like a formula."""
    for model in apps.get_models():
        if not model.__module__.startswith(("league.", "accounts.")):
            continue
        for field in model._meta.fields:
            if model.__module__ == "league.campaigns.models" and field.name == "faction":
                continue  # a key of the campaign's document, which nobody writes freely
            if isinstance(field, models.CharField | models.TextField) and field.name in WRITTEN and not field.choices:
                for pk in model._base_manager.values_list("pk", flat=True):
                    model._base_manager.filter(pk=pk).update(**{field.name: f"{FORMULA}{pk}"})
    return world


@pytest.mark.parametrize("role", ["organiser", "member"])
def test_no_cell_of_any_file_is_a_formula(role, poisoned, cast, ask):
    dangerous, files, disarmed = [], set(), set()
    for address in places():
        if address.is_api:
            continue
        answer, text = ask(cast[role], path_of(address, poisoned) + "?format=csv")
        if not answer["Content-Type"].startswith("text/csv"):
            continue
        files.add(address.name)
        for cell in (cell for row in csv.reader(io.StringIO(text)) for cell in row):
            if cell.startswith(STARTS) and not NUMBER.fullmatch(cell):
                dangerous.append((address.name, cell))
            if cell.startswith(f"'{FORMULA}"):
                disarmed.add(address.name)
    assert dangerous == []
    assert files >= LISTS - (set() if role == "organiser" else {"invitations"})
    # Lists that show a written word show it disarmed: the search above did meet formulas.
    assert disarmed >= {"members", "games", "rosters", "roster-csv", "seasons", "venues"}


def test_files_are_downloads_with_a_name_of_the_sites_making(poisoned, cast, ask):
    for address in places():
        if not address.is_api:
            answer, _ = ask(cast["organiser"], path_of(address, poisoned) + "?format=csv")
            if answer["Content-Type"].startswith("text/csv"):
                assert re.fullmatch(r'attachment; filename="[\w.-]+\.csv"', answer["Content-Disposition"]), address.name
