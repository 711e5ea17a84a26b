"""Games and photos in JSON."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import Day, RowId, StrictSerializer, Submission, Text, Whole
from league.battles.models import Game, GameState, Photo
from league.battles.queries.games import line_of
from league.battles.services.plans import GamePlan, SidePlan
from league.clubs.models import Night, Table
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition

__all__ = [
    "GameSerializer",
    "GameWriteSerializer",
    "NamedRostersSerializer",
    "PhotoSerializer",
    "PhotoWriteSerializer",
    "SidePlanSerializer",
]

OUTCOMES = ["", "win", "draw", "loss"]


class SideLineSerializer(serializers.Serializer):
    position = serializers.IntegerField()
    role = serializers.CharField(source="role_key", help_text="A key of the scenario's sides, or empty.")
    member_ids = serializers.ListField(child=serializers.IntegerField())
    names = serializers.ListField(child=serializers.CharField())
    roster_id = serializers.IntegerField(allow_null=True)
    score = serializers.IntegerField(allow_null=True)
    conceded = serializers.BooleanField()
    outcome = serializers.ChoiceField(choices=OUTCOMES, help_text="Empty while there is no report.")


class GameSerializer(serializers.ModelSerializer):
    """A game with the last word on it. The seed itself is with the report, once dice were drawn from it."""

    state = serializers.ChoiceField(choices=GameState.choices, read_only=True)
    ruleset = serializers.IntegerField(source="edition.ruleset_id", read_only=True)
    report = serializers.IntegerField(source="report_id", read_only=True, allow_null=True)
    sides = serializers.SerializerMethodField()

    class Meta:
        model = Game
        fields = [
            "id",
            "on",
            "state",
            "ruleset",
            "edition",
            "scenario",
            "night",
            "table",
            "note",
            "sides",
            "report",
            "seed_hash",
            "created_at",
            "started_at",
            "cancelled_at",
        ]
        read_only_fields = fields

    @extend_schema_field(SideLineSerializer(many=True))
    def get_sides(self, game: Game) -> Any:
        return SideLineSerializer(line_of(game).sides, many=True).data


class SidePlanSerializer(StrictSerializer):
    member_ids = serializers.ListField(child=Whole(min_value=1), max_length=20)
    role = Text(max_length=40, allow_blank=True, default="")
    roster_id = Whole(min_value=1, allow_null=True, default=None)


class OfClubSerializer(StrictSerializer):
    """A body that names rows of the club in its context; those of other clubs are not found."""

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["ruleset"].queryset = Ruleset.objects.filter(club=club)
            fields["night"].queryset = Night.objects.filter(club=club)
            fields["table"].queryset = Table.objects.filter(venue__club=club).select_related("venue")
        return fields


class GameWriteSerializer(OfClubSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    ruleset = RowId(queryset=Ruleset.objects.none())
    scenario = Text(max_length=40, allow_blank=True, default="", help_text="A key of the ruleset, or empty.")
    on = Day()
    sides = SidePlanSerializer(many=True, max_length=20, help_text="Two or more, in the order of their positions.")
    night = RowId(queryset=Night.objects.none(), allow_null=True, default=None)
    table = RowId(queryset=Table.objects.none(), allow_null=True, default=None)
    note = Text(max_length=2000, allow_blank=True, default="")

    @staticmethod
    def plan(data: dict[str, Any]) -> GamePlan:
        """The game a valid body plans."""
        return GamePlan(
            edition=current_edition(data["ruleset"]),
            scenario=data["scenario"],
            on=data["on"],
            sides=[
                SidePlan(member_ids=side["member_ids"], role=side["role"], roster_id=side["roster_id"])
                for side in data["sides"]
            ],
            night=data["night"],
            table=data["table"],
            note=data["note"],
        )


class NamedRosterSerializer(StrictSerializer):
    position = Whole(min_value=1, max_value=20)
    roster_id = Whole(min_value=1)


class NamedRostersSerializer(StrictSerializer):
    sides = NamedRosterSerializer(many=True, max_length=20, help_text="The sides that had no roster so far.")

    def validate_sides(self, sides: list[dict[str, int]]) -> list[dict[str, int]]:
        if len({side["position"] for side in sides}) < len(sides):
            raise serializers.ValidationError(_("Name each side once."))
        return sides


class PhotoSerializer(serializers.ModelSerializer):
    class Meta:
        model = Photo
        fields = ["id", "game", "width", "height", "caption", "by", "at"]
        read_only_fields = fields


class PhotoWriteSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this photo: sent twice, it is kept once.")
    file = serializers.FileField(help_text="JPEG, PNG or WebP, up to 10 MB and 40 million pixels.")
    caption = serializers.CharField(max_length=200, allow_blank=True, default="")
