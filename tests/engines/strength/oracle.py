"""The same rules, figure by figure: every figure has its own life, and a unit is whoever is alive and here.

Slow and plain on purpose: no sums are kept, everything is counted from the figures at the end.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass
class Figure:
    """`misses` battles are still to be missed; `dead` and `waiting` (for dice) say the rest."""

    misses: int = 0
    dead: bool = False
    waiting: bool = False

    @property
    def stands(self):
        return not (self.misses or self.dead or self.waiting)


def one_unit(unit, engagements, todays_ruleset):
    """(present, {games left: figures}, lost, awaiting dice, experience, battles) of `unit` after `engagements`."""
    figures = [Figure() for _ in range(unit.figures)]
    experience = battles = 0
    for engagement in sorted(engagements, key=lambda each: each.sequence):
        ruleset = engagement.ruleset or todays_ruleset
        standing = [figure for figure in figures if figure.stands]
        for figure in figures:
            figure.misses = max(figure.misses - 1, 0)
        lines = [each for each in engagement.casualties if each.unit_id == unit.id]
        if not standing or not (lines or unit.id in engagement.fielded):
            continue
        battles += 1
        experience += ruleset.experience.per_game
        experience += {"win": ruleset.experience.per_win, "draw": ruleset.experience.per_draw}.get(
            engagement.outcome, 0
        )
        for line in lines[:1]:
            suffer(figures, standing, line, ruleset.table_for(unit.unit_class, unit.quality))
    away = {}
    for figure in figures:
        if figure.misses:
            away[figure.misses] = away.get(figure.misses, 0) + 1
    return (
        sum(figure.stands for figure in figures),
        away,
        sum(figure.dead for figure in figures),
        sum(figure.waiting for figure in figures),
        experience,
        battles,
    )


def suffer(figures, standing, line, table):
    fallen = standing if line.destroyed else standing[: line.figures_lost]
    if not fallen or table is None:
        return
    dice = list(line.rolls or ())
    if table.roll_for == "figure":
        for figure in fallen:
            meet(figure, fate(table, dice.pop(0)) if dice else None)
        return
    outcome = fate(table, dice[0]) if dice else None
    for figure in fallen:
        meet(figure, outcome)
    if outcome and outcome.fate == "out":
        for figure in figures:
            if not figure.dead and not figure.waiting:
                figure.misses = max(figure.misses, outcome.games)
    if outcome and outcome.fate == "lost" and line.destroyed:
        for figure in figures:
            figure.misses, figure.waiting, figure.dead = 0, False, True


def fate(table, roll):
    """Reads the die by the words of the rule: of six faces, two a reading of three, three a reading of two."""
    faces_each = {2: 3, 3: 2}.get(table.die, 1)
    reading = -(-roll // faces_each)
    return next(line for line in table.outcomes if line.first <= reading <= line.last)


def meet(figure, outcome):
    if outcome is None:
        figure.waiting = True
    elif outcome.fate == "out":
        figure.misses = outcome.games
    elif outcome.fate == "lost":
        figure.dead = True
