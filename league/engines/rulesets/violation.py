"""One thing that is wrong, as every engine says it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

__all__ = ["UnitId", "Violation", "gettext_noop"]

UnitId = int | str
"""What the caller tells its units apart by: a row's number, or a name in a document."""

NO_ARGS: Mapping[str, object] = MappingProxyType({})


def gettext_noop(message: str) -> str:
    """Return `message` as it is; the name marks it for translation, which needs what engines do not have."""
    return message


@dataclass(frozen=True, kw_only=True, slots=True)
class Violation:
    """One broken rule.

    `code` is stable for programs. `message` is an English template with named arguments, `%(most)s`, filled from
    `args`; a caller that translates says `gettext(v.message) % v.args`. `place` is where in a document the fault
    stands (`unit_classes[2].key`), `unit_id` whom it concerns; both may be empty.
    """

    code: str
    message: str
    args: Mapping[str, object] = field(default_factory=lambda: NO_ARGS)
    place: str = ""
    unit_id: UnitId | None = None

    @property
    def text(self) -> str:
        """The message in English, filled in."""
        return self.message % self.args
