"""What the pages about a holding ask. Rules stand in the services; here is only how a thing is typed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, Venue
from league.clubs.queries import members_of, venues_of
from league.stores.models import Act, Condition, ItemKind
from league.web import SubmissionField

__all__ = ["BookForm", "CountField", "HoldingEditForm", "HoldingForm", "PhotoForm", "PlaceForm", "kind_choices"]


class CountField(forms.IntegerField):
    """A whole number of pieces, with a minus and a plus for a thumb; the service says how many may be."""

    def __init__(self, **options: Any) -> None:
        stepper = forms.NumberInput({"class": "stepper", "inputmode": "numeric"})
        super().__init__(
            **{
                "label": _("How many"),
                "min_value": 1,
                "initial": 1,
                "widget": stepper,
                "error_messages": {"required": _("Say how many.")},
                **options,
            }
        )


def kind_choices(kinds: Iterable[ItemKind]) -> Iterator[tuple[Any, Any]]:
    """Kinds by what they are for, as a select shows groups."""
    yield "", _("choose")
    for _category, group in groupby(kinds, key=lambda kind: kind.category):
        of_category = list(group)
        yield str(of_category[0].get_category_display()), [(kind.pk, kind.name) for kind in of_category]


class PlaceForm(forms.Form):
    """Where pieces lie: at a hall, or with somebody; the words say which shelf or box."""

    place = forms.CharField(
        label=_("Where it lies"), max_length=120, required=False, help_text=_("Such as: red tin, second shelf.")
    )
    venue = forms.ModelChoiceField(
        label=_("At the hall"), queryset=Venue.objects.none(), required=False, empty_label=_("not at a hall")
    )
    keeper = forms.ModelChoiceField(
        label=_("Looked after by"), queryset=Member.objects.none(), required=False, empty_label=_("nobody by name")
    )

    def __init__(self, *args: Any, club: Club, is_owned: bool = False, **options: Any) -> None:
        """`is_owned`: it is a member's own and with that member, so nobody else looks after it."""
        super().__init__(*args, **options)
        self.fields["venue"].queryset = venues_of(club).filter(closed_at=None)
        self.fields["keeper"].queryset = members_of(club)
        if is_owned:
            del self.fields["keeper"]


class HoldingEditForm(PlaceForm):
    """What a holding is like. What it is and whose stays; how many there are only its record changes."""

    colour = forms.CharField(
        label=_("Colour"),
        max_length=40,
        required=False,
        widget=forms.TextInput({"list": "colours", "autocomplete": "off"}),
    )
    label = forms.ChoiceField(
        label=_("Lies under the label of"),
        required=False,
        help_text=_("What lies in one box or on one shelf shares a label and is counted together."),
    )
    scale_mm = forms.IntegerField(
        label=_("Scale in mm"),
        min_value=1,
        required=False,
        help_text=_("Such as 20 or 28: figures of different scales look out of place side by side."),
    )
    condition = forms.ChoiceField(label=_("Condition"), choices=Condition.choices, initial=Condition.GOOD)
    kept = forms.IntegerField(
        label=_("Kept for own use"),
        min_value=0,
        initial=0,
        required=False,
        help_text=_("So many are never counted as spare."),
        widget=forms.NumberInput({"class": "stepper", "inputmode": "numeric"}),
    )
    is_private = forms.BooleanField(
        label=_("Only I see it"), required=False, help_text=_("It is then not found by others and not planned with.")
    )
    note = forms.CharField(label=_("Note"), max_length=1000, required=False, widget=forms.Textarea({"rows": 3}))
    field_order = ("colour", "place", "venue", "keeper", "label", "scale_mm", "condition", "kept", "is_private", "note")

    def __init__(self, *args: Any, shelves: Iterable[tuple[str, str]], **options: Any) -> None:
        """`shelves` are the owner's labels: code, and what lies there."""
        super().__init__(*args, **options)
        self.fields["label"].choices = [("", _("its own")), *shelves]
        if not shelves:
            del self.fields["label"]

    def clean_kept(self) -> int:
        return self.cleaned_data["kept"] or 0


class HoldingForm(HoldingEditForm):
    """Kit that nobody has written down yet: what, how many, colour, where; the rest is folded away."""

    submission = SubmissionField()
    kind = forms.TypedChoiceField(label=_("What"), coerce=int, error_messages={"required": _("Choose what it is.")})
    count = CountField()
    act = forms.ChoiceField(label=_("How it came"), choices=[], required=False)
    reason = forms.CharField(label=_("From where"), max_length=200, required=False)
    owner = forms.ModelChoiceField(
        label=_("Whose"), queryset=Member.objects.none(), required=False, empty_label=_("the club's")
    )
    field_order = (
        "kind",
        "count",
        "colour",
        "place",
        "owner",
        "venue",
        "keeper",
        "label",
        "scale_mm",
        "condition",
        "kept",
    )
    first_fields = ("kind", "count", "colour", "place")

    def __init__(self, *args: Any, kinds: Iterable[ItemKind], owners: Any = None, **options: Any) -> None:
        """`owners` None: the kit is the reader's own and nobody is asked."""
        super().__init__(*args, is_owned=owners is None, **options)
        self.kinds = {kind.pk: kind for kind in kinds}
        self.fields["kind"].choices = list(kind_choices(self.kinds.values()))
        self.fields["act"].choices = [(each.value, each.label) for each in (Act.RECEIVED, Act.BOUGHT, Act.MADE)]
        if owners is None:
            del self.fields["owner"]
        else:
            self.fields["owner"].queryset = owners

    def clean_kind(self) -> ItemKind:
        return self.kinds[self.cleaned_data["kind"]]

    def first(self) -> list[forms.BoundField]:
        return [self[name] for name in self.first_fields]

    def folded(self) -> list[forms.BoundField]:
        return [field for field in self.visible_fields() if field.name not in self.first_fields]

    def is_unfolded(self) -> bool:
        """Open where something is wrong inside, so that nobody looks for it in vain."""
        return any(field.errors for field in self.folded())


class BookForm(forms.Form):
    """So many came, or are gone, and why."""

    submission = SubmissionField()
    count = CountField()
    reason = forms.CharField(label=_("Why, or from where"), max_length=200, required=False)


class PhotoForm(forms.Form):
    file = forms.FileField(
        label=_("Photo"),
        help_text=_("JPEG, PNG or WebP, up to 10 MB. It is made smaller, and where and when it was taken is removed."),
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        error_messages={"required": _("Choose a photo."), "empty": _("The file is empty.")},
    )
