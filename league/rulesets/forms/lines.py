"""Small lists as people write them, one line each: what the dice mean, the sides of a scenario, what it scores.

Each kind is written by `…_as_lines` and read back by a field; what was written reads back as it was. A line that
cannot be read is told with its number.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from league.engines.rulesets import Objective, Outcome, ScenarioSide
from league.rulesets.forms.keys import key_from

__all__ = [
    "LinesField",
    "ObjectivesField",
    "OutcomesField",
    "SidesField",
    "objectives_as_lines",
    "outcomes_as_lines",
    "sides_as_lines",
]

OUTCOME = re.compile(r"(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?\s*:?\s*(back|lost|out)(?:\s+(?:for\s+)?(\d{1,3})(?:\s+\w+)?)?")
NAMED = re.compile(r"(?P<name>.*?)\s*(?:\[(?P<key>[^\[\]]*)\])?")
POINTS = re.compile(r"(\d{1,6})(?:\s+points?)?")
AT_MOST = re.compile(r"at most\s+(\d{1,6})")


class LinesField(forms.CharField):
    """A text of lines; cleaned to what `read` makes of every line that is not blank."""

    widget = forms.Textarea

    def read(self, line: str, earlier: Sequence[Mapping[str, Any]]) -> Any:
        """The line as a part of the document. ValueError with the words of what is wrong with it."""
        raise NotImplementedError

    def clean(self, value: Any) -> list[Any]:
        items: list[Any] = []
        wrong = []
        for number, line in enumerate(super().clean(value).splitlines(), start=1):
            if not line.strip():
                continue
            try:
                items.append(self.read(line.strip(), items))
            except ValueError as failure:
                words = _("Line %(number)s, “%(line)s”: %(failure)s")
                wrong.append(words % {"number": number, "line": line.strip()[:60], "failure": failure})
        if wrong:
            raise forms.ValidationError(wrong)
        return items


class OutcomesField(LinesField):
    """“1-2 lost”, “3 out 1”, “4-6 back”."""

    def read(self, line: str, earlier: Sequence[Mapping[str, Any]]) -> dict[str, Any]:  # noqa: ARG002 - its signature
        match = OUTCOME.fullmatch(line.lower())
        if match is None:
            raise ValueError(_("write a roll or a range and back, lost or out with a number, such as 3-4 out 1."))
        first, last, fate, games = match.groups()
        if (fate == "out") != (games is not None):
            raise ValueError(_("say after “out”, and only there, how many battles are missed, such as 3-4 out 1."))
        outcome: dict[str, Any] = {"from": int(first), "to": int(last or first), "fate": fate}
        return outcome if games is None else {**outcome, "games": int(games)}


def outcomes_as_lines(outcomes: Iterable[Outcome]) -> str:
    return "\n".join(outcome_as_line(each) for each in outcomes)


def outcome_as_line(outcome: Outcome) -> str:
    rolls = str(outcome.first) if outcome.first == outcome.last else f"{outcome.first}-{outcome.last}"
    return f"{rolls} {outcome.fate}{f' {outcome.games}' if outcome.fate == 'out' else ''}"


def named(text: str, earlier: Sequence[Mapping[str, Any]], *, kind: str) -> dict[str, Any]:
    """ "Attacker [attacker]" with its key, or "Attacker" with a new one."""
    match = NAMED.fullmatch(text)
    name, key = (match["name"], match["key"]) if match else (text, None)
    if not name:
        raise ValueError(_("the name is missing."))
    return {"key": key or key_from(name, [each["key"] for each in earlier], kind=kind), "name": name}


class SidesField(LinesField):
    """“Attacker”, or “Attacker [attacker]” with its key."""

    def read(self, line: str, earlier: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
        return named(line, earlier, kind="side")


def sides_as_lines(sides: Iterable[ScenarioSide]) -> str:
    return "\n".join(f"{each.name} [{each.key}]" for each in sides)


class ObjectivesField(LinesField):
    """“Holds the bridge [bridge]: 3, at most 1, shared”; the key, the most and “shared” may be left out."""

    def read(self, line: str, earlier: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
        before, colon, after = line.rpartition(":")
        first, *rest = [part.strip().lower() for part in after.split(",")]
        points = POINTS.fullmatch(first)
        if not colon or points is None:
            raise ValueError(_("write the name, a colon and the points for each time, such as Holds the bridge: 3."))
        objective = {**named(before.strip(), earlier, kind="objective"), "points": int(points[1])}
        return {**objective, "most": None, "shared": False, **dict(self.more(part) for part in rest)}

    def more(self, part: str) -> tuple[str, Any]:
        if part == "shared":
            return "shared", True
        most = AT_MOST.fullmatch(part)
        if most is None:
            raise ValueError(_("after the points only “at most 2” and “shared” are understood, each after a comma."))
        return "most", int(most[1])


def objectives_as_lines(objectives: Iterable[Objective]) -> str:
    return "\n".join(objective_as_line(each) for each in objectives)


def objective_as_line(objective: Objective) -> str:
    parts = [str(objective.points)]
    if objective.most is not None:
        parts.append(f"at most {objective.most}")
    if objective.shared:
        parts.append("shared")
    return f"{objective.name} [{objective.key}]: {', '.join(parts)}"
