"""A list of kit, typed, pasted or as a file; looked at before it is taken in."""

from __future__ import annotations

import hashlib
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.engines.text import decoded
from league.stores.queries.kit_lists import KitPreview
from league.web import SubmissionField

__all__ = ["KitListForm"]

TEXT_LONGEST = 200_000


class KitListForm(forms.Form):
    """`seen` is the digest of the list that was shown: only that is written."""

    submission = SubmissionField()
    text = forms.CharField(
        label=gettext_lazy("What you have, one thing a line, or CSV, or JSON"),
        required=False,
        strip=False,
        max_length=TEXT_LONGEST,
        widget=forms.Textarea({"rows": 10, "spellcheck": "false"}),
        help_text=gettext_lazy("Such as: 12 suppression markers, red, keep 2, in the red tin"),
    )
    file = forms.FileField(label=gettext_lazy("Or a file"), required=False)
    owner = forms.ModelChoiceField(
        label=gettext_lazy("Whose"),
        queryset=Member.objects.none(),
        required=False,
        empty_label=gettext_lazy("the club's"),
    )
    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, owners: Any = None, me: Member, **options: Any) -> None:
        """`owners` None: the kit is the reader's own and nobody is asked."""
        super().__init__(*args, **options)
        self.me = me
        if owners is None:
            del self.fields["owner"]
        else:
            self.fields["owner"].queryset = owners

    def clean(self) -> dict[str, Any]:
        said = self.cleaned_data
        file = said.get("file")
        if file and file.size > TEXT_LONGEST:
            self.add_error("file", _("The file is larger than a list of kit can be."))
        elif file:
            said["text"] = decoded(file.read())
        if not self.errors and not said["text"].strip():
            self.add_error("text", _("Type or paste what you have, or choose a file."))
        return said

    @property
    def owner_chosen(self) -> Member | None:
        return self.cleaned_data["owner"] if "owner" in self.fields else self.me

    @property
    def digest(self) -> str:
        text = self.cleaned_data["text"].removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").strip("\n")
        owner = self.owner_chosen
        return hashlib.sha256(f"{owner.pk if owner else ''}\n{text}".encode()).hexdigest()

    def is_confirmed(self, preview: KitPreview) -> bool:
        return self.cleaned_data["seen"] == self.digest and preview.can_be_written

    def as_preview(self) -> None:
        """Turn into the form of the second step: the text in its field, the file in the text, the digest beside."""
        self.data = self.data.copy()
        self.data[self.add_prefix("seen")] = self.digest
        self.data[self.add_prefix("text")] = self.cleaned_data["text"]
