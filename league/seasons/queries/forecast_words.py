"""A forecast in plain words: verdicts, chances, and what somebody needs from the next game."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.documents.season_foretold import Foretold, GoalName
from league.engines.forecast import Case, Condition, Fixture, Needs, Verdict

__all__ = [
    "ForecastRow",
    "NeedWords",
    "aim_name",
    "bands_of",
    "chance_words",
    "needs_in_words",
    "rows_of",
    "verdict_words",
]

AIMS: Mapping[GoalName, Promise] = {
    "title": gettext_lazy("Title"),
    "final": gettext_lazy("In the final"),
    "semi_final": gettext_lazy("In a semi-final"),
    "promotion": gettext_lazy("Promotion"),
    "staying_up": gettext_lazy("Staying up"),
}
VERDICTS: Mapping[Verdict, Promise] = {
    "through": gettext_lazy("through"),
    "through_or_level": gettext_lazy("level on points at worst"),
    "level": gettext_lazy("down to the tie-breaks"),
    "open": gettext_lazy("still open"),
    "level_at_best": gettext_lazy("only by tie-breaks"),
    "out": gettext_lazy("out"),
    "undecided": gettext_lazy("undecided"),
}
CASES: Mapping[Verdict, Promise] = {
    "through": gettext_lazy("certain, whatever the others do"),
    "through_or_level": gettext_lazy("level on points at worst, whatever the others do"),
    "level": gettext_lazy("down to the tie-breaks"),
    "open": gettext_lazy("still open"),
    "level_at_best": gettext_lazy("at best level on points"),
    "out": gettext_lazy("out of reach"),
    "undecided": gettext_lazy("undecided: too much is still to be played, or drawn, to say"),
}
OUTCOMES = {"win": gettext_lazy("A win"), "draw": gettext_lazy("A draw"), "loss": gettext_lazy("A loss")}


@dataclass(frozen=True, kw_only=True, slots=True)
class NeedWords:
    """What the next game, against `opponent`, means for one aim: a sentence in sum, and a line a way it can end."""

    aim: str
    opponent: str
    round: int
    sum: str
    lines: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class ForecastRow:
    """One entrant: `aims` has chance, standard error and verdict of each aim, `bands` the chance of each band."""

    place: int
    entrant_id: str
    name: str
    points_x2: int
    aims: tuple[tuple[float, float, Verdict], ...]
    bands: tuple[float, ...]


# Up to so many places have a column each; beyond, the lower ones are taken together.
MOST_SINGLE_PLACES = 10
SINGLE_OF_MANY = 3
DIGITS = 9


def bands_of(entrants: int) -> list[tuple[int, int]]:
    """The columns of a table of places, each from one place to another: 1, 2, 3, 4 to 8, 9 to 16 and so on."""
    if entrants <= MOST_SINGLE_PLACES:
        return [(place, place) for place in range(1, entrants + 1)]
    bands = [(place, place) for place in range(1, SINGLE_OF_MANY + 1)]
    first, last = SINGLE_OF_MANY + 1, 2 * (SINGLE_OF_MANY + 1)
    while first <= entrants:
        bands.append((first, min(last, entrants)))
        first, last = last + 1, 2 * last
    return bands


def rows_of(told: Foretold, names: Mapping[str, str]) -> list[ForecastRow]:
    bands = bands_of(len(told.ids))
    return [
        ForecastRow(
            place=place + 1,
            entrant_id=entrant,
            name=names[entrant],
            points_x2=told.points_x2[place],
            aims=tuple((aim.chances[place].chance, aim.chances[place].error, aim.verdicts[place]) for aim in told.aims),
            bands=tuple(round(sum(told.places[place][low - 1 : high]), DIGITS) for low, high in bands),
        )
        for place, entrant in enumerate(told.ids)
    ]


def aim_name(name: GoalName) -> str:
    return str(AIMS[name])


def verdict_words(verdict: Verdict) -> str:
    return str(VERDICTS[verdict])


def chance_words(chance: float) -> str:
    """Whole hundredths; what is neither sure nor impossible never reads as if it were."""
    hundredths = round(100 * chance)
    if chance > 0 and hundredths == 0:
        return _("<1 %")
    if chance < 1 and hundredths == 100:  # noqa: PLR2004 - in a hundred
        return _(">99 %")
    return _("%(chance)s %%") % {"chance": hundredths}


def needs_in_words(needs: Sequence[Needs], told: Foretold, names: Mapping[str, str]) -> list[NeedWords]:
    """What each of the `needs_in` a forecast says."""
    known = {fixture.id: fixture for fixture in told.fixtures}
    aims = {aim.places: aim_name(aim.name) for aim in reversed(told.aims)}
    found = []
    for need in needs:
        fixture = known[need.fixture_id]
        other = fixture.second if fixture.first == need.entrant_id else fixture.first
        found.append(
            NeedWords(
                aim=aims[need.places],
                opponent=names[other or ""],
                round=fixture.round,
                sum=in_sum(need, names[need.entrant_id]),
                lines=tuple(lines_of(need.cases, known, names)),
            )
        )
    return found


def in_sum(need: Needs, name: str) -> str:
    """The one sentence everybody asks for."""
    least = need.enough
    if least is not None:
        return _("%(what)s is enough.") % {"what": case_name(least, plain=is_plain(need.cases, least))}
    if any(case.ifs and not case.level for case in need.cases):
        return _("%(name)s needs help from other games.") % {"name": name}
    return _("The next game alone cannot settle it for %(name)s.") % {"name": name}


def lines_of(cases: Sequence[Case], fixtures: Mapping[str, Fixture], names: Mapping[str, str]) -> list[str]:
    """A line a case, the best first; an outcome whose bonuses make no difference is one line."""
    lines: list[str] = []
    for case in cases:
        line = _("%(what)s: %(means)s.") % {
            "what": case_name(case, plain=is_plain(cases, case)),
            "means": meaning(case, fixtures, names),
        }
        if line not in lines:
            lines.append(line)
    return lines


def is_plain(cases: Sequence[Case], case: Case) -> bool:
    """Whether the bonuses of this outcome make no difference to what it means."""
    return all((each.verdict, each.ifs) == (case.verdict, case.ifs) for each in cases if each.outcome == case.outcome)


def case_name(case: Case, *, plain: bool) -> str:
    outcome = str(OUTCOMES[case.outcome])
    if plain:
        return outcome
    if not case.bonuses:
        return _("%(outcome)s without a bonus") % {"outcome": outcome}
    bonuses = " + ".join(bonus.label for bonus in case.bonuses)
    return _("%(outcome)s with %(bonuses)s") % {"outcome": outcome, "bonuses": bonuses}


def meaning(case: Case, fixtures: Mapping[str, Fixture], names: Mapping[str, str]) -> str:
    if not case.ifs:
        return str(CASES[case.verdict])
    either = _(", or if ").join(
        _(" and ").join(condition_words(each, fixtures[each.fixture_id], names) for each in together)
        for together in case.ifs
    )
    if case.level:
        return _("level on points at worst if %(conditions)s") % {"conditions": either}
    if case.verdict == "through_or_level":
        return _("level on points at worst, and certain if %(conditions)s") % {"conditions": either}
    return _("certain if %(conditions)s") % {"conditions": either}


def condition_words(condition: Condition, fixture: Fixture, names: Mapping[str, str]) -> str:
    """How another game must end, told from whoever makes the shortest sentence."""
    sides = {"first": names[fixture.first], "second": names[fixture.second or ""]}
    outcomes = frozenset(condition.outcomes)
    words = {
        frozenset({"win"}): _("%(first)s beats %(second)s"),
        frozenset({"draw"}): _("%(first)s and %(second)s draw"),
        frozenset({"loss"}): _("%(second)s beats %(first)s"),
        frozenset({"win", "draw"}): _("%(second)s does not beat %(first)s"),
        frozenset({"draw", "loss"}): _("%(first)s does not beat %(second)s"),
        frozenset({"win", "loss"}): _("%(first)s and %(second)s do not draw"),
        frozenset({"win", "draw", "loss"}): _("%(first)s plays %(second)s"),
    }
    return words[outcomes] % sides
