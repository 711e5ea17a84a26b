"""How a roster is written, changed and copied."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.engines.rulesets import Ruleset as Rules
from league.errors import Refused
from league.rosters.forms.units import UnitRow
from league.rosters.services.facts import UnitFacts
from league.rulesets.models import Ruleset
from league.web import SubmissionField

__all__ = ["ChooseRulesetForm", "CopyForm", "NewRosterForm", "RosterFacts", "RosterForm"]

BLANK_ROWS = 6


class ChooseRulesetForm(forms.Form):
    """By which ruleset a new roster is written; sent by GET, since it only opens the next page."""

    ruleset = forms.ModelChoiceField(
        label=_("By which ruleset?"), queryset=Ruleset.objects.none(), widget=forms.RadioSelect, empty_label=None
    )

    def __init__(self, *args: Any, rulesets: QuerySet[Ruleset], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["ruleset"].queryset = rulesets


class RosterFacts(forms.Form):
    name = forms.CharField(label=_("Name"), max_length=80, error_messages={"required": _("Enter the roster's name.")})
    faction = forms.CharField(label=_("Faction"), max_length=80, required=False)
    points_limit = forms.IntegerField(
        label=_("Points limit"),
        min_value=0,
        max_value=1_000_000,
        required=False,
        help_text=_("What you agreed on; the ruleset's own limits hold beside it."),
    )
    note = forms.CharField(label=_("Note"), max_length=2000, required=False, widget=forms.Textarea({"rows": 3}))


class RosterForm(RosterFacts):
    """What a roster is called; its units have pages of their own."""

    version = forms.IntegerField(widget=forms.HiddenInput)


class OwnedFacts(RosterFacts):
    """A roster to be. Whoever may write for themselves only is not asked for whom."""

    submission = SubmissionField()
    owner = forms.ModelChoiceField(label=_("Owner"), queryset=Member.objects.none(), empty_label=None)
    field_order = ("owner", "name", "faction", "points_limit", "note")

    def __init__(self, *args: Any, owners: QuerySet[Member], me: Member, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["owner"].queryset = owners
        self.fields["owner"].initial = me.pk
        if len(owners) == 1:
            self.fields["owner"].widget = forms.HiddenInput()


class NewRosterForm(OwnedFacts):
    """A new roster with a row for each unit; rows left blank are left out."""

    def __init__(self, *args: Any, rules: Rules, **options: Any) -> None:
        super().__init__(*args, **options)
        rows = forms.formset_factory(UnitRow, extra=BLANK_ROWS, max_num=100, validate_max=True)
        self.units = rows(self.data if self.is_bound else None, prefix="units", form_kwargs={"rules": rules})

    def is_valid(self) -> bool:
        # Both are asked, so that everything wrong is told at once.
        return all([super().is_valid(), self.units.is_valid()])

    def kept(self) -> list[UnitRow]:
        return [row for row in self.units if row.has_changed()]

    def unit_facts(self) -> list[UnitFacts]:
        return [row.facts() for row in self.kept()]

    def has_errors(self) -> bool:
        if not self.is_bound:
            return False
        return bool(self.errors) or bool(self.units.total_error_count())

    def show_refusal(self, refusal: Refused) -> None:
        """Each violation beside the field it is about: `units.2.points` on the third row that was filled in."""
        for field, words in refusal.by_field().items():
            form, name = self.home_of(field)
            for message in words:
                form.add_error(name if name in form.fields else None, message)

    def home_of(self, place: str) -> tuple[forms.BaseForm, str]:
        if not place.startswith("units."):
            return self, place
        _units, index, field = place.split(".", 2)
        return self.kept()[int(index)], field


class CopyForm(forms.Form):
    submission = SubmissionField()
    name = forms.CharField(label=_("Name of the copy"), max_length=80)
    owner = forms.ModelChoiceField(label=_("Owner"), queryset=Member.objects.none(), empty_label=None)

    def __init__(self, *args: Any, owners: QuerySet[Member], me: Member, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["owner"].queryset = owners
        self.fields["owner"].initial = me.pk
        if len(owners) == 1:
            self.fields["owner"].widget = forms.HiddenInput()
