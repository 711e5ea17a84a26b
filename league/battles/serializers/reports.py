"""Battle reports in JSON."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import Day, StrictSerializer, Submission, Text, Whole, YesNo
from league.battles.models import Answer, Report, ReportState, Ruling
from league.battles.queries.versions import versions_with_changes
from league.battles.serializers.games import GameWriteSerializer, SidePlanSerializer
from league.battles.services.claims import CasualtyLine, ReportClaim, SideClaim
from league.rosters.models import Rolls

__all__ = [
    "CorrectionSerializer",
    "DiceSerializer",
    "DisputeSerializer",
    "LogSerializer",
    "ReportLineSerializer",
    "ReportSerializer",
    "ReportWriteSerializer",
    "SettleSerializer",
    "claim_of",
]

OUTCOMES = ["win", "draw", "loss"]
COUNTS = serializers.DictField(child=serializers.IntegerField(), help_text="How often, by the objective's key.")


class SideResultSerializer(serializers.Serializer):
    position = serializers.IntegerField(source="side.position")
    score = serializers.IntegerField(allow_null=True)
    conceded = serializers.BooleanField()
    outcome = serializers.ChoiceField(choices=OUTCOMES)
    value_destroyed = serializers.IntegerField()
    value_lost = serializers.IntegerField()
    objectives = serializers.SerializerMethodField()

    @extend_schema_field(COUNTS)
    def get_objectives(self, result: Any) -> dict[str, int]:
        return {count.objective: count.count for count in result.objectives.all()}


class ReportLineSerializer(serializers.ModelSerializer):
    """A report of a list: how it ended, without the casualties."""

    state = serializers.ChoiceField(choices=ReportState.choices, read_only=True)
    correction = serializers.SerializerMethodField(help_text="The report that corrected this one.")
    sides = serializers.SerializerMethodField()

    class Meta:
        model = Report
        fields = [
            "id",
            "game",
            "state",
            "supersedes",
            "correction",
            "reason",
            "is_full",
            "fought_on",
            "rounds_played",
            "markers_peak",
            "notes",
            "filed_by",
            "filed_at",
            "sides",
        ]
        read_only_fields = fields

    @extend_schema_field(serializers.IntegerField(allow_null=True))
    def get_correction(self, report: Report) -> int | None:
        return report.correction.pk if hasattr(report, "correction") else None

    @extend_schema_field(SideResultSerializer(many=True))
    def get_sides(self, report: Report) -> Any:
        results = sorted(report.results.all(), key=lambda result: result.side.position)
        return SideResultSerializer(results, many=True).data


class FallenSerializer(serializers.Serializer):
    """One unit's line; `dice` are empty while `dice_wanted` of them are to be thrown."""

    id = serializers.IntegerField(source="casualty_id")
    unit_id = serializers.IntegerField()
    unit_name = serializers.CharField()
    figures_lost = serializers.IntegerField()
    destroyed = serializers.BooleanField()
    routed = serializers.BooleanField()
    dice_wanted = serializers.IntegerField(source="wanted")
    die_sides = serializers.IntegerField(source="sides", help_text="The die to throw: six for two and three sides.")
    source = serializers.ChoiceField(choices=["", *Rolls.Source.values])
    dice = serializers.ListField(child=serializers.IntegerField())
    fates = serializers.ListField(child=serializers.CharField())
    label = serializers.CharField(help_text="What the dice are drawn under.")
    is_checked = serializers.BooleanField(
        allow_null=True, help_text="Whether the seed gives these dice; null for dice from the table."
    )


class ReportSideSerializer(serializers.Serializer):
    position = serializers.IntegerField()
    member_ids = serializers.ListField(child=serializers.IntegerField())
    names = serializers.ListField(child=serializers.CharField())
    roster_id = serializers.IntegerField(allow_null=True)
    score = serializers.IntegerField(allow_null=True)
    conceded = serializers.BooleanField()
    outcome = serializers.ChoiceField(choices=OUTCOMES)
    value_destroyed = serializers.IntegerField()
    value_lost = serializers.IntegerField()
    objectives = serializers.SerializerMethodField()
    casualties = FallenSerializer(source="fallen", many=True)

    @extend_schema_field(COUNTS)
    def get_objectives(self, side: Any) -> dict[str, int]:
        return {reached.key: reached.count for reached in side.objectives}


class AnswerSerializer(serializers.ModelSerializer):
    class Meta:
        model = Answer
        fields = ["member", "verdict", "text", "at"]
        read_only_fields = fields


class RulingSerializer(serializers.ModelSerializer):
    class Meta:
        model = Ruling
        fields = ["verdict", "text", "by", "at"]
        read_only_fields = fields


class ChangeSerializer(serializers.Serializer):
    what = serializers.CharField()
    before = serializers.CharField()
    after = serializers.CharField()


class VersionSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="report.pk")
    state = serializers.ChoiceField(source="report.state", choices=ReportState.choices)
    reason = serializers.CharField(source="report.reason")
    filed_by = serializers.IntegerField(source="report.filed_by_id")
    filed_at = serializers.DateTimeField(source="report.filed_at")
    changes = ChangeSerializer(many=True)


class ReportSerializer(serializers.Serializer):
    """One report in full (a `ReportPage`), with every version of it, the latest first."""

    id = serializers.IntegerField(source="report.pk")
    game = serializers.IntegerField(source="report.game_id")
    state = serializers.ChoiceField(source="report.state", choices=ReportState.choices)
    supersedes = serializers.IntegerField(source="report.supersedes_id", allow_null=True)
    reason = serializers.CharField(source="report.reason")
    is_full = serializers.BooleanField(source="report.is_full")
    fought_on = serializers.DateField(source="report.fought_on")
    rounds_played = serializers.IntegerField(source="report.rounds_played", allow_null=True)
    markers_peak = serializers.IntegerField(source="report.markers_peak", allow_null=True)
    notes = serializers.CharField(source="report.notes")
    filed_by = serializers.IntegerField(source="report.filed_by_id")
    filed_at = serializers.DateTimeField(source="report.filed_at")
    sides = ReportSideSerializer(many=True)
    answers = AnswerSerializer(many=True)
    ruling = RulingSerializer(allow_null=True)
    seed_hash = serializers.CharField(help_text="SHA-256 of the seed, shown from the beginning.")
    seed = serializers.CharField(help_text="Empty until dice were drawn from it.")
    history = serializers.SerializerMethodField()

    @extend_schema_field(VersionSerializer(many=True))
    def get_history(self, page: Any) -> Any:
        return VersionSerializer(versions_with_changes(page.report.game), many=True).data


class CasualtyClaimSerializer(StrictSerializer):
    unit_id = Whole(min_value=1)
    figures_lost = Whole(default=0, help_text="All that stood there, if the unit was destroyed.")
    destroyed = YesNo(default=False)
    routed = YesNo(default=False)


class ClaimFields(StrictSerializer):
    """What one side's part of a report may say."""

    score = Whole(allow_null=True, default=None)
    objectives = serializers.DictField(
        child=Whole(), allow_null=True, default=None, help_text="Counts by the objective's key."
    )
    conceded = YesNo(default=False)
    casualties = CasualtyClaimSerializer(many=True, default=list, max_length=200)


class SideClaimSerializer(ClaimFields):
    position = Whole(min_value=1, max_value=20)


class ClaimSerializer(StrictSerializer):
    fought_on = Day()
    sides = SideClaimSerializer(many=True, max_length=20)
    rounds_played = Whole(allow_null=True, default=None)
    markers_peak = Whole(
        allow_null=True, default=None, help_text="Most suppression markers in use at once on the whole table."
    )
    notes = Text(max_length=5000, allow_blank=True, default="")
    is_full = YesNo(default=False, help_text="Whether the casualties are complete.")


class ReportWriteSerializer(ClaimSerializer):
    submission = Submission(help_text="The client's name for this report: sent twice, it is filed once.")


class CorrectionSerializer(ReportWriteSerializer):
    reason = Text(max_length=200, help_text="Why it is corrected.")


class LogSideSerializer(SidePlanSerializer, ClaimFields):
    """A side with who was on it and how it came out; its position is its place in the list."""


class LogSerializer(GameWriteSerializer):
    """A game that is over: its plan and its report in one."""

    sides = LogSideSerializer(many=True, max_length=20)
    rounds_played = Whole(allow_null=True, default=None)
    markers_peak = Whole(allow_null=True, default=None)
    notes = Text(max_length=5000, allow_blank=True, default="")
    is_full = YesNo(default=False, help_text="Whether the casualties are complete.")


class DisputeSerializer(StrictSerializer):
    text = Text(max_length=2000, help_text="What is wrong.")


class SettleSerializer(StrictSerializer):
    verdict = serializers.ChoiceField(choices=Ruling.Verdict.choices)
    text = Text(max_length=2000, help_text="Why.")


class ThrownSerializer(StrictSerializer):
    casualty = Whole(min_value=1)
    results = serializers.ListField(child=Whole(), max_length=1000)


class DiceSerializer(StrictSerializer):
    rolls = ThrownSerializer(many=True, max_length=200)


def claim_of(data: dict[str, Any]) -> ReportClaim:
    """The claim of a valid body, of a report or of a whole game."""
    return ReportClaim(
        fought_on=data["fought_on"] if "fought_on" in data else data["on"],
        rounds_played=data["rounds_played"],
        markers_peak=data["markers_peak"],
        notes=data["notes"],
        is_full=data["is_full"],
        sides=[
            SideClaim(
                position=side.get("position", place),
                score=side["score"],
                objectives=side["objectives"],
                conceded=side["conceded"],
                casualties=[CasualtyLine(**line) for line in side["casualties"]],
            )
            for place, side in enumerate(data["sides"], start=1)
        ],
    )
