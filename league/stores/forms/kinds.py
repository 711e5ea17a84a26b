"""What the quartermaster's pages about a kind ask."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.engines import sizes
from league.stores.models import Category
from league.web import SubmissionField

__all__ = ["KindForm", "LengthsField", "MoneyField", "NewKindForm", "OfferForm"]

PENCE = Decimal(100)


class MoneyField(forms.DecimalField):
    """Pounds and pence as people write them; cleaned to whole pence, since money is never a fraction here."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"min_value": 0, "max_digits": 7, "decimal_places": 2, **options})
        self.widget.attrs |= {"inputmode": "decimal"}
        if isinstance(self.widget, forms.NumberInput):
            self.widget.attrs["step"] = "0.01"

    def to_python(self, value: Any) -> Decimal | None:
        return super().to_python(value.strip().removeprefix("£") if isinstance(value, str) else value)

    def clean(self, value: Any) -> int | None:
        pounds = super().clean(value)
        return None if pounds is None else int(pounds * PENCE)


class LengthsField(forms.CharField):
    """Lengths as people type them, "1, 2 and 3 in"; cleaned to whole millimetres."""

    default_error_messages = {
        "unreadable": _("Enter lengths with their unit, such as 36 in, or 1, 2, 3 and 4 in."),
        "no_unit": _("Say the unit as well: ft, in, cm, m or mm."),
        "unknown_unit": _("The unit is ft, in, cm, m or mm."),
        "zero": _("A length is longer than nothing."),
    }

    def prepare_value(self, value: Any) -> Any:
        return sizes.lengths_as_text(value) if isinstance(value, list | tuple) else value

    def clean(self, value: Any) -> list[int]:
        typed = super().clean(value)
        if not typed:
            return []
        try:
            return list(sizes.parse_lengths(typed))
        except sizes.NotASize as reason:
            code = reason.code if reason.code in self.default_error_messages else "unreadable"
            raise forms.ValidationError(self.error_messages[code], code=code) from reason


class KindForm(forms.Form):
    """A sort of thing, as the quartermaster describes it."""

    name = forms.CharField(label=_("Name"), max_length=80, error_messages={"required": _("Enter a name.")})
    category = forms.ChoiceField(label=_("What it is for"), choices=Category.choices, initial=Category.MARKER)
    use = forms.CharField(
        label=_("Serves as"),
        max_length=40,
        required=False,
        help_text=_(
            "The word a ruleset asks for it by, such as suppression, where what it is for does not say it all."
        ),
    )
    sides = forms.IntegerField(
        label=_("Sides"), min_value=2, max_value=1000, required=False, help_text=_("Of a die or a numbered counter.")
    )
    sizes_mm = LengthsField(
        label=_("Sizes"),
        max_length=60,
        required=False,
        help_text=_(
            "Across a template, along a ruler, both edges of a mat. Such as 36 in, or 1, 2, 3 and 4 in for a nested template."
        ),
    )
    unit = forms.CharField(
        label=_("Counted in"), max_length=40, required=False, help_text=_("Pieces, unless you say otherwise.")
    )
    bulk_ml = forms.IntegerField(
        label=_("Room a piece takes, in ml"),
        min_value=0,
        required=False,
        initial=0,
        help_text=_("A token takes about 1 ml, a shoe box about 10 000."),
    )
    can_be_made = forms.BooleanField(label=_("It can be made or printed"), required=False)
    how_made = forms.CharField(
        label=_("How it is made"), max_length=1000, required=False, widget=forms.Textarea({"rows": 3})
    )
    cautions = forms.MultipleChoiceField(label=_("Usual cautions"), required=False, widget=forms.CheckboxSelectMultiple)
    caution = forms.CharField(
        label=_("The club's own caution"), max_length=1000, required=False, widget=forms.Textarea({"rows": 2})
    )

    def __init__(self, *args: Any, cautions: Any, **options: Any) -> None:
        """`cautions` are the known ones, as pairs of key and words."""
        super().__init__(*args, **options)
        self.fields["cautions"].choices = cautions

    def clean_bulk_ml(self) -> int:
        return self.cleaned_data["bulk_ml"] or 0


class NewKindForm(KindForm):
    submission = SubmissionField()
    key = forms.SlugField(
        label=_("Short name"),
        max_length=60,
        required=False,
        help_text=_("For imports and programs, such as red-markers. Left empty, it is made from the name."),
    )
    field_order = ("name", "key", "category")


class OfferForm(forms.Form):
    pieces = forms.IntegerField(
        label=_("Pieces in the pack"), min_value=1, error_messages={"required": _("Say how many are in the pack.")}
    )
    price_pence = MoneyField(label=_("Price of the pack"), error_messages={"required": _("Enter the price.")})
    note = forms.CharField(
        label=_("Where"), max_length=120, required=False, help_text=_("Such as: craft shop, Mill Lane.")
    )
