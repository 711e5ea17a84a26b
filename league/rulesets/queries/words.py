"""What the engines find wrong, in the reader's language and with its place in words."""

from __future__ import annotations

import re
from collections.abc import Iterable

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines import rulesets as engine
from league.errors import Violation

__all__ = [
    "BONUS_KINDS",
    "DESTROYED_POINTS",
    "LIMIT_KINDS",
    "TIE_BREAKS",
    "place_in_words",
    "refusals",
    "tie_break_in_words",
    "violation_in_words",
]

LIMIT_KINDS = {
    "points_cap": gettext_lazy("points of the whole roster"),
    "unit_count": gettext_lazy("number of units"),
    "class_count": gettext_lazy("number of units of a class"),
    "class_share": gettext_lazy("share of a class in the points"),
}
BONUS_KINDS = {
    "margin": gettext_lazy("won by at least so much"),
    "narrow_loss": gettext_lazy("lost by at most so much"),
    "count_at_least": gettext_lazy("a count reached so much"),
    "clean_sweep": gettext_lazy("won every game, of at least so many"),
}
DESTROYED_POINTS = {
    "destroyed": gettext_lazy("its points when destroyed, nothing when only damaged"),
    "proportional": gettext_lazy("when damaged, its points in proportion to the figures lost"),
}
TIE_BREAKS = {
    "wins": gettext_lazy("number of wins"),
    "direct_encounter": gettext_lazy("direct encounter"),
    "buchholz": gettext_lazy("Buchholz"),
    "buchholz_cut1": gettext_lazy("Buchholz without the weakest opponent"),
    "buchholz_cut2": gettext_lazy("Buchholz without the two weakest opponents"),
    "buchholz_median1": gettext_lazy("Buchholz without the weakest and the strongest opponent"),
    "buchholz_median2": gettext_lazy("Buchholz without the two weakest and the two strongest opponents"),
    "sum_of_buchholz": gettext_lazy("sum of the opponents' Buchholz"),
    "sonneborn_berger": gettext_lazy("Sonneborn-Berger"),
    "progressive": gettext_lazy("progressive score"),
    "score_difference": gettext_lazy("score difference"),
    "score_for": gettext_lazy("own score"),
    "score_average": gettext_lazy("score ratio"),
    "value_difference": gettext_lazy("difference of points destroyed and lost"),
    "count_total": gettext_lazy("total of a count"),
    "drawn_lot": gettext_lazy("drawn lot"),
}

PLACES = {
    "format": gettext_lazy("format"),
    "name": gettext_lazy("name"),
    "summary": gettext_lazy("summary"),
    "key": gettext_lazy("key"),
    "qualities": gettext_lazy("qualities"),
    "unit_classes": gettext_lazy("unit classes"),
    "classes": gettext_lazy("classes"),
    "class": gettext_lazy("class"),
    "figures_least": gettext_lazy("fewest figures"),
    "figures_most": gettext_lazy("most figures"),
    "limits": gettext_lazy("limits"),
    "kind": gettext_lazy("kind"),
    "least": gettext_lazy("at least"),
    "most": gettext_lazy("at most"),
    "most_percent": gettext_lazy("at most per cent"),
    "casualty_tables": gettext_lazy("casualty tables"),
    "roll_for": gettext_lazy("one die for"),
    "die": gettext_lazy("die"),
    "outcomes": gettext_lazy("outcomes"),
    "from": gettext_lazy("from"),
    "to": gettext_lazy("to"),
    "fate": gettext_lazy("fate"),
    "games": gettext_lazy("games missed"),
    "destroyed_points": gettext_lazy("points for destroyed units"),
    "experience": gettext_lazy("experience"),
    "per_game": gettext_lazy("for a game"),
    "per_win": gettext_lazy("for a win"),
    "per_draw": gettext_lazy("for a draw"),
    "steps": gettext_lazy("steps"),
    "at": gettext_lazy("from experience"),
    "scenarios": gettext_lazy("scenarios"),
    "sides": gettext_lazy("sides"),
    "rounds_most": gettext_lazy("most rounds"),
    "objectives": gettext_lazy("objectives"),
    "points": gettext_lazy("points"),
    "shared": gettext_lazy("shared"),
    "score_most": gettext_lazy("highest score"),
    "draw_margin": gettext_lazy("draw margin"),
    "table": gettext_lazy("table"),
    "width_mm": gettext_lazy("width"),
    "depth_mm": gettext_lazy("depth"),
    "scoring": gettext_lazy("scoring"),
    "win_x2": gettext_lazy("a win"),
    "draw_x2": gettext_lazy("a draw"),
    "loss_x2": gettext_lazy("a loss"),
    "bye_x2": gettext_lazy("a bye"),
    "forfeit_win_x2": gettext_lazy("a win by forfeit"),
    "forfeit_loss_x2": gettext_lazy("a loss by forfeit"),
    "absent_x2": gettext_lazy("a round missed"),
    "showing_up_x2": gettext_lazy("showing up"),
    "bonuses": gettext_lazy("bonuses"),
    "points_x2": gettext_lazy("points"),
    "threshold": gettext_lazy("threshold"),
    "count": gettext_lazy("count"),
    "tie_breaks": gettext_lazy("tie-breaks"),
    "kit": gettext_lazy("kit"),
    "needs": gettext_lazy("needs"),
    "need": gettext_lazy("need"),
    "stand_ins": gettext_lazy("stand-ins"),
    "wanted": gettext_lazy("thing"),
    "piece": gettext_lazy("thing"),
    "category": gettext_lazy("sort"),
    "use": gettext_lazy("what it serves for"),
    "size_mm": gettext_lazy("size"),
    "tolerance_mm": gettext_lazy("how far the size may be off"),
    "scale_mm": gettext_lazy("height of figures"),
    "scale_tolerance_mm": gettext_lazy("how far the height may be off"),
    "colour": gettext_lazy("colour"),
    "per": gettext_lazy("asked for"),
    "of": gettext_lazy("for every so many"),
    "sharing": gettext_lazy("between the sides"),
    "gear": gettext_lazy("gear"),
    "extras": gettext_lazy("gear that adds dice"),
    "spare": gettext_lazy("to spare"),
    "importance": gettext_lazy("how much it matters"),
    "make": gettext_lazy("if nobody has it"),
    "takes": gettext_lazy("so many of it"),
    "covers": gettext_lazy("stand for so many"),
    "rank": gettext_lazy("place among stand-ins"),
    "loss": gettext_lazy("what it costs the game"),
    "at_home": gettext_lazy("at home"),
    "note": gettext_lazy("how it is done"),
}
STEP = re.compile(r"([^.\[\]]+)|\[(\d+)\]")


def violation_in_words(found: engine.Violation) -> str:
    """One finding of an engine in the reader's language."""
    translated = {"what"}  # the one argument that is a word of ours, not of the club
    args = {name: _(str(value)) if name in translated else value for name, value in found.args.items()}
    return _(found.message) % args


def place_in_words(place: str) -> str:
    """`casualty_tables[1].outcomes[0].from` as "casualty tables, line 2, outcomes, line 1, from"."""
    steps = []
    for name, index in STEP.findall(place):
        steps.append(str(PLACES.get(name, name)) if name else _("line %(number)s") % {"number": int(index) + 1})
    return ", ".join(steps)


def refusals(found: Iterable[engine.Violation], *, under: str = "") -> list[Violation]:
    """The findings as a service refuses with them; `field` is the place with dots, below `under`."""
    return [
        Violation(with_place(each), ".".join(part for part in (under, dotted(each.place)) if part), each.code)
        for each in found
    ]


def with_place(found: engine.Violation) -> str:
    words = violation_in_words(found)
    if not found.place:
        return words
    place = place_in_words(found.place)
    return f"{place[:1].upper()}{place[1:]}: {words}"


def dotted(place: str) -> str:
    return place.replace("[", ".").replace("]", "")


def tie_break_in_words(name: str) -> str:
    """`count_total:flags` as "total of a count: flags"."""
    kind, _colon, count = name.partition(":")
    words = str(TIE_BREAKS.get(kind, kind))
    return _("%(tie_break)s: %(count)s") % {"tie_break": words, "count": count} if count else words
