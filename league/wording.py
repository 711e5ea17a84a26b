"""What a form says of a field, in place of the framework's own words; a field's own message is left as it is."""

from __future__ import annotations

from collections.abc import Iterator

from django import forms
from django.core import validators
from django.core.exceptions import ValidationError
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext_lazy

__all__ = ["faults_of"]

Words = str | Promise

REQUIRED: tuple[tuple[type[forms.Field], Words], ...] = (
    (forms.FileField, _("Choose a file.")),
    (forms.MultipleChoiceField, _("Tick at least one.")),
    (forms.ModelMultipleChoiceField, _("Tick at least one.")),
    (forms.ChoiceField, _("Choose one of these.")),
    (forms.ModelChoiceField, _("Choose one of these.")),
    (forms.BooleanField, _("Tick this box to go on.")),
    (forms.IntegerField, _("Enter a number.")),
    (forms.DateField, _("Enter a date.")),
    (forms.TimeField, _("Enter a time.")),
    (forms.EmailField, _("Enter an e-mail address.")),
    (forms.UUIDField, _("This page has grown stale. Open it again, then send it.")),
    (forms.Field, _("Fill this in.")),
)

# The framework's messages, told apart by being the very same object, and ours.
IN_PLAIN_WORDS: tuple[tuple[Words, Words], ...] = (
    (forms.IntegerField.default_error_messages["invalid"], _("Enter a whole number, such as 12.")),
    (forms.DateField.default_error_messages["invalid"], _("Enter a date: day, month and year.")),
    (forms.TimeField.default_error_messages["invalid"], _("Enter a time, such as 19:30.")),
    (forms.UUIDField.default_error_messages["invalid"], _("This page has grown stale. Open it again, then send it.")),
    (forms.ChoiceField.default_error_messages["invalid_choice"], _("Choose one of these.")),
    (forms.ModelChoiceField.default_error_messages["invalid_choice"], _("Choose one of these.")),
    (forms.MultipleChoiceField.default_error_messages["invalid_choice"], _("Tick only what is offered here.")),
    (forms.ModelMultipleChoiceField.default_error_messages["invalid_choice"], _("Tick only what is offered here.")),
    (forms.FileField.default_error_messages["empty"], _("The file is empty. Choose another.")),
    (forms.FileField.default_error_messages["missing"], _("Choose a file.")),
    (validators.EmailValidator.message, _("Enter an e-mail address, such as name@club.example.")),
    (validators.validate_slug.message, _("Use letters, figures, hyphens and underscores only.")),
    (validators.MinValueValidator.message, _("Enter %(limit_value)s or more.")),
    (validators.MaxValueValidator.message, _("Enter %(limit_value)s or less.")),
    (
        validators.MaxLengthValidator.message,
        ngettext_lazy(
            "Write at most %(limit_value)d character; there are %(show_value)d.",
            "Write at most %(limit_value)d characters; there are %(show_value)d.",
            "limit_value",
        ),
    ),
)


def faults_of(field: forms.BoundField) -> Iterator[str]:
    """Everything that is wrong with a field, for a reader."""
    for error in field.errors.as_data():
        words = plain(error, field.field)
        yield str(words % error.params if error.params else words)


def plain(error: ValidationError, field: forms.Field) -> Words:
    if error.message is forms.Field.default_error_messages["required"]:
        return next(words for kind, words in REQUIRED if isinstance(field, kind))
    return next((ours for theirs, ours in IN_PLAIN_WORDS if error.message is theirs), error.message)
