"""Forms of the map: one region, one road, the whole of it as text or file."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.campaigns.queries.drawing_up_edits import Homeless
from league.campaigns.queries.drawing_up_files import ReadMap, read_any
from league.campaigns.queries.drawing_words import KINDS
from league.engines.documents.reading import MOST_BYTES, BadDocument
from league.engines.maps import Map, Region, Road
from league.web import SubmissionField

__all__ = ["ChangedMapForm", "MapFileForm", "MapForm", "RegionForm", "RemoveForm", "RoadForm"]

FAULTS_SHOWN = 100
AREA = {"rows": 12, "spellcheck": "false", "class": "map-text"}


class VersionedForm(forms.Form):
    """`version` is that of the campaign the reader saw."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def version_seen(self) -> int | None:
        seen: int | None = self.cleaned_data.get("version")
        return seen


class RemoveForm(VersionedForm):
    pass


class RegionForm(VersionedForm):
    name = forms.CharField(label=_("Name"), max_length=80)
    terrain = forms.CharField(
        label=_("Terrain"), max_length=40, help_text=_("A word of your own, such as marsh, hills or town.")
    )
    x = forms.IntegerField(label=_("From the left"), min_value=0, max_value=1000, help_text=_("0 to 1000"))
    y = forms.IntegerField(label=_("From the top"), min_value=0, max_value=1000, help_text=_("0 to 1000"))
    worth = forms.IntegerField(
        label=_("Worth"), min_value=0, max_value=1_000_000, initial=1, help_text=_("Points a turn for who holds it.")
    )
    produces = forms.IntegerField(
        label=_("Supply it yields"), min_value=0, max_value=1_000_000, initial=0, help_text=_("Loads a turn; 0: none.")
    )
    stronghold = forms.BooleanField(label=_("A stronghold"), required=False)
    port = forms.BooleanField(label=_("A port"), required=False)

    def region(self, key: str = "") -> Region:
        facts = {name: value for name, value in self.cleaned_data.items() if name != "version"}
        return Region(key=key, **facts)

    def place_of(self, field: str) -> str:
        return field.rsplit(".", 1)[-1]


class RoadForm(VersionedForm):
    a = forms.ChoiceField(label=_("From"))
    b = forms.ChoiceField(label=_("To"))
    kind = forms.ChoiceField(label=_("Kind"), choices=list(KINDS.items()), initial="road")
    capacity = forms.IntegerField(
        label=_("Carries"), min_value=0, max_value=1_000_000, initial=6, help_text=_("Loads of supply a turn.")
    )
    loss = forms.IntegerField(
        label=_("Loses, in a hundred"),
        min_value=0,
        max_value=100,
        initial=5,
        help_text=_("How many of a hundred loads are lost on this road."),
    )

    def __init__(self, *args: Any, of: Map, **options: Any) -> None:
        super().__init__(*args, **options)
        places = sorted(((each.key, each.name) for each in of.regions), key=lambda each: each[1].casefold())
        for end in ("a", "b"):
            self.fields[end].choices = [("", _now("choose")), *places]

    def road(self, key: str = "") -> Road:
        facts = {name: value for name, value in self.cleaned_data.items() if name != "version"}
        return Road(key=key, **facts)

    def place_of(self, field: str) -> str:
        return field.rsplit(".", 1)[-1]


class MapForm(VersionedForm):
    """The whole map as text: what the editor sends, and what somebody may write by hand."""

    text = forms.CharField(label=_("The map as text"), widget=forms.Textarea(attrs=AREA), strip=False)
    read: ReadMap

    def clean_text(self) -> str:
        text: str = self.cleaned_data["text"]
        self.read = self.reading(text.encode("utf-8", "surrogatepass"))
        return text

    def reading(self, data: bytes) -> ReadMap:
        try:
            return read_any(data)
        except BadDocument as failure:
            faults = [str(each) for each in failure.faults[:FAULTS_SHOWN]]
            if len(failure.faults) > FAULTS_SHOWN:
                faults.append(_now("And %(more)s faults more.") % {"more": len(failure.faults) - FAULTS_SHOWN})
            raise forms.ValidationError(faults) from None

    def place_of(self, field: str) -> str:
        return field if field in self.fields else "text"


class MapFileForm(MapForm):
    """A file or pasted text; where a file is refused its words come back in the text box, to be mended there."""

    file = forms.FileField(label=_("File"), required=False, help_text=_("A map document (JSON) or GraphML."))
    text = forms.CharField(label=_("Or paste it here"), widget=forms.Textarea(attrs=AREA), required=False, strip=False)
    field_order = ("file", "text")

    def clean_text(self) -> str:
        text: str = self.cleaned_data.get("text", "")
        return text

    def clean(self) -> dict[str, Any]:
        file: UploadedFile | None = self.cleaned_data.get("file")
        if file is not None and (file.size or 0) > MOST_BYTES:
            self.add_error("file", _now("The file is larger than %(most)s MB.") % {"most": MOST_BYTES // 1024**2})
            return self.cleaned_data
        data = file.read() if file is not None else self.cleaned_data.get("text", "").encode("utf-8", "surrogatepass")
        try:
            self.read = self.reading(data)
        except forms.ValidationError as failure:
            self.add_error("file" if file is not None else "text", failure)
            if file is not None:
                self.data = self.data.copy()
                self.data["text"] = data.decode("utf-8", "replace")
        return self.cleaned_data


class ChangedMapForm(MapForm):
    """The map of a running war, why it changes, and what becomes of what stands on ground that goes."""

    submission = SubmissionField()
    turn = forms.IntegerField(widget=forms.HiddenInput)
    looked = forms.CharField(widget=forms.HiddenInput, required=False)  # a digest of the map that was looked at
    reason = forms.CharField(
        label=_("Why it changes, for all to read"), max_length=1000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def ask_about(self, homeless: Sequence[tuple[Homeless, Sequence[tuple[str, str]]]]) -> None:
        """A question for each force and stock that loses its ground."""
        for number, (each, places) in enumerate(homeless):
            gone = _now("leaves the war") if each.what == "force" else _now("spoils")
            self.fields[f"fate_{number}"] = forms.ChoiceField(
                label=each.name, choices=[*places, ("", gone)], required=False, initial=each.refuge
            )

    def fates(self) -> list[Any]:
        """The questions, for the template."""
        return [self[name] for name in self.fields if name.startswith("fate_")]

    def choices_for(self, homeless: Sequence[Homeless]) -> dict[str, str]:
        return {each.key: self.cleaned_data.get(f"fate_{number}", "") for number, each in enumerate(homeless)}
