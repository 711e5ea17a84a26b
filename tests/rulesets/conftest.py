"""A ruleset of the club, and what a browser sends when a page is saved as it stands."""

from __future__ import annotations

import pytest

from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset


@pytest.fixture
def document():
    return shipped_documents()["ferry_skirmish"]


@pytest.fixture
def ruleset(club, organiser, document):
    return create_ruleset(club, document=document, by=organiser)


@pytest.fixture
def as_shown():
    """Every field of a section's form and of its rows as the page shows it."""

    def shown(form):
        forms = [form]
        for _rows, formset in form.sets:
            forms += [formset.management_form, *formset]
        return {
            bound.html_name: value for each in forms for bound in each if (value := typed(bound)) not in (None, False)
        }

    return shown


def typed(bound):
    value = bound.value()
    if isinstance(value, list) or value in (None, False):
        return value or None
    return str(value)
