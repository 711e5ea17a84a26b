"""The one root of every refusal: a rule of the club, the ruleset or the season says no."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

__all__ = ["NotYoursToDo", "Refused", "Violation"]


@dataclass(frozen=True, slots=True)
class Violation:
    """One thing that is wrong, in words a member understands.

    `field` names the form or JSON field it concerns, or is empty when it concerns the whole;
    `code` is stable for programs, `message` is translated for people.
    """

    message: str
    field: str = ""
    code: str = "refused"


class Refused(Exception):
    """Raised by a service that will not do what was asked; nothing was written.

    Carries all the violations found, never only the first. `status` is the HTTP status an API answers with.
    """

    status = 422
    title = "That cannot be done"

    def __init__(self, violations: str | Violation | Iterable[str | Violation]) -> None:
        if isinstance(violations, str | Violation):
            violations = [violations]
        self.violations: tuple[Violation, ...] = tuple(
            each if isinstance(each, Violation) else Violation(str(each)) for each in violations
        )
        super().__init__("; ".join(each.message for each in self.violations))

    def by_field(self) -> Mapping[str, list[str]]:
        """The messages grouped by field, the whole-form ones under the empty name."""
        grouped: dict[str, list[str]] = {}
        for each in self.violations:
            grouped.setdefault(each.field, []).append(each.message)
        return grouped


class NotYoursToDo(Refused):
    """This person has no right to it, by a predicate of some room's permissions.py.

    Every service asks that predicate itself; pages and endpoints ask it before, so as not to offer what is refused.
    """

    status = 403
    title = "Not yours to do"
