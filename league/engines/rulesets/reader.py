"""Reading a document field by field, noting every fault with its place and carrying on."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from league.engines.rulesets.violation import Violation, gettext_noop

KEY_FORM = re.compile(r"[a-z][a-z0-9_]{0,39}")
NAME_LONGEST = 80
SUMMARY_LONGEST = 2_000
NUMBER_MOST = 100_000
ITEMS_MOST = 100

# A character that a line of text cannot hold, or that a database cannot store: controls and half surrogate pairs.
UNFIT_FOR_A_LINE = re.compile("[\x00-\x1f\x7f\ud800-\udfff]")
UNFIT_FOR_A_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")

OBJECT_WANTED = gettext_noop("An object with named fields is wanted here.")


class Reader:
    """One object of the document at its place. A bad value is noted in `found` and read as a harmless stand-in."""

    def __init__(self, value: object, *, place: str, found: list[Violation]) -> None:
        self.place = place
        self.found = found
        self.fields: Mapping[str, Any] = {}
        self.known: set[str] = set()
        if isinstance(value, Mapping):
            self.fields = value
        else:
            self.note("not_an_object", OBJECT_WANTED)
            self.found = []  # what is missing inside follows from this one fault

    def at(self, key: str) -> str:
        return f"{self.place}.{key}" if self.place else key

    def note(self, code: str, message: str, *, key: str = "", **args: object) -> None:
        place = self.at(key) if key else self.place
        self.found.append(Violation(code=code, message=message, args=args, place=place))

    def _take(self, key: str, *, required: bool = False) -> tuple[Any, bool]:
        """The value, and whether there is one to check; a missing one is noted when it is required."""
        self.known.add(key)
        given = key in self.fields
        if required and not given:
            self.note("missing", gettext_noop("“%(field)s” is missing."), key=key, field=key)
        return self.fields.get(key), given

    def key(self, key: str = "key") -> str:
        """A key: small letters, digits and underscores, a letter first."""
        value, given = self._take(key, required=True)
        return self._key(key, value) if given else ""

    def key_or_empty(self, key: str) -> str:
        value, given = self._take(key)
        return self._key(key, value) if given and value != "" else ""

    def _key(self, key: str, value: object) -> str:
        if isinstance(value, str) and KEY_FORM.fullmatch(value):
            return value
        words = gettext_noop(
            "A key has up to 40 small letters, digits and underscores and begins with a letter; this is %(value)s."
        )
        self.note("bad_key", words, key=key, value=shown(value))
        return ""

    def line(self, key: str = "name") -> str:
        """A name: one line, not blank."""
        value, given = self._take(key, required=True)
        if not given:
            return ""
        return self._name(key, value)

    def _name(self, key: str, value: object) -> str:
        text = self._text(key, value, NAME_LONGEST, UNFIT_FOR_A_LINE)
        if text == value and not text.strip():
            self.note("blank", gettext_noop("This cannot be blank."), key=key)
        return text

    def line_or_empty(self, key: str) -> str:
        value, given = self._take(key)
        return self._text(key, value, NAME_LONGEST, UNFIT_FOR_A_LINE) if given else ""

    def prose(self, key: str) -> str:
        """Optional text of any number of lines."""
        value, given = self._take(key)
        return self._text(key, value, SUMMARY_LONGEST, UNFIT_FOR_A_TEXT) if given else ""

    def _text(self, key: str, value: object, longest: int, unfit: re.Pattern[str]) -> str:
        if not isinstance(value, str):
            self.note("not_text", gettext_noop("Text is wanted here, not %(value)s."), key=key, value=shown(value))
        elif len(value) > longest:
            self.note("too_long", gettext_noop("At most %(most)s characters."), key=key, most=longest)
        elif unfit.search(value):
            self.note("unfit_characters", gettext_noop("There are characters here that cannot be kept."), key=key)
        else:
            return value
        return ""

    def whole(self, key: str, *, least: int = 0, most: int = NUMBER_MOST, default: int | None = None) -> int:
        """A whole number from `least` to `most`, required unless it has a default."""
        value, given = self._take(key, required=default is None)
        if not given:
            return least if default is None else default
        return self._number(key, value, least, most)

    def whole_or_none(self, key: str, *, least: int = 0, most: int = NUMBER_MOST) -> int | None:
        value, _given = self._take(key)
        return None if value is None else self._number(key, value, least, most)

    def _number(self, key: str, value: object, least: int, most: int) -> int:
        if isinstance(value, float) and value.is_integer():
            value = int(value)  # JSON knows one kind of number: 3.0 is the whole number 3
        if not isinstance(value, int) or isinstance(value, bool):
            words = gettext_noop("A whole number is wanted here, not %(value)s.")
            self.note("not_a_number", words, key=key, value=shown(value))
        elif not least <= value <= most:
            words = gettext_noop("This must be from %(least)s to %(most)s, not %(value)s.")
            self.note("out_of_range", words, key=key, least=least, most=most, value=shown(value))
        else:
            return value
        return least

    def flag(self, key: str) -> bool:
        """True or false; false when not given."""
        value, given = self._take(key)
        if not given or isinstance(value, bool):
            return bool(value)
        words = gettext_noop("True or false is wanted here, not %(value)s.")
        self.note("not_true_or_false", words, key=key, value=shown(value))
        return False

    def choice(self, key: str, options: Sequence[Any], *, default: object = None) -> Any:
        """One of `options`, required unless it has a default."""
        value, given = self._take(key, required=default is None)
        if not given:
            return options[0] if default is None else default
        for option in options:
            if value == option and not isinstance(value, bool):
                return option
        known = ", ".join(str(option) for option in options)
        words = gettext_noop("This must be one of %(known)s, not %(value)s.")
        self.note("not_a_choice", words, key=key, known=known, value=shown(value))
        return options[0]

    def items(self, key: str, *, least: int = 0) -> list[Reader]:
        """The objects of a list, each at its own place."""
        values = self._list(key, least)
        return [Reader(value, place=f"{self.at(key)}[{index}]", found=self.found) for index, value in enumerate(values)]

    def keys(self, key: str) -> tuple[str, ...]:
        """A list of keys; a bad one reads as the empty string, so that the others keep their places."""
        return tuple(self._key(f"{key}[{index}]", value) for index, value in enumerate(self._list(key, 0)))

    def lines(self, key: str) -> tuple[str, ...]:
        """A list of names, none of them blank; a bad one reads as the empty string."""
        return tuple(self._name(f"{key}[{index}]", value) for index, value in enumerate(self._list(key, 0)))

    def choices(self, key: str, form: re.Pattern[str]) -> tuple[str, ...]:
        """A list of words of a known form; a bad one reads as the empty string."""
        words: list[str] = []
        for index, value in enumerate(self._list(key, 0)):
            known = isinstance(value, str) and form.fullmatch(value)
            words.append(str(value) if known else "")
            if not known:
                message = gettext_noop("%(value)s is not known here.")
                self.note("not_a_choice", message, key=f"{key}[{index}]", value=shown(value))
        return tuple(words)

    def part(self, key: str, *, required: bool = False) -> Reader:
        """An object; a missing one reads as an empty one whose own gaps are not told of."""
        value, given = self._take(key, required=required)
        if required and not given:
            return Reader({}, place=self.at(key), found=[])
        return Reader(value if given else {}, place=self.at(key), found=self.found)

    def part_or_none(self, key: str) -> Reader | None:
        value, _given = self._take(key)
        return None if value is None else Reader(value, place=self.at(key), found=self.found)

    def _list(self, key: str, least: int) -> Sequence[object]:
        value, given = self._take(key, required=least > 0)
        if not given:
            return ()
        if not isinstance(value, list | tuple):
            self.note("not_a_list", gettext_noop("A list is wanted here."), key=key)
            return ()
        if not least <= len(value) <= ITEMS_MOST:
            words = gettext_noop("The list must have from %(least)s to %(most)s items, not %(count)s.")
            self.note("bad_list_length", words, key=key, least=least, most=ITEMS_MOST, count=len(value))
        return value[:ITEMS_MOST]

    def close(self) -> None:
        """Note every field nobody asked for: most likely a misspelt one."""
        for field in self.fields:
            if field not in self.known:
                words = gettext_noop("“%(field)s” is not a field known here.")
                self.note("unknown_field", words, key=str(field), field=str(field)[:NAME_LONGEST])


def shown(value: object) -> str:
    """A value as a reader of the message may see it: short."""
    text = repr(value)
    return text if len(text) <= 40 else text[:39] + "…"  # noqa: PLR2004 -- what fits in a sentence
