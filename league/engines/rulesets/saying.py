"""How parts of a ruleset that disagree are told of: the fault, and what it was concluded from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from league.engines.rulesets.violation import Violation, gettext_noop

__all__ = ["Incoherence", "fault", "twice", "unknown"]


class Keyed(Protocol):
    """What a key may point to."""

    @property
    def key(self) -> str: ...


@dataclass(frozen=True, kw_only=True, slots=True)
class Incoherence:
    """A fault of sense. `rests_on` are the places it was concluded from."""

    violation: Violation
    rests_on: tuple[str, ...]

    def is_doubtful(self, faulty: Iterable[str]) -> bool:
        """Whether it only follows from a fault of form: one of its places, or what holds it or lies in it, is faulty."""
        return any(
            place.startswith(rest) or rest.startswith((f"{place}.", f"{place}["))
            for place in faulty
            for rest in self.rests_on
        )


def fault(code: str, message: str, place: str, *rests_on: str, **args: object) -> Incoherence:
    violation = Violation(code=code, message=message, args=args, place=place)
    return Incoherence(violation=violation, rests_on=rests_on or (place,))


def twice(keys: Iterable[str], place: str) -> Iterator[Incoherence]:
    """A fault at every key that stood before; keys faulty in form read as empty and are passed over."""
    seen: set[str] = set()
    for index, key in enumerate(keys):
        if key and key in seen:
            yield fault("twice", gettext_noop("“%(key)s” is used twice."), place.format(index), key=key)
        seen.add(key)


def unknown(key: str, described: Sequence[Keyed], where: str, place: str) -> Iterator[Incoherence]:
    """A key that the list at `where` does not describe; in doubt if a key of that list cannot be read."""
    if key and all(each.key != key for each in described):
        words = gettext_noop("“%(key)s” is described nowhere in this ruleset.")
        unreadable = [f"{where}[{index}]" for index, each in enumerate(described) if not each.key]
        yield fault("unknown_key", words, place, *(unreadable if described else [where]), key=key)
