"""From a club's document to a checked ruleset."""

from __future__ import annotations

import re
from collections.abc import Iterator

from league.engines.rulesets.coherence import incoherences
from league.engines.rulesets.dice import DICE
from league.engines.rulesets.kit_parse import read_kit
from league.engines.rulesets.model import (
    FORMAT,
    Bonus,
    CasualtyTable,
    ClassCount,
    ClassShare,
    Experience,
    Limit,
    Objective,
    Outcome,
    PointsCap,
    Quality,
    Ruleset,
    Scenario,
    ScenarioSide,
    Scoring,
    Step,
    TableSize,
    UnitClass,
    UnitCount,
)
from league.engines.rulesets.reader import NUMBER_MOST, Reader
from league.engines.rulesets.violation import Violation

__all__ = ["BadRuleset", "parse_ruleset"]

GAMES_MISSED_MOST = 100
PERCENT_MOST = 100
SIDES_LEAST = 2

TIE_BREAKS = (
    "wins",
    "direct_encounter",
    "buchholz",
    "buchholz_cut1",
    "buchholz_cut2",
    "buchholz_median1",
    "buchholz_median2",
    "sum_of_buchholz",
    "sonneborn_berger",
    "progressive",
    "score_difference",
    "score_for",
    "score_average",
    "value_difference",
    "drawn_lot",
)
TIE_BREAK_FORM = re.compile("|".join(TIE_BREAKS) + r"|count_total:[a-z][a-z0-9_]{0,39}")


class BadRuleset(ValueError):
    """The document is no ruleset; `violations` are all that is wrong with it, each with its place."""

    def __init__(self, violations: tuple[Violation, ...]) -> None:
        self.violations = violations
        super().__init__("; ".join(f"{each.place}: {each.text}" for each in violations))


def parse_ruleset(document: object) -> Ruleset:
    """The ruleset a JSON document describes.

    Raises BadRuleset with every fault: of form (missing, misspelt, wrong kind, out of range) and of sense (a key used
    twice, a class nobody described, a roll without an outcome). A fault of sense that only follows from a fault of
    form is not reported beside it.
    """
    found: list[Violation] = []
    ruleset = _ruleset(Reader(document, place="", found=found))
    faulty = tuple(each.place for each in found)
    if "" not in faulty:
        found += [each.violation for each in incoherences(ruleset) if not each.is_doubtful(faulty)]
    if found:
        raise BadRuleset(tuple(found))
    return ruleset


def _ruleset(read: Reader) -> Ruleset:
    read.choice("format", [FORMAT])
    ruleset = Ruleset(
        name=read.line(),
        summary=read.prose("summary"),
        qualities=tuple(_quality(each) for each in read.items("qualities")),
        unit_classes=tuple(_unit_class(each) for each in read.items("unit_classes", least=1)),
        limits=tuple(_limit(each) for each in read.items("limits")),
        casualty_tables=tuple(_table(each) for each in read.items("casualty_tables")),
        destroyed_points=read.choice("destroyed_points", ["destroyed", "proportional"], default="destroyed"),
        experience=_experience(read.part("experience")),
        scenarios=tuple(_scenario(each) for each in read.items("scenarios")),
        scoring=_scoring(read.part("scoring")),
        kit=read_kit(read.part("kit")),
    )
    read.close()
    return ruleset


def _quality(read: Reader) -> Quality:
    quality = Quality(key=read.key(), name=read.line())
    read.close()
    return quality


def _unit_class(read: Reader) -> UnitClass:
    unit_class = UnitClass(
        key=read.key(),
        name=read.line(),
        figures_least=read.whole("figures_least", least=1),
        figures_most=read.whole("figures_most", least=1),
    )
    read.close()
    return unit_class


def _limit(read: Reader) -> Limit:
    kind = read.choice("kind", ["points_cap", "unit_count", "class_count", "class_share"])
    limit: Limit
    if kind == "unit_count":
        limit = UnitCount(least=read.whole("least", default=0), most=read.whole_or_none("most"))
    elif kind == "class_count":
        limit = ClassCount(
            unit_class=read.key("class"), least=read.whole("least", default=0), most=read.whole_or_none("most")
        )
    elif kind == "class_share":
        limit = ClassShare(unit_class=read.key("class"), most_percent=read.whole("most_percent", most=PERCENT_MOST))
    else:
        limit = PointsCap(most=read.whole("most"))
    read.close()
    return limit


def _table(read: Reader) -> CasualtyTable:
    table = CasualtyTable(
        key=read.key(),
        name=read.line(),
        roll_for=read.choice("roll_for", ["figure", "unit"]),
        die=read.choice("die", DICE),
        classes=read.keys("classes"),
        qualities=read.keys("qualities"),
        outcomes=tuple(_outcome(each) for each in read.items("outcomes", least=1)),
    )
    read.close()
    return table


def _outcome(read: Reader) -> Outcome:
    fate = read.choice("fate", ["back", "out", "lost"])
    outcome = Outcome(
        first=read.whole("from", least=1, most=max(DICE)),
        last=read.whole("to", least=1, most=max(DICE)),
        fate=fate,
        games=read.whole("games", least=1, most=GAMES_MISSED_MOST) if fate == "out" else 0,
    )
    read.close()
    return outcome


def _experience(read: Reader) -> Experience:
    experience = Experience(
        per_game=read.whole("per_game", default=0),
        per_win=read.whole("per_win", default=0),
        per_draw=read.whole("per_draw", default=0),
        steps=tuple(_steps(read)),
    )
    read.close()
    return experience


def _steps(read: Reader) -> Iterator[Step]:
    for each in read.items("steps"):
        yield Step(at=each.whole("at"), name=each.line())
        each.close()


def _scenario(read: Reader) -> Scenario:
    scenario = Scenario(
        key=read.key(),
        name=read.line(),
        summary=read.prose("summary"),
        sides=tuple(_side(each) for each in read.items("sides", least=SIDES_LEAST)),
        rounds_most=read.whole_or_none("rounds_most", least=1),
        objectives=tuple(_objective(each) for each in read.items("objectives")),
        score_most=read.whole_or_none("score_most", least=1),
        draw_margin=read.whole("draw_margin", default=0),
        table=_table_size(read.part_or_none("table")),
    )
    read.close()
    return scenario


def _side(read: Reader) -> ScenarioSide:
    side = ScenarioSide(key=read.key(), name=read.line())
    read.close()
    return side


def _objective(read: Reader) -> Objective:
    objective = Objective(
        key=read.key(),
        name=read.line(),
        points=read.whole("points", least=1),
        most=read.whole_or_none("most", least=1),
        shared=read.flag("shared"),
    )
    read.close()
    return objective


def _table_size(read: Reader | None) -> TableSize | None:
    if read is None:
        return None
    size = TableSize(width_mm=read.whole("width_mm", least=1), depth_mm=read.whole("depth_mm", least=1))
    read.close()
    return size


def _scoring(read: Reader) -> Scoring:
    usual = Scoring()
    scoring = Scoring(
        win_x2=read.whole("win_x2", default=usual.win_x2),
        draw_x2=read.whole("draw_x2", default=usual.draw_x2),
        loss_x2=read.whole("loss_x2", default=usual.loss_x2),
        bye_x2=read.whole("bye_x2", default=usual.bye_x2),
        forfeit_win_x2=read.whole("forfeit_win_x2", default=usual.forfeit_win_x2),
        forfeit_loss_x2=read.whole("forfeit_loss_x2", default=usual.forfeit_loss_x2, least=-NUMBER_MOST),
        absent_x2=read.whole("absent_x2", default=usual.absent_x2, least=-NUMBER_MOST),
        showing_up_x2=read.whole("showing_up_x2", default=usual.showing_up_x2),
        bonuses=tuple(_bonus(each) for each in read.items("bonuses")),
        tie_breaks=read.choices("tie_breaks", TIE_BREAK_FORM),
    )
    read.close()
    return scoring


def _bonus(read: Reader) -> Bonus:
    bonus = Bonus(
        kind=read.choice("kind", ["margin", "narrow_loss", "count_at_least", "clean_sweep"]),
        points_x2=read.whole("points_x2", least=-NUMBER_MOST),
        threshold=read.whole("threshold", least=1, default=1),
        count=read.key_or_empty("count"),
        name=read.line_or_empty("name"),
    )
    read.close()
    return bonus
