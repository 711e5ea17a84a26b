"""Values of a campaign to JSON and back, everything wrong at once."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import MISSING, is_dataclass
from typing import Any, cast, get_args

from league.engines.documents.campaign_shape import (
    KINDS,
    LONGEST,
    Shape,
    bounds_of,
    default_of,
    is_id,
    is_literal,
    is_ruleset,
    item_of,
    kinds_of,
    origin_of,
    shapes_of,
    strip_none,
)
from league.engines.documents.reading import Fault, pointer
from league.engines.rulesets import BadRuleset, Ruleset, parse_ruleset, ruleset_to_document
from league.engines.strength import Engagement

__all__ = ["Reader", "written"]


def written(value: Any, shape: Shape) -> Any:
    """A value as JSON has it; the inverse of `Reader.read`."""
    shape, _ = strip_none(shape)
    if value is None:
        return None
    if isinstance(value, Ruleset):
        return ruleset_to_document(value)
    if is_dataclass(value) and not isinstance(value, type):
        return _object(value, {"kind": KINDS[type(value)]} if kinds_of(shape) else {})
    item = item_of(shape)
    if item is not None:
        items: Iterable[Any] = (
            sorted(value, key=lambda one: (str(type(one)), one)) if isinstance(value, frozenset) else value
        )
        return [written(each, item) for each in items]
    return value


def _object(value: Any, made: dict[str, Any]) -> dict[str, Any]:
    for name, shape in shapes_of(cast(Hashable, type(value))).items():
        told = getattr(value, name)
        if name == "listed" and isinstance(value, Engagement):
            told = tuple(told.values())
        if told != default_of(type(value), name):
            made[name] = written(told, shape)
    return made


class Reader:
    """Reads values and gathers `faults`; what cannot be read comes back as None, and the faults say so."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def fault(self, place: tuple[str | int, ...], text: str) -> None:
        self.faults.append(Fault(place=pointer(place), text=text))

    def read(
        self, data: Any, shape: Shape, place: tuple[str | int, ...] = (), at: tuple[type, str] | None = None
    ) -> Any:
        """One value of a shape. `at` is the class and field it stands in, for the bounds of a number."""
        shape, may_be_none = strip_none(shape)
        if data is None and may_be_none:
            return None
        if is_ruleset(shape):
            return self._ruleset(data, place)
        if kinds_of(shape):
            return self._one_of(data, kinds_of(shape), place)
        if is_dataclass(shape) and isinstance(shape, type):
            return self._object(data, shape, place)
        item = item_of(shape)
        if item is not None:
            return self._list(data, item, place, as_set=origin_of(shape) is frozenset)
        return self._plain(data, shape, place, at)

    def _plain(self, data: Any, shape: Shape, place: tuple[str | int, ...], at: tuple[type, str] | None) -> Any:
        if is_literal(shape):
            if type(data) not in (int, str) or data not in get_args(shape):
                self.fault(
                    place, f"This must be one of: {', '.join(str(each) or 'nothing' for each in get_args(shape))}."
                )
            return data
        if is_id(shape):
            # JSON knows one kind of number, and a schema's "integer" takes 1.0 for 1 (JSON Schema 2020-12, 6.1.1).
            if isinstance(data, float) and data.is_integer():
                data = int(data)
            if isinstance(data, bool) or not isinstance(data, int | str) or data == "":
                self.fault(place, "This must be a whole number or a name.")
            return data
        if shape is bool:
            return self._of_type(data, bool, "true or false", place)
        if shape is str:
            return self._text(data, place, at)
        return self._number(data, place, at)

    def _of_type(self, data: Any, wanted: type, words: str, place: tuple[str | int, ...]) -> Any:
        if not isinstance(data, wanted):
            self.fault(place, f"This must be {words}.")
            return None
        return data

    def _text(self, data: Any, place: tuple[str | int, ...], at: tuple[type, str] | None) -> Any:
        if self._of_type(data, str, "text", place) is None:
            return None
        if len(data) > LONGEST:
            self.fault(place, f"This is longer than {LONGEST} characters.")
        if not data and at and default_of(*at) is MISSING:
            self.fault(place, "This must not be empty.")
        return data

    def _number(self, data: Any, place: tuple[str | int, ...], at: tuple[type, str] | None) -> Any:
        # JSON knows 1.0 for 1.
        if isinstance(data, float) and data.is_integer():
            data = int(data)
        if isinstance(data, bool) or not isinstance(data, int):
            self.fault(place, "This must be a whole number.")
            return None
        low, high = bounds_of(*at) if at else (-(2**53), 2**53)
        if not low <= data <= high:
            self.fault(place, f"This must be from {low} to {high}.")
        return data

    def _list(self, data: Any, item: Shape, place: tuple[str | int, ...], *, as_set: bool) -> Any:
        if self._of_type(data, list, "a list", place) is None:
            return None
        items = [self.read(each, item, (*place, number)) for number, each in enumerate(data)]
        if as_set:
            return frozenset(each for each in items if isinstance(each, int | str))
        return tuple(items)

    def _ruleset(self, data: Any, place: tuple[str | int, ...]) -> Ruleset | None:
        try:
            return parse_ruleset(data)
        except BadRuleset as failure:
            for each in failure.violations:
                where = f" ({each.place})" if each.place else ""
                self.fault(place, f"{each.text}{where}")
            return None

    def _one_of(self, data: Any, kinds: dict[str, type], place: tuple[str | int, ...]) -> Any:
        if self._of_type(data, dict, "an object", place) is None:
            return None
        if "kind" not in data:
            self.fault(place, "'kind' is missing.")
            return None
        kind = data["kind"]
        if not isinstance(kind, str) or kind not in kinds:
            self.fault((*place, "kind"), f"This must be one of: {', '.join(kinds)}.")
            return None
        return self._object({key: value for key, value in data.items() if key != "kind"}, kinds[kind], place)

    def _object(self, data: Any, of: type, place: tuple[str | int, ...]) -> Any:
        if self._of_type(data, dict, "an object", place) is None:
            return None
        before = len(self.faults)
        shapes = shapes_of(of)
        for name in data:
            if name not in shapes:
                self.fault((*place, name), "The document knows no such field here.")
        told: dict[str, Any] = {}
        for name, shape in shapes.items():
            if name in data:
                told[name] = self.read(data[name], shape, (*place, name), (of, name))
            elif default_of(of, name) is MISSING:
                self.fault(place, f"{name!r} is missing.")
        if len(self.faults) > before:
            return None
        if of is Engagement and "listed" in told:
            told["listed"] = {each.id: each for each in told["listed"]}
        return of(**told)
