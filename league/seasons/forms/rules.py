"""A season's rules as a form: points, bonuses as rows, tie-breaks as numbered choices. It works without scripts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.engines.standings import SCALE
from league.seasons.forms.points import HalfPointsField
from league.seasons.queries.words import BONUS_TITLES, column_name
from league.web import SubmissionField

__all__ = ["ChangeRulesForm", "RulesForm", "SeasonForm"]

BONUS_ROWS = 4
TIE_BREAKS = 8
POINTS = {
    "win_x2": _("Win"),
    "draw_x2": _("Draw"),
    "loss_x2": _("Loss"),
    "bye_x2": _("Bye"),
    "forfeit_win_x2": _("Won by forfeit"),
    "forfeit_loss_x2": _("Lost by forfeit"),
    "absent_x2": _("Absent"),
    "showing_up_x2": _("For showing up, on top"),
}
DIRECT_PIECES = {
    "points": _("points"),
    "points score_difference": _("points, then score difference"),
    "points score_difference score_for": _("points, then score difference, then score"),
    "wins": _("wins"),
}


class RulesForm(forms.Form):
    """Begins from the rules of a season document and cleans to such rules; `counts` are the ruleset's counts by key."""

    rank_by = forms.ChoiceField(
        label=_("The table is ranked by"),
        choices={"points": _("points"), "points_per_game": _("points per game")},
    )
    counts = forms.ChoiceField(
        label=_("A result counts"),
        choices={
            "filed": _("as soon as it is filed"),
            "confirmed": _("once the opponent or the umpire agreed"),
        },
    )
    leavers = forms.ChoiceField(
        label=_("Results of entrants who leave"), choices={"keep": _("stand"), "annul": _("are annulled")}
    )
    unplayed_policy = forms.ChoiceField(
        label=_("Unplayed rounds, in Buchholz and Sonneborn-Berger"),
        choices={
            "as_scored": _("add nothing"),
            "fide_2009": _("count as a virtual opponent (FIDE 2009)"),
            "fide_2023": _("count as a dummy opponent (FIDE 2023)"),
        },
    )
    direct_pieces = forms.ChoiceField(label=_("Direct encounter compares"), required=False)
    direct_wait = forms.BooleanField(label=_("Direct encounter waits until all who are level have met"), required=False)
    direct_reapply = forms.BooleanField(
        label=_("Direct encounter is applied again among those it leaves level"), required=False
    )
    wins_with_unplayed = forms.BooleanField(label=_("Byes and forfeits won count as wins"), required=False)

    def __init__(self, *args: Any, rules: Mapping[str, Any], count_names: Mapping[str, str], **options: Any) -> None:
        super().__init__(*args, **{**options, "initial": {**flat(rules), **(options.get("initial") or {})}})
        for name, label in POINTS.items():
            self.fields[name] = HalfPointsField(label=label)
        self.bonus_rows = max(BONUS_ROWS, len(rules["scheme"].get("bonuses", ())) + 1)
        self.tie_break_rows = max(TIE_BREAKS, len(rules.get("tie_breaks", ())) + 1)
        counted = {**count_names, **dict.fromkeys(counts_named(rules), "")}
        counted = {key: count_names.get(key) or key for key in counted}
        for row in range(self.bonus_rows):
            self.add_bonus(row, counted)
        for row in range(1, self.tie_break_rows + 1):
            self.fields[f"tie_break_{row}"] = forms.ChoiceField(
                label=_now("Tie-break %(number)s") % {"number": row},
                choices=[("", _("none")), *tie_break_choices(counted)],
                required=False,
            )
        pieces = {**DIRECT_PIECES}
        own = self.initial.get("direct_pieces", "")
        if own and own not in pieces:
            pieces[own] = own.replace(" ", ", ").replace("_", " ")
        self.fields["direct_pieces"].choices = list(pieces.items())

    def add_bonus(self, row: int, counted: Mapping[str, str]) -> None:
        kinds = [("", _("no bonus")), *BONUS_TITLES.items()]
        number = {"number": row + 1}
        self.fields[f"bonus_{row}_kind"] = forms.ChoiceField(
            label=_now("Bonus %(number)s for") % number, choices=kinds, required=False
        )
        self.fields[f"bonus_{row}_threshold"] = forms.IntegerField(
            label=_now("Bonus %(number)s from (or up to)") % number, required=False, min_value=0
        )
        self.fields[f"bonus_{row}_count"] = forms.ChoiceField(
            label=_now("Bonus %(number)s counts") % number,
            choices=[("", _("nothing")), *counted.items()],
            required=False,
        )
        self.fields[f"bonus_{row}_points"] = HalfPointsField(
            label=_now("Bonus %(number)s points") % number, required=False
        )
        self.fields[f"bonus_{row}_name"] = forms.CharField(
            label=_now("Bonus %(number)s name") % number, required=False, max_length=80
        )

    def point_fields(self) -> list[BoundField]:
        return [self[name] for name in POINTS]

    def bonus_fields(self) -> list[list[BoundField]]:
        parts = ("kind", "threshold", "count", "points", "name")
        return [[self[f"bonus_{row}_{part}"] for part in parts] for row in range(self.bonus_rows)]

    def has_wrong_bonus(self) -> bool:
        """Whether the part of the page with the bonuses has to stand open."""
        return any(name.startswith("bonus_") for name in self.errors)

    def tie_break_fields(self) -> list[BoundField]:
        options = ("direct_pieces", "direct_wait", "direct_reapply", "wins_with_unplayed")
        return [self[f"tie_break_{row}"] for row in range(1, self.tie_break_rows + 1)] + [
            self[name] for name in options
        ]

    def policy_fields(self) -> list[BoundField]:
        return [self[name] for name in ("rank_by", "counts", "unplayed_policy", "leavers")]

    def own_fields(self) -> list[BoundField]:
        """The fields a form adds to the rules."""
        return [field for field in self.visible_fields() if field.name in type(self).declared_own]

    declared_own: tuple[str, ...] = ()

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for row in range(self.bonus_rows):
            kind = data.get(f"bonus_{row}_kind")
            if kind and data.get(f"bonus_{row}_points") is None and f"bonus_{row}_points" not in self.errors:
                self.add_error(f"bonus_{row}_points", _now("Say what the bonus is worth."))
            if kind == "count_at_least" and not data.get(f"bonus_{row}_count"):
                self.add_error(f"bonus_{row}_count", _now("Say what is counted."))
        return data

    def rules(self) -> dict[str, Any]:
        """The rules as a season document has them."""
        data = self.cleaned_data
        names = [data[f"tie_break_{row}"] for row in range(1, self.tie_break_rows + 1)]
        return {
            "scheme": {
                **{name: data[name] for name in POINTS},
                "bonuses": [self.bonus(row) for row in range(self.bonus_rows) if data[f"bonus_{row}_kind"]],
            },
            "tie_breaks": [self.tie_break(name) for name in names if name],
            **{name: data[name] for name in ("unplayed_policy", "leavers", "rank_by", "counts")},
        }

    def bonus(self, row: int) -> dict[str, Any]:
        data = self.cleaned_data
        kind, threshold = data[f"bonus_{row}_kind"], data[f"bonus_{row}_threshold"]
        return {
            "kind": kind,
            "points_x2": data[f"bonus_{row}_points"],
            "threshold": 1 if threshold is None else threshold,
            "count": data[f"bonus_{row}_count"] if kind == "count_at_least" else "",
            "name": data[f"bonus_{row}_name"],
        }

    def tie_break(self, column: str) -> dict[str, Any]:
        data = self.cleaned_data
        name, _sep, count = column.partition(":")
        options: Mapping[str, dict[str, Any]] = {
            "count_total": {"count": count},
            "wins": {"with_unplayed": data["wins_with_unplayed"]},
            "direct_encounter": {
                "pieces": (data["direct_pieces"] or "points").split(),
                "reapply": data["direct_reapply"],
                "wait": data["direct_wait"],
            },
        }
        return {"name": name, **options.get(name, {})}

    def place_of(self, field: str) -> str:
        """The field of this form that a violation's place speaks of."""
        leaf = field.rsplit(".", 1)[-1]
        return leaf if leaf in self.fields else ""


class SeasonForm(RulesForm):
    submission = SubmissionField()
    name = forms.CharField(label=_("Name of the season"), max_length=80)
    starts_on = forms.DateField(label=_("Starts on"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    ends_on = forms.DateField(
        label=_("Ends on"), required=False, widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    declared_own = ("name", "starts_on", "ends_on")


class ChangeRulesForm(RulesForm):
    reason = forms.CharField(label=_("Why the rules change, for everybody to read"), max_length=200)
    declared_own = ("reason",)


def tie_break_choices(counted: Mapping[str, str]) -> list[tuple[str, str]]:
    choices = [(name, column_name(name)) for name in SCALE if name != "count_total"]
    return choices + [
        (f"count_total:{key}", _now("Total of %(count)s") % {"count": name}) for key, name in counted.items()
    ]


def counts_named(rules: Mapping[str, Any]) -> list[str]:
    """Counts that the rules speak of already."""
    spoken = [*rules["scheme"].get("bonuses", ()), *rules.get("tie_breaks", ())]
    return [each["count"] for each in spoken if each.get("count")]


def flat(rules: Mapping[str, Any]) -> dict[str, Any]:
    """The rules as the initial values of the form's fields."""
    values: dict[str, Any] = {name: rules["scheme"].get(name, 0) for name in POINTS}
    for row, bonus in enumerate(rules["scheme"].get("bonuses", ())):
        values |= {
            f"bonus_{row}_kind": bonus["kind"],
            f"bonus_{row}_points": bonus["points_x2"],
            f"bonus_{row}_threshold": bonus["threshold"],
            f"bonus_{row}_count": bonus["count"],
            f"bonus_{row}_name": bonus["name"],
        }
    values |= {"direct_pieces": "points score_difference score_for", "direct_wait": True}
    for row, each in enumerate(rules.get("tie_breaks", ()), start=1):
        values[f"tie_break_{row}"] = f"{each['name']}:{each['count']}" if each.get("count") else each["name"]
        if each["name"] == "direct_encounter":
            values |= {
                "direct_pieces": " ".join(each["pieces"]),
                "direct_wait": each["wait"],
                "direct_reapply": each["reapply"],
            }
        if each["name"] == "wins":
            values["wins_with_unplayed"] = each["with_unplayed"]
    for name in ("unplayed_policy", "leavers", "rank_by", "counts"):
        values[name] = rules.get(name)
    return values
