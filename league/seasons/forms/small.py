"""The short forms: entering, leaving, rounds, adjustments, looking back, files."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.engines.documents.reading import MOST_BYTES, BadDocument, parse
from league.rulesets.models import Ruleset
from league.seasons.forms.points import HalfPointsField
from league.seasons.models import Entrant, Round
from league.web import SubmissionField

__all__ = [
    "AdjustForm",
    "EnterForm",
    "EntrantForm",
    "ImportForm",
    "LookBackForm",
    "NewRoundForm",
    "RoundForm",
    "RulesetForm",
    "WithdrawForm",
]


def date_input() -> forms.DateInput:
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class RulesetForm(forms.Form):
    """Which ruleset a new season plays by; sent by GET."""

    ruleset = forms.ModelChoiceField(label=_("Ruleset"), queryset=Ruleset.objects.none(), empty_label=_("choose"))

    def __init__(self, *args: Any, rulesets: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["ruleset"].queryset = rulesets


class PeopleField(forms.TypedMultipleChoiceField):
    """Members by tick boxes; cleans to their numbers."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"coerce": int, "widget": forms.CheckboxSelectMultiple, **options})

    def offer(self, people: Iterable[Member]) -> None:
        self.choices = [
            (member.pk, _now("%(name)s (guest)") % {"name": member.name} if member.is_guest else member.name)
            for member in people
        ]


class EnterForm(forms.Form):
    member_ids = PeopleField(label=_("Who plays"))
    name = forms.CharField(
        label=_("Name of their team"),
        max_length=80,
        required=False,
        help_text=_("Without a team's name everybody ticked enters for themselves."),
    )

    def __init__(self, *args: Any, people: Iterable[Member], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["member_ids"].offer(people)


class EntrantForm(EnterForm):
    name = forms.CharField(label=_("Name in the table"), max_length=80)
    field_order = ("name", "member_ids")


class WithdrawForm(forms.Form):
    reason = forms.CharField(label=_("Why they leave, for everybody to read"), max_length=200)
    after_round = forms.TypedChoiceField(
        label=_("The last round they took part in"), coerce=int, empty_value=None, required=False
    )

    def __init__(self, *args: Any, rounds: Iterable[Round], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["after_round"].choices = [
            ("", _("the last one they have a result in")),
            ("0", _("none")),
            *((each.number, str(each)) for each in rounds if each.number),
        ]


class RoundForm(forms.Form):
    on = forms.DateField(label=_("Date"), required=False, widget=date_input())
    note = forms.CharField(label=_("Note"), max_length=200, required=False)


class NewRoundForm(RoundForm):
    number = forms.IntegerField(label=_("Number of the round"), min_value=1, max_value=1000)
    field_order = ("number", "on", "note")


class AdjustForm(forms.Form):
    submission = SubmissionField()
    entrant = forms.ModelChoiceField(label=_("Whose points"), queryset=Entrant.objects.none(), empty_label=_("choose"))
    points_x2 = HalfPointsField(label=_("How many points"), help_text=_("Write -1 or -1½ to take points."))
    reason = forms.CharField(label=_("Why, for everybody to read"), max_length=200)
    after_round = forms.TypedChoiceField(label=_("Counts"), coerce=int, empty_value=0, required=False)

    def __init__(self, *args: Any, entrants: Any, rounds: Iterable[Round], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["entrant"].queryset = entrants
        self.fields["after_round"].choices = [
            (0, _("from the start of the season")),
            *((each.number, _now("from %(round)s on") % {"round": each}) for each in rounds if each.number),
        ]


class LookBackForm(forms.Form):
    """The table as it stood; sent by GET."""

    round = forms.TypedChoiceField(label=_("After round"), coerce=int, empty_value=None, required=False)
    date = forms.DateField(label=_("Or at the end of a day"), required=False, widget=date_input())

    def __init__(self, *args: Any, numbers: Iterable[int], **options: Any) -> None:
        super().__init__(*args, **options)
        choices = [(number, _now("Round %(number)s") % {"number": number}) for number in numbers]
        self.fields["round"].choices = [("", _("the latest")), *choices]

    def moment(self) -> dict[str, Any]:
        """Arguments for `queries.standings`; what cannot be read is left out."""
        data = self.cleaned_data if self.is_valid() else getattr(self, "cleaned_data", {})
        return {"through_round": data.get("round"), "through_date": data.get("date")}


class DocumentField(forms.FileField):
    """A JSON file; cleans to what is in it."""

    def clean(self, data: Any, initial: Any = None) -> Any:
        file: UploadedFile | None = super().clean(data, initial)
        if file is None:
            return None
        if file.size is not None and file.size > MOST_BYTES:
            raise ValidationError(_now("The file is larger than 20 MB."))
        try:
            return parse(file.read())
        except BadDocument as failure:
            raise ValidationError([str(fault) for fault in failure.faults]) from None


class ImportForm(forms.Form):
    submission = SubmissionField()
    ruleset = forms.ModelChoiceField(
        label=_("Ruleset its games were played by"), queryset=Ruleset.objects.none(), empty_label=_("choose")
    )
    document = DocumentField(label=_("Season file"), widget=forms.FileInput(attrs={"accept": ".json,application/json"}))

    def __init__(self, *args: Any, rulesets: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["ruleset"].queryset = rulesets
