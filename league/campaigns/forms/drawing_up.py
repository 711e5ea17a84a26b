"""Forms by which a campaign is founded and drawn up, all but its map and its rules."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.db.models import QuerySet
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.campaigns.forms.maps import VersionedForm
from league.campaigns.models import Campaign
from league.clubs.models import Member
from league.engines import war
from league.engines.documents.reading import MOST_BYTES, BadDocument, parse
from league.rosters.models import Roster
from league.rulesets.models import Ruleset
from league.web import SubmissionField

__all__ = [
    "AboutForm",
    "BeginForm",
    "FactionsForm",
    "ForceForm",
    "FoundForm",
    "ImportForm",
    "NewForceForm",
    "SeatForm",
    "StartForm",
]

FACTIONS_MOST, SPARE = 50, 3
NAME_HELP = _("As the chronicle will call it.")


class AboutForm(forms.Form):
    name = forms.CharField(label=_("Name of the campaign"), max_length=80, help_text=NAME_HELP)
    about = forms.CharField(
        label=_("About the war"), max_length=4000, required=False, widget=forms.Textarea(attrs={"rows": 5})
    )
    is_public = forms.BooleanField(
        label=Campaign._meta.get_field("is_public").verbose_name,  # noqa: SLF001 - Django's documented model API
        help_text=Campaign._meta.get_field("is_public").help_text,  # noqa: SLF001 - as above
        required=False,
    )


class FoundForm(AboutForm):
    submission = SubmissionField()
    ruleset = forms.ModelChoiceField(
        label=_("Ruleset its battles are fought by"), queryset=Ruleset.objects.none(), empty_label=_("choose")
    )
    field_order = ("name", "ruleset", "about", "is_public")

    def __init__(self, *args: Any, rulesets: QuerySet[Ruleset], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["ruleset"].queryset = rulesets


class ImportForm(forms.Form):
    submission = SubmissionField()
    ruleset = forms.ModelChoiceField(
        label=_("Ruleset its battles are fought by"), queryset=Ruleset.objects.none(), empty_label=_("choose")
    )
    file = forms.FileField(label=_("Campaign file"), widget=forms.FileInput(attrs={"accept": ".json,application/json"}))

    def __init__(self, *args: Any, rulesets: QuerySet[Ruleset], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["ruleset"].queryset = rulesets

    def clean_file(self) -> Any:
        file: UploadedFile = self.cleaned_data["file"]
        if (file.size or 0) > MOST_BYTES:
            raise forms.ValidationError(_now("The file is larger than %(most)s MB.") % {"most": MOST_BYTES // 1024**2})
        try:
            return parse(file.read())
        except BadDocument as failure:
            raise forms.ValidationError([str(each) for each in failure.faults]) from None

    def place_of(self, field: str) -> str:
        return field if field in self.fields else "file"


class FactionsForm(VersionedForm):
    """A line for each faction and some to spare; a line without a name is no faction."""

    def __init__(self, *args: Any, factions: Sequence[war.Faction], **options: Any) -> None:
        super().__init__(*args, **options)
        self.count = min(max(len(factions) + SPARE, self._sent()), FACTIONS_MOST)
        for number in range(self.count):
            there = factions[number] if number < len(factions) else None
            self.fields[f"key_{number}"] = forms.CharField(
                widget=forms.HiddenInput, required=False, max_length=40, initial=there.key if there else ""
            )
            self.fields[f"name_{number}"] = forms.CharField(
                label=_now("Name of faction %(number)s") % {"number": number + 1},
                required=False,
                max_length=80,
                initial=there.name if there else "",
            )
            self.fields[f"side_{number}"] = forms.CharField(
                label=_now("Side of faction %(number)s") % {"number": number + 1},
                required=False,
                max_length=40,
                initial=there.side if there else "",
            )

    def _sent(self) -> int:
        """How many lines came: a list that grew elsewhere meanwhile keeps them."""
        return sum(1 for name in self.data if name.startswith("name_"))

    def lines(self) -> Iterator[tuple[Any, Any, Any]]:
        for number in range(self.count):
            yield self[f"key_{number}"], self[f"name_{number}"], self[f"side_{number}"]

    def factions(self) -> list[war.Faction]:
        told = self.cleaned_data
        return [
            war.Faction(
                key=told.get(f"key_{number}", ""), name=told[f"name_{number}"], side=told.get(f"side_{number}", "")
            )
            for number in range(self.count)
            if told.get(f"name_{number}")
        ]

    def place_of(self, field: str) -> str:
        """`factions.2.name` of the factions sent is the third line that has a name."""
        part, _dot, rest = field.partition(".")
        number, _dot, which = rest.partition(".")
        if part != "factions" or not number.isdigit():
            return field
        named = [at for at in range(self.count) if self.cleaned_data.get(f"name_{at}")]
        at = named[int(number)] if int(number) < len(named) else 0
        return f"{which if which in {'name', 'side'} else 'name'}_{at}"


class StartForm(VersionedForm):
    """For each region who holds it, whose depot is there and how much supply lies there."""

    def __init__(self, *args: Any, began: war.Campaign, **options: Any) -> None:
        super().__init__(*args, **options)
        self.began = began
        holders = {each.region: each.faction for each in began.holdings}
        depots = {each.region: each.faction for each in began.depots}
        stocks = {each.region: each.amount for each in began.stocks}
        parties = [(each.key, each.name) for each in began.factions]
        for number, region in enumerate(began.map.regions):
            called = {"region": region.name}
            self.fields[f"holder_{number}"] = forms.ChoiceField(
                label=_now("Who holds %(region)s") % called,
                choices=[("", _now("nobody")), *parties],
                required=False,
                initial=holders.get(region.key, ""),
            )
            self.fields[f"depot_{number}"] = forms.ChoiceField(
                label=_now("Depot in %(region)s") % called,
                choices=[("", _now("none")), *parties],
                required=False,
                initial=depots.get(region.key, ""),
            )
            self.fields[f"stock_{number}"] = forms.IntegerField(
                label=_now("Loads in %(region)s") % called,
                min_value=0,
                max_value=1_000_000,
                required=False,
                initial=stocks.get(region.key),
            )

    def lines(self) -> Iterator[tuple[Any, Any, Any, Any]]:
        for number, region in enumerate(self.began.map.regions):
            yield region, self[f"holder_{number}"], self[f"depot_{number}"], self[f"stock_{number}"]

    def start(self) -> dict[str, list[Any]]:
        """Holdings, depots and stocks; a stock is the depot's, or the holder's where there is none."""
        told = self.cleaned_data
        holdings, depots, stocks = [], [], []
        for number, region in enumerate(self.began.map.regions):
            holder, depot = told.get(f"holder_{number}", ""), told.get(f"depot_{number}", "")
            if holder:
                holdings.append(war.Holding(region=region.key, faction=holder))
            if depot:
                depots.append(war.Depot(region=region.key, faction=depot))
            if told.get(f"stock_{number}"):
                owner = depot or holder
                stocks.append(war.Stock(region=region.key, faction=owner, amount=told[f"stock_{number}"]))
        return {"holdings": holdings, "depots": depots, "stocks": stocks}

    def clean(self) -> dict[str, Any]:
        """Supply needs a depot, or a source that somebody holds: said at its own field."""
        told = super().clean() or {}
        for number, region in enumerate(self.began.map.regions):
            kept = told.get(f"depot_{number}") or (region.produces and told.get(f"holder_{number}"))
            if told.get(f"stock_{number}") and not kept:
                words = _now("Supply lies at a depot, or at a source of supply that somebody holds.")
                self.add_error(f"stock_{number}", words)
        return told


class ForceForm(VersionedForm):
    faction = forms.ChoiceField(label=_("Fights for"))
    region = forms.ChoiceField(label=_("Begins in"))
    need = forms.IntegerField(
        label=_("Supply it needs"), min_value=0, max_value=1_000_000, initial=3, help_text=_("Loads a turn.")
    )
    pace = forms.IntegerField(
        label=_("Pace"), min_value=1, max_value=20, initial=1, help_text=_("How many roads it may follow in a turn.")
    )

    def __init__(self, *args: Any, began: war.Campaign, **options: Any) -> None:
        super().__init__(*args, **options)
        places = sorted(((each.key, each.name) for each in began.map.regions), key=lambda each: each[1].casefold())
        self.fields["faction"].choices = [("", _now("choose")), *((each.key, each.name) for each in began.factions)]
        self.fields["region"].choices = [("", _now("choose")), *places]

    def facts(self) -> dict[str, Any]:
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}


class RosterField(forms.ModelChoiceField):
    def label_from_instance(self, obj: Roster) -> str:  # type: ignore[override]  # this field offers rosters only
        return f"{obj.name} ({obj.owner.name})"


class NewForceForm(ForceForm):
    roster = RosterField(label=_("Roster"), queryset=Roster.objects.none(), empty_label=_("choose"))
    field_order = ("roster", "faction", "region", "need", "pace")

    def __init__(self, *args: Any, rosters: QuerySet[Roster], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["roster"].queryset = rosters


class PersonField(forms.ModelChoiceField):
    def label_from_instance(self, obj: Member) -> str:  # type: ignore[override]  # this field offers people only
        return obj.name


class SeatForm(forms.Form):
    faction = forms.ChoiceField(label=_("Faction"))
    member = PersonField(label=_("Who leads it"), queryset=Member.objects.none(), empty_label=_("choose"))

    def __init__(self, *args: Any, factions: Sequence[war.Faction], people: QuerySet[Member], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["faction"].choices = [("", _now("choose")), *((each.key, each.name) for each in factions)]
        self.fields["member"].queryset = people


class BeginForm(forms.Form):
    pass
