"""The roster room in JSON. Read shapes list every key; write shapes refuse a key they do not know."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import RowId, StrictSerializer, Submission, Text, Whole, YesNo
from league.clubs.models import Member
from league.rosters.models import Roster
from league.rosters.queries import RosterSheet, UnitLine
from league.rosters.services.facts import UnitFacts
from league.rulesets.models import Ruleset

__all__ = [
    "AddUnitSerializer",
    "NewRosterSerializer",
    "NewUnitSerializer",
    "RosterChangeSerializer",
    "RosterCopySerializer",
    "RosterSerializer",
    "RosterSheetSerializer",
    "RosterStrengthSerializer",
    "UnitSerializer",
    "UnitsReadSerializer",
    "UnitsTextSerializer",
    "facts_in",
]


class RosterSerializer(serializers.ModelSerializer):
    """One line of the list."""

    units = serializers.IntegerField(source="unit_count")
    figures = serializers.IntegerField(source="figure_total", help_text="At full establishment.")
    points = serializers.IntegerField(source="points_total")

    class Meta:
        model = Roster
        fields = [
            "id",
            "name",
            "owner",
            "ruleset",
            "faction",
            "points_limit",
            "units",
            "figures",
            "points",
            "version",
            "created_at",
            "retired_at",
        ]
        read_only_fields = fields


class UnitRecoverySerializer(serializers.Serializer):
    figures = serializers.IntegerField()
    games_left = serializers.IntegerField()


class UnitStateSerializer(serializers.Serializer):
    """A unit today: figures = present + recovering + lost + awaiting_dice."""

    present = serializers.IntegerField()
    recovering = UnitRecoverySerializer(many=True)
    lost = serializers.IntegerField()
    awaiting_dice = serializers.IntegerField()
    out = serializers.BooleanField(help_text="Nobody of it can take the field.")
    gone = serializers.BooleanField(help_text="Nobody is left and nobody will return.")
    experience = serializers.IntegerField()
    step = serializers.CharField()
    games = serializers.IntegerField()
    wins = serializers.IntegerField()
    draws = serializers.IntegerField()
    losses = serializers.IntegerField()
    figures_lost_total = serializers.IntegerField()
    times_destroyed = serializers.IntegerField()
    times_routed = serializers.IntegerField()


class UnitSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="unit.pk")
    name = serializers.CharField(source="unit.name")
    unit_class = serializers.CharField(source="unit.unit_class", help_text="Key of the ruleset.")
    quality = serializers.CharField(source="unit.quality", help_text="Key of the ruleset, or empty.")
    figures = serializers.IntegerField(source="unit.figures", help_text="Its establishment.")
    points = serializers.IntegerField(source="unit.points")
    gear = serializers.ListField(child=serializers.CharField(), source="unit.gear")
    today = UnitStateSerializer(source="state")


class RosterSheetSerializer(serializers.Serializer):
    """A roster whole, as it stands today."""

    id = serializers.IntegerField(source="roster.pk")
    name = serializers.CharField(source="roster.name")
    owner = serializers.IntegerField(source="roster.owner_id")
    ruleset = serializers.IntegerField(source="roster.ruleset_id")
    edition = serializers.IntegerField(source="edition.number", help_text="The edition it is judged by.")
    faction = serializers.CharField(source="roster.faction")
    points_limit = serializers.IntegerField(source="roster.points_limit", allow_null=True)
    note = serializers.CharField(source="roster.note")
    copied_from = serializers.IntegerField(source="roster.copied_from_id", allow_null=True)
    version = serializers.IntegerField(source="roster.version")
    created_at = serializers.DateTimeField(source="roster.created_at")
    retired_at = serializers.DateTimeField(source="roster.retired_at", allow_null=True)
    points = serializers.IntegerField()
    figures = serializers.IntegerField()
    present = serializers.IntegerField(help_text="Figures fit today.")
    is_legal = serializers.BooleanField(source="legal")
    faults = serializers.ListField(child=serializers.CharField(), help_text="Everything illegal, in words.")
    units = UnitSerializer(many=True)


class UnitEventSerializer(serializers.Serializer):
    what = serializers.CharField()
    figures = serializers.IntegerField()
    games = serializers.IntegerField()
    experience = serializers.IntegerField()
    table = serializers.CharField(help_text="Key of the casualty table that decided, or empty.")
    rolls = serializers.ListField(child=serializers.IntegerField())


class UnitBattleSerializer(serializers.Serializer):
    engagement = serializers.IntegerField(allow_null=True, help_text="Null for a muster between two battles.")
    title = serializers.CharField(source="event.title")
    fought_on = serializers.DateField(source="on")
    outcome = serializers.CharField()
    changes = UnitEventSerializer(many=True)
    words = serializers.ListField(child=serializers.CharField())


class UnitReasonsSerializer(serializers.Serializer):
    unit = serializers.IntegerField(source="unit.pk")
    name = serializers.CharField(source="unit.name")
    is_removed = serializers.SerializerMethodField()
    present = serializers.IntegerField(source="state.present")
    figures = serializers.IntegerField(source="unit.figures")
    battles = UnitBattleSerializer(many=True)

    @extend_schema_field(serializers.BooleanField())
    def get_is_removed(self, line: UnitLine) -> bool:
        return line.unit.removed_at is not None


class RosterDoubtSerializer(serializers.Serializer):
    engagement = serializers.IntegerField(source="engagement.pk")
    title = serializers.CharField(source="engagement.title")
    reasons = serializers.ListField(child=serializers.CharField(), source="doubts")


class RosterStrengthSerializer(serializers.Serializer):
    """Why each unit stands where it does, battle by battle; and the reports that no longer fit the others."""

    units = serializers.SerializerMethodField()
    impossible = RosterDoubtSerializer(source="doubtful", many=True)

    @extend_schema_field(UnitReasonsSerializer(many=True))
    def get_units(self, sheet: RosterSheet) -> Any:
        return UnitReasonsSerializer([*sheet.units, *sheet.removed], many=True).data


class NewUnitSerializer(StrictSerializer):
    name = Text(max_length=80)
    unit_class = Text(max_length=40, help_text="Key of the ruleset.")
    figures = Whole(min_value=1, max_value=9_999)
    points = Whole(min_value=0, max_value=1_000_000)
    quality = Text(max_length=40, allow_blank=True, default="", help_text="Key of the ruleset, or empty.")
    gear = serializers.ListField(child=Text(max_length=200), max_length=20, default=list)


class Versioned(StrictSerializer):
    """A change of a roster. The version is asked for even where everything else may be left out."""

    never_left_out = ("version",)

    version = Whole(min_value=1, help_text="The roster's version as it was read; 409 if it is older.")


class AddUnitSerializer(NewUnitSerializer, Versioned):
    """A unit, and the version of the roster it goes to."""


class OfClub(RowId):
    """The id of a row of the club in question."""

    def get_queryset(self) -> Any:
        club = self.context.get("club")
        rows = super().get_queryset()
        return rows.filter(club=club) if club is not None else rows.none()


class RosterFactsSerializer(StrictSerializer):
    name = Text(max_length=80)
    faction = Text(max_length=80, allow_blank=True, default="")
    points_limit = Whole(min_value=0, max_value=1_000_000, allow_null=True, default=None)
    note = Text(max_length=2000, allow_blank=True, default="")


class NewRosterSerializer(RosterFactsSerializer):
    submission = Submission(help_text="A UUID of your making; the same one again answers with the first roster.")
    owner = OfClub(queryset=Member.objects.present(), required=False, help_text="A member's id; left out, yourself.")
    ruleset = OfClub(queryset=Ruleset.objects.all())
    units = NewUnitSerializer(many=True, default=list)


class RosterChangeSerializer(RosterFactsSerializer, Versioned):
    """What a roster is called."""


class RosterCopySerializer(StrictSerializer):
    submission = Submission()
    name = Text(max_length=80, allow_blank=True, default="")
    owner = OfClub(queryset=Member.objects.present(), required=False, help_text="A member's id; left out, yourself.")


class UnitsTextSerializer(StrictSerializer):
    text = Text(max_length=200_000, trim_whitespace=False, help_text="Lines, CSV or JSON.")
    version = Whole(min_value=1)
    dry_run = YesNo(default=True, help_text="Only say what would be read; writes nothing.")


class PreviewUnitSerializer(serializers.Serializer):
    line_number = serializers.IntegerField(source="unit.line_number")
    name = serializers.CharField(source="unit.name")
    unit_class = serializers.CharField(source="unit.class_key")
    quality = serializers.CharField(source="unit.quality_key")
    figures = serializers.IntegerField(source="unit.figures")
    points = serializers.IntegerField(source="unit.points")
    gear = serializers.ListField(child=serializers.CharField(), source="unit.gear")


class UnitsBadLineSerializer(serializers.Serializer):
    line_number = serializers.IntegerField()
    text = serializers.CharField()
    problems = serializers.ListField(child=serializers.CharField())


class UnitsReadSerializer(serializers.Serializer):
    written = serializers.BooleanField()
    version = serializers.IntegerField(help_text="The roster's version now.")
    units = PreviewUnitSerializer(many=True)
    bad_lines = UnitsBadLineSerializer(many=True)


def facts_in(body: dict[str, Any]) -> UnitFacts:
    """A unit as a checked body describes it."""
    return UnitFacts(
        name=body["name"],
        unit_class=body["unit_class"],
        figures=body["figures"],
        points=body["points"],
        quality=body["quality"],
        gear=tuple(body["gear"]),
    )
