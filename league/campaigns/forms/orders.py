"""A faction's orders for a turn, force by force. Works without scripts: every choice is a list."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.campaigns.queries.orders_page import Desk, ForceChoices
from league.engines import war
from league.web import SubmissionField

__all__ = ["OrdersForm"]

HOLD, DIG_IN, REBUILD = "hold", "dig_in", "rebuild"
SENDINGS = 4
LOADS_MOST = 1_000_000


class OrdersForm(forms.Form):
    """Fields are `do-<force>`, `recruits-<force>-<unit>`, `first-<force>`, `depots`, `origin-<n>`, `to-<n>`,
    `amount-<n>`. `orders()` and `importance()` are what the service takes."""

    submission = SubmissionField()

    def __init__(self, *args: Any, desk: Desk, **options: Any) -> None:
        super().__init__(*args, **options)
        self.desk = desk
        self.places: list[str] = []
        for force in desk.forces:
            self._add_force(force)
        self._add_importance()
        if desk.sites:
            words = _("Each costs %(loads)s loads.") % {"loads": desk.depot_price} if desk.depot_price else ""
            self.fields["depots"] = forms.MultipleChoiceField(
                label=_("Build a depot in"),
                choices=desk.sites,
                required=False,
                widget=forms.CheckboxSelectMultiple,
                help_text=words,
            )
        if desk.sources and len(desk.places) > 1:
            for number in range(SENDINGS):
                self._add_sending(number)
        self._recall()

    def _add_force(self, force: ForceChoices) -> None:
        choices: list[tuple[str, Any]] = [(HOLD, _("Hold"))]
        if force.is_locked:
            choices = [(HOLD, _("Fight on"))]
        if force.can_dig_in:
            choices.append((DIG_IN, _("Dig in")))
        if force.recruits:
            choices.append((REBUILD, _("Take in recruits")))
        choices += force.ways
        self.fields[f"do-{force.key}"] = forms.ChoiceField(label=_("Order"), choices=choices, initial=HOLD)
        for unit in force.recruits:
            self.fields[f"recruits-{force.key}-{unit.unit_id}"] = forms.IntegerField(
                label=_("Recruits for %(unit)s") % {"unit": unit.name},
                min_value=0,
                max_value=unit.places,
                required=False,
                help_text=_("Up to %(places)s, at %(price)s loads each.")
                % {"places": unit.places, "price": unit.price},
            )

    def _add_importance(self) -> None:
        """Who is fed first: a number for each force; equal numbers share alike."""
        if len(self.desk.forces) < 2:  # noqa: PLR2004 - one force is always the first
            return
        numbers = [(str(n), str(n)) for n in range(1, len(self.desk.forces) + 1)]
        for force in self.desk.forces:
            self.fields[f"first-{force.key}"] = forms.ChoiceField(
                label=_("Place in the order of supply"), choices=[("", _("last of all")), *numbers], required=False
            )

    def _add_sending(self, number: int) -> None:
        empty = [("", "—")]
        self.fields[f"origin-{number}"] = forms.ChoiceField(
            label=_("From"), choices=[*empty, *self.desk.sources], required=False
        )
        self.fields[f"to-{number}"] = forms.ChoiceField(
            label=_("To"), choices=[*empty, *self.desk.places], required=False
        )
        self.fields[f"amount-{number}"] = forms.IntegerField(
            label=_("Loads"), min_value=1, max_value=LOADS_MOST, required=False
        )

    def _recall(self) -> None:
        """Start from what was given last."""
        given = self.desk.given
        if given is None:
            return
        sendings = 0
        for order in given.orders:
            if isinstance(order, war.Move):
                self._initial(f"do-{order.force}", " ".join(order.roads))
            elif isinstance(order, war.DigIn):
                self._initial(f"do-{order.force}", DIG_IN)
            elif isinstance(order, war.Rebuild):
                self._initial(f"do-{order.force}", REBUILD)
                for each in order.replacements:
                    self._initial(f"recruits-{order.force}-{each.unit_id}", each.figures)
            elif isinstance(order, war.SendSupply):
                self._initial(f"origin-{sendings}", order.origin)
                self._initial(f"to-{sendings}", order.to)
                self._initial(f"amount-{sendings}", order.amount)
                sendings += 1
        depots = [each.region for each in given.orders if isinstance(each, war.BuildDepot)]
        self._initial("depots", depots)
        for place, key in enumerate(given.importance, start=1):
            self._initial(f"first-{key}", str(place))

    def _initial(self, name: str, value: Any) -> None:
        if name in self.fields:
            self.fields[name].initial = value

    def by_force(self) -> Iterator[tuple[ForceChoices, list[forms.BoundField]]]:
        """Each force with its own fields, for the page."""
        for force in self.desk.forces:
            names = [f"do-{force.key}"]
            names += [f"recruits-{force.key}-{unit.unit_id}" for unit in force.recruits]
            if f"first-{force.key}" in self.fields:
                names.append(f"first-{force.key}")
            yield force, [self[name] for name in names]

    def sendings(self) -> list[list[forms.BoundField]]:
        rows = range(SENDINGS) if "origin-0" in self.fields else []
        return [[self[f"origin-{n}"], self[f"to-{n}"], self[f"amount-{n}"]] for n in rows]

    def clean(self) -> dict[str, Any]:
        told: dict[str, Any] = super().clean() or {}
        for number in range(SENDINGS):
            row = [told.get(f"{part}-{number}") for part in ("origin", "to", "amount")]
            if any(row) and not all(row):
                self.add_error(f"amount-{number}", _now("Say from where, to where, and how much."))
        for force in self.desk.forces:
            rebuilds = told.get(f"do-{force.key}") == REBUILD
            figures = [told.get(f"recruits-{force.key}-{unit.unit_id}") for unit in force.recruits]
            if rebuilds and not any(figures):
                self.add_error(f"do-{force.key}", _now("Say how many recruits, and for which unit."))
            if not rebuilds and any(figures):
                self.add_error(f"do-{force.key}", _now("Recruits come only to a force ordered to take them in."))
        return told

    def orders(self) -> list[war.Order]:
        """The orders, and in `places` the field each came from, in the same order."""
        told, found = self.cleaned_data, list[war.Order]()
        self.places = []
        for force in self.desk.forces:
            order = self._of_force(force, told)
            if order is not None:
                found.append(order)
                self.places.append(f"do-{force.key}")
        for region in told.get("depots", []):
            found.append(war.BuildDepot(region=region))
            self.places.append("depots")
        for number in range(SENDINGS):
            if told.get(f"amount-{number}"):
                origin, to, amount = (told[f"{part}-{number}"] for part in ("origin", "to", "amount"))
                found.append(war.SendSupply(origin=origin, to=to, amount=amount))
                self.places.append(f"amount-{number}")
        return found

    def _of_force(self, force: ForceChoices, told: dict[str, Any]) -> war.Order | None:
        what = told[f"do-{force.key}"]
        if what == HOLD:
            return None if force.is_locked else war.Hold(force=force.key)
        if what == DIG_IN:
            return war.DigIn(force=force.key)
        if what == REBUILD:
            wanted = [(unit.unit_id, told.get(f"recruits-{force.key}-{unit.unit_id}")) for unit in force.recruits]
            return war.Rebuild(
                force=force.key,
                replacements=tuple(war.Replacement(unit_id=unit, figures=n) for unit, n in wanted if n),
            )
        return war.Move(force=force.key, roads=tuple(what.split()))

    def importance(self) -> list[str]:
        places = [(self.cleaned_data.get(f"first-{force.key}"), force.key) for force in self.desk.forces]
        return [key for _place, key in sorted((int(place), key) for place, key in places if place)]

    def place_of(self, field: str) -> str:
        """The field of the form a refusal belongs to."""
        part, _dot, number = field.partition(".")
        if part == "orders" and number.isdigit() and int(number) < len(self.places):
            return self.places[int(number)]
        return ""
