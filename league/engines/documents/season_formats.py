"""How the rounds of a season come about: the `pairing` of a season document, read and written in one place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, Final, Literal, get_args

from league.engines.documents.reading import BadDocument, Fault, faults_by_schema
from league.engines.pairing import CRITERIA, CriterionName
from league.engines.standings import Rules

__all__ = ["FORMATS", "OPTIONS_OF", "FormatName", "Pairing", "read_pairing", "with_limits", "write_pairing"]

FormatName = Literal[
    "typed", "swiss", "round_robin", "double_round_robin", "knockout", "groups_knockout", "open", "ladder"
]
FORMATS: Final[tuple[FormatName, ...]] = get_args(FormatName)

# Which options belong to which format.
OPTIONS_OF: Final[Mapping[FormatName, tuple[str, ...]]] = {
    "typed": (),
    "swiss": ("rounds", "criteria", "must", "sides"),
    "round_robin": (),
    "double_round_robin": (),
    "knockout": ("third_place",),
    "groups_knockout": ("third_place", "groups", "advance"),
    "open": ("best_of", "most_against", "least_games"),
    "ladder": ("reach",),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Pairing:
    """The format of a season with its options; those of other formats stay as they are here and mean nothing.

    `criteria` in their order and `must` are the pairing engine's. `best_of` and `most_against` None: no limit.
    """

    format: FormatName = "typed"
    rounds: int = 5
    criteria: tuple[CriterionName, ...] = CRITERIA
    must: tuple[CriterionName, ...] = ()
    sides: int = 2
    third_place: bool = False
    groups: int = 2
    advance: int = 2
    best_of: int | None = None
    most_against: int | None = None
    least_games: int = 0
    reach: int = 3


def read_pairing(pairing: Any) -> Pairing:
    """The `pairing` of a season document on its own; options left out are as `Pairing` has them.

    Raises:
        BadDocument: with every fault; places count from the pairing.
    """
    shell = {
        "format": "drumhead season 1",
        "name": "-",
        "starts_on": "2000-01-01",
        "rules": {"scheme": {"win_x2": 0, "draw_x2": 0, "loss_x2": 0}},
        "pairing": pairing,
        "entrants": [],
        "games": [],
    }
    faults = faults_by_schema("season", shell) or faults_of_pairing(pairing, "/pairing")
    if faults:
        raise BadDocument([Fault(place=fault.place.removeprefix("/pairing"), text=fault.text) for fault in faults])
    return made_of(pairing)


def made_of(pairing: Mapping[str, Any]) -> Pairing:
    """Out of a `pairing` without faults."""
    known = {each.name for each in fields(Pairing)}
    return Pairing(**{name: _plain(value) for name, value in pairing.items() if name in known})


def faults_of_pairing(pairing: Mapping[str, Any], place: str) -> list[Fault]:
    """What the schema cannot see: options of another format, what must hold but does not matter, too few who go on."""
    kept: FormatName = pairing["format"]
    faults = [
        Fault(place=f"{place}/{name}", text=f"This is no option of {kept}.")
        for name in pairing
        if name != "format" and name not in OPTIONS_OF[kept]
    ]
    listed = pairing.get("criteria", CRITERIA)
    faults += [
        Fault(place=f"{place}/must/{index}", text=f"{name} is not among the criteria.")
        for index, name in enumerate(pairing.get("must", ()))
        if name not in listed
    ]
    if kept == "groups_knockout" and pairing.get("groups", 2) * pairing.get("advance", 2) < 2:  # noqa: PLR2004 - a final
        faults.append(Fault(place=f"{place}/advance", text="Two at least go on to the knock-out."))
    return faults


def with_limits(rules: Rules, pairing: Pairing) -> Rules:
    """The rules of the table with the limits of an open season: how many results count, how many games it takes."""
    if pairing.format != "open":
        return rules
    return replace(rules, best_of=pairing.best_of, least_games=pairing.least_games)


def write_pairing(pairing: Pairing) -> dict[str, Any]:
    """Every option of the format said, none of another."""
    options = {name: getattr(pairing, name) for name in OPTIONS_OF[pairing.format]}
    return {
        "format": pairing.format,
        **{name: list(value) if isinstance(value, tuple) else value for name, value in options.items()},
    }


def _plain(value: Any) -> Any:
    """Lists as tuples; JSON knows 3.0 for 3, from here on it is the whole number."""
    if isinstance(value, list):
        return tuple(value)
    return int(value) if isinstance(value, float) else value
