"""A ruleset of the club, and what a browser sends when a page is saved as it stands."""

from __future__ import annotations

import pytest
from django.forms import Select

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
        return {bound.html_name: value for each in forms for bound in each if (value := typed(bound)) is not None}

    return shown


def typed(bound):
    value = bound.value()
    if value in (None, "") and type(bound.field.widget) is Select:
        return str(bound.field.widget.choices[0][0])  # a browser sends the first choice where none is selected
    if isinstance(value, list) or value is None or value is False:
        return value or None
    return str(value)
