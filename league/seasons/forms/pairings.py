"""Pairing a round by hand, several pairings on one page, and marking who did not play."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Table
from league.engines.rulesets import Scenario
from league.seasons.models import Entrant, PairingSide, Unplayed
from league.seasons.services.pairings import PairingPlan
from league.web import SubmissionField

__all__ = ["MarksForm", "PairingsForm"]

# A page of choices has to stay a page: of a crowd only a few pairings are typed at once.
ROWS_MOST = 12
CROWD = 200
ROWS_OF_A_CROWD = 2
SEATS = ("first", "second", "third", "fourth")
ALONE = {"bye": _("nobody: a bye"), "absent": _("nobody: asked not to play")}


class PairingsForm(forms.Form):
    """Rows of pairings; a row nobody is chosen in is left out."""

    submission = SubmissionField()

    def __init__(
        self,
        *args: Any,
        entrants: Sequence[Entrant],
        tables: Iterable[Table],
        scenarios: Iterable[Scenario],
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        most = ROWS_MOST if len(entrants) <= CROWD else ROWS_OF_A_CROWD
        self.rows = max(1, min(most, (len(entrants) + 1) // 2))
        self.entrants = {entrant.pk: entrant for entrant in entrants}
        self.tables = {table.pk: table for table in tables}
        people = [(entrant.pk, entrant.name) for entrant in entrants]
        places = [(table.pk, f"{table} ({table.venue.name})") for table in self.tables.values()]
        stages = [(scenario.key, scenario.name) for scenario in scenarios]
        for row in range(self.rows):
            labels = (_("Who"), _("Against"), _("Third side"), _("Fourth side"))
            for seat, label in zip(SEATS, labels, strict=True):
                offered = [*ALONE.items(), *people] if seat == "second" else people
                self.fields[f"{seat}_{row}"] = forms.ChoiceField(
                    label=label,
                    choices=[("", _("choose") if seat in SEATS[:2] else _("none")), *offered],
                    required=False,
                )
            self.fields[f"table_{row}"] = forms.TypedChoiceField(
                label=_("Table"),
                choices=[("", _("any table")), *places],
                coerce=int,
                empty_value=None,
                required=False,
            )
            self.fields[f"scenario_{row}"] = forms.ChoiceField(
                label=_("Scenario"), choices=[("", _("open")), *stages], required=False
            )

    def lines(self) -> list[list[BoundField]]:
        """The fields of each pairing."""
        parts = (*SEATS[:2], "table", "scenario")
        return [[self[f"{part}_{row}"] for part in parts] for row in range(self.rows)]

    def lines_and_more(self) -> list[tuple[list[BoundField], list[BoundField]]]:
        """The fields of each pairing, and those for a game of three or four sides."""
        more = [[self[f"{seat}_{row}"] for seat in SEATS[2:]] for row in range(self.rows)]
        return list(zip(self.lines(), more, strict=True))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for row in self.filled(data):
            if not data.get(f"first_{row}"):
                self.add_error(f"first_{row}", _now("Say who is paired."))
            elif not data.get(f"second_{row}"):
                self.add_error(f"second_{row}", _now("Say against whom, or that it is a bye."))
        if not self.filled(data) and not self.errors:
            self.add_error(None, _now("Choose at least one pairing."))
        return data

    def filled(self, data: Mapping[str, Any]) -> list[int]:
        return [row for row in range(self.rows) if any(data.get(f"{seat}_{row}") for seat in SEATS)]

    def plans(self) -> list[PairingPlan]:
        return [self.plan(row) for row in self.filled(self.cleaned_data)]

    def plan(self, row: int) -> PairingPlan:
        data = self.cleaned_data
        chosen = [data[f"{seat}_{row}"] for seat in SEATS if data[f"{seat}_{row}"]]
        return PairingPlan(
            entrant_ids=[int(value) for value in chosen if value not in ALONE],
            absent="absent" in chosen,
            table=self.tables.get(data[f"table_{row}"]),
            scenario=data[f"scenario_{row}"],
        )

    def place_of(self, field: str) -> str:
        """The field of this form that a violation of one plan concerns."""
        parts = field.split(".")
        if len(parts) < 2 or parts[0] != "plans":  # noqa: PLR2004 - "plans", then its place
            return ""
        row = self.filled(self.cleaned_data)[int(parts[1])]
        leaf = parts[2] if len(parts) > 2 and parts[2] in {"table", "scenario"} else "first"  # noqa: PLR2004 - a field
        return f"{leaf}_{row}"


class MarksForm(forms.Form):
    """Who of a pairing did not play, a choice for each seat."""

    def __init__(self, *args: Any, seats: Sequence[PairingSide], **options: Any) -> None:
        super().__init__(*args, **options)
        forfeits = [Unplayed.FORFEIT_WIN, Unplayed.FORFEIT_LOSS]
        for seat in seats:
            offered = [Unplayed.BYE, Unplayed.ABSENT, *forfeits] if len(seats) == 1 else forfeits
            choices = [(each.value, each.label) for each in offered]
            self.fields[f"seat_{seat.entrant_id}"] = forms.ChoiceField(
                label=seat.entrant.name,
                choices=choices if len(seats) == 1 else [("", _("plays")), *choices],
                required=len(seats) == 1,
                initial=seat.unplayed,
            )

    def marks(self) -> dict[int, str]:
        return {int(name.removeprefix("seat_")): value for name, value in self.cleaned_data.items()}

    def place_of(self, field: str) -> str:
        return field.replace("seats.", "seat_")
