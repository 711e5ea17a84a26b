"""What a form says of a field: our words, in place of the framework's."""

from __future__ import annotations

import pytest
from django import forms

from league.web import SubmissionField
from league.wording import faults_of


def faults(field, typed):
    """What is said of one field after something was typed."""

    class One(forms.Form):
        it = field

    form = One({} if typed is None else {"it": typed})
    return list(faults_of(form["it"]))


@pytest.mark.parametrize(
    ("field", "words"),
    [
        (forms.CharField(), "Fill this in."),
        (forms.IntegerField(), "Enter a number."),
        (forms.DateField(), "Enter a date."),
        (forms.EmailField(), "Enter an e-mail address."),
        (forms.FileField(), "Choose a file."),
        (forms.ChoiceField(choices=[("a", "A")]), "Choose one of these."),
        (forms.MultipleChoiceField(choices=[("a", "A")]), "Tick at least one."),
        (forms.BooleanField(), "Tick this box to go on."),
        (SubmissionField(), "This page has grown stale. Open it again, then send it."),
    ],
)
def test_an_empty_field_says_what_to_do(field, words):
    assert faults(field, None) == [words]


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        (forms.IntegerField(), "banana", "Enter a whole number, such as 12."),
        (forms.IntegerField(min_value=2), "1", "Enter 2 or more."),
        (forms.IntegerField(max_value=20), "21", "Enter 20 or less."),
        (forms.CharField(max_length=3), "weir", "Write at most 3 characters; there are 4."),
        (forms.CharField(max_length=1), "we", "Write at most 1 character; there are 2."),
        (forms.DateField(), "soon", "Enter a date: day, month and year."),
        (forms.TimeField(), "late", "Enter a time, such as 19:30."),
        (forms.EmailField(), "odalys", "Enter an e-mail address, such as name@club.example."),
        (forms.ChoiceField(choices=[("a", "A")]), "b", "Choose one of these."),
        (SubmissionField(), "x", "This page has grown stale. Open it again, then send it."),
    ],
)
def test_what_cannot_be_read_is_answered_by_an_example_or_a_bound(field, typed, words):
    assert faults(field, typed) == [words]


def test_a_field_with_words_of_its_own_keeps_them():
    field = forms.CharField(error_messages={"required": "Give the unit a name."})
    assert faults(field, "") == ["Give the unit a name."]


def test_a_field_in_order_is_passed_over():
    assert faults(forms.CharField(), "Weir Street") == []
