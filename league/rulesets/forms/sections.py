"""A ruleset edited section by section. A section is one form with sets of rows; together they make a whole document."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from league.rulesets.forms.kit_rows import NeedRow, StandInRow
from league.rulesets.forms.rows import (
    BonusRow,
    HalfPointsField,
    LimitRow,
    QualityRow,
    ScenarioRow,
    StepRow,
    TableRow,
    TieBreakRow,
    UnitClassRow,
    number,
)
from league.rulesets.forms.section import RowSet, SectionForm
from league.rulesets.queries import DESTROYED_POINTS

__all__ = ["SECTIONS"]


class AboutSection(SectionForm):
    section = "about"
    title = gettext_lazy("Name and summary")
    name = forms.CharField(label=gettext_lazy("Name"), max_length=80)
    summary = forms.CharField(
        label=gettext_lazy("Summary"), required=False, max_length=2000, widget=forms.Textarea({"rows": 5})
    )
    destroyed_points = forms.ChoiceField(
        label=gettext_lazy("What a beaten unit is worth to the enemy"), choices=list(DESTROYED_POINTS.items())
    )


class QualitiesSection(SectionForm):
    section = "qualities"
    title = gettext_lazy("Qualities")
    intro = gettext_lazy("How good a unit is; what that means at the table is up to you.")
    row_sets = (
        RowSet(
            name="qualities",
            path=("qualities",),
            row=QualityRow,
            title=gettext_lazy("Qualities"),
            things=lambda rules: rules.qualities,
        ),
    )


class ClassesSection(SectionForm):
    section = "classes"
    title = gettext_lazy("Unit classes")
    intro = gettext_lazy("The kinds of unit a roster may have, and how many figures one of each has.")
    row_sets = (
        RowSet(
            name="unit_classes",
            path=("unit_classes",),
            row=UnitClassRow,
            title=gettext_lazy("Unit classes"),
            things=lambda rules: rules.unit_classes,
        ),
    )


class LimitsSection(SectionForm):
    section = "limits"
    title = gettext_lazy("Limits")
    intro = gettext_lazy("What makes a roster legal. A roster that breaks a limit can be kept; it says so.")
    row_sets = (
        RowSet(
            name="limits",
            path=("limits",),
            row=LimitRow,
            title=gettext_lazy("Limits"),
            things=lambda rules: rules.limits,
        ),
    )


class CasualtiesSection(SectionForm):
    section = "casualties"
    title = gettext_lazy("Casualty tables")
    intro = gettext_lazy(
        "What becomes of those lost in battle. The first table that speaks of a unit decides; without one everybody "
        "is back for the next battle."
    )
    row_sets = (
        RowSet(
            name="casualty_tables",
            path=("casualty_tables",),
            row=TableRow,
            title=gettext_lazy("Casualty tables"),
            things=lambda rules: rules.casualty_tables,
            in_order=True,
            blank=1,
        ),
    )


class ExperienceSection(SectionForm):
    section = "experience"
    title = gettext_lazy("Experience")
    intro = gettext_lazy("What a unit gains that took the field, and what it is called from then on.")
    under = ("experience",)
    per_game = number(gettext_lazy("For a game"))
    per_win = number(gettext_lazy("For a win, on top"))
    per_draw = number(gettext_lazy("For a draw, on top"))
    row_sets = (
        RowSet(
            name="steps",
            path=("experience", "steps"),
            row=StepRow,
            title=gettext_lazy("Steps"),
            things=lambda rules: rules.experience.steps,
        ),
    )


class ScenariosSection(SectionForm):
    section = "scenarios"
    title = gettext_lazy("Scenarios")
    intro = gettext_lazy("The ways to fight a game: who is on which side, and what they score for.")
    row_sets = (
        RowSet(
            name="scenarios",
            path=("scenarios",),
            row=ScenarioRow,
            title=gettext_lazy("Scenarios"),
            things=lambda rules: rules.scenarios,
            blank=1,
        ),
    )


def points(label: Any) -> HalfPointsField:
    return HalfPointsField(label=label, required=False)


class ScoringSection(SectionForm):
    section = "scoring"
    title = gettext_lazy("Scoring")
    intro = gettext_lazy("What games are worth in a season, unless the season says otherwise. Halves are allowed.")
    under = ("scoring",)
    win_x2 = points(gettext_lazy("A win"))
    draw_x2 = points(gettext_lazy("A draw"))
    loss_x2 = points(gettext_lazy("A loss"))
    showing_up_x2 = points(gettext_lazy("Showing up, on top"))
    bye_x2 = points(gettext_lazy("A bye"))
    forfeit_win_x2 = points(gettext_lazy("A win by forfeit"))
    forfeit_loss_x2 = points(gettext_lazy("A loss by forfeit"))
    absent_x2 = points(gettext_lazy("A round missed"))
    row_sets = (
        RowSet(
            name="bonuses",
            path=("scoring", "bonuses"),
            row=BonusRow,
            title=gettext_lazy("Bonus points"),
            things=lambda rules: rules.scoring.bonuses,
        ),
        RowSet(
            name="tie_breaks",
            path=("scoring", "tie_breaks"),
            row=TieBreakRow,
            title=gettext_lazy("Tie-breaks, in order of use"),
            things=lambda rules: rules.scoring.tie_breaks,
        ),
    )


class KitSection(SectionForm):
    section = "kit"
    title = gettext_lazy("Kit")
    intro = gettext_lazy(
        "What a game asks of the kit box. From this the club's nights are reckoned: what every table needs, and who can "
        "bring it."
    )
    under = ("kit",)
    scale_mm = forms.IntegerField(
        label=gettext_lazy("Height of the figures in mm"),
        required=False,
        min_value=1,
        max_value=200,
        help_text=gettext_lazy(
            "Scenery and markers for other figures look out of place. Left blank: it does not matter."
        ),
    )
    scale_tolerance_mm = forms.IntegerField(
        label=gettext_lazy("How many mm taller or smaller will do"), required=False, min_value=0, max_value=200
    )
    row_sets = (
        RowSet(
            name="needs",
            path=("kit", "needs"),
            row=NeedRow,
            title=gettext_lazy("Needs"),
            things=lambda rules: rules.kit.needs,
            blank=1,
        ),
    )

    def said(self, field: str) -> Any:
        return self.cleaned_data[field] if field == "scale_mm" else super().said(field)


class StandInsSection(SectionForm):
    section = "stand-ins"
    title = gettext_lazy("Stand-ins")
    intro = gettext_lazy(
        "What may serve for what is missing: numbered dice for tokens, a cup for a bag, a book under the cloth for a hill."
    )
    under = ("kit",)
    row_sets = (
        RowSet(
            name="stand_ins",
            path=("kit", "stand_ins"),
            row=StandInRow,
            title=gettext_lazy("Stand-ins"),
            things=lambda rules: rules.kit.stand_ins,
            blank=1,
        ),
    )


SECTIONS: dict[str, type[SectionForm]] = {
    each.section: each
    for each in (
        AboutSection,
        QualitiesSection,
        ClassesSection,
        LimitsSection,
        CasualtiesSection,
        ExperienceSection,
        ScenariosSection,
        ScoringSection,
        KitSection,
        StandInsSection,
    )
}
