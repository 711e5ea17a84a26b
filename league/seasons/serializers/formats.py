"""Ladders, knock-outs, divisions and games that players arrange, as JSON."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import Day, StrictSerializer, Submission, Text, Whole
from league.seasons.queries.brackets import BracketLine, SeasonBracket
from league.seasons.serializers.drafts import KeysField
from league.seasons.serializers.seasons import SUBMISSION, StandingsRowSerializer

__all__ = [
    "BracketSerializer",
    "ChallengeSerializer",
    "DivisionFactsSerializer",
    "DivisionSerializer",
    "FixturesSerializer",
    "NewDivisionSerializer",
    "NextSeasonSerializer",
    "RungSerializer",
]


class RungSerializer(serializers.Serializer):
    number = serializers.IntegerField(help_text="1 is the top.")
    entrant = serializers.CharField(source="entrant.key")
    may_challenge = KeysField()


class MatchSerializer(serializers.Serializer):
    round = serializers.IntegerField()
    is_third_place = serializers.BooleanField()
    sides = serializers.SerializerMethodField(help_text="Null: somebody to come.")
    winner = serializers.CharField(source="winner.key", allow_null=True, default=None)
    is_walkover = serializers.BooleanField()

    @extend_schema_field({"type": "array", "items": {"type": ["string", "null"]}})
    def get_sides(self, line: BracketLine) -> list[str | None]:
        return [side.key if side else None for side in line.sides]


class PlacesSerializer(serializers.Serializer):
    place = serializers.IntegerField()
    entrants = serializers.ListField(child=serializers.CharField())


class BracketSerializer(serializers.Serializer):
    division = serializers.CharField(help_text="Empty where there are none.")
    matches = MatchSerializer(source="lines", many=True)
    places = serializers.SerializerMethodField()
    refusal = serializers.ListField(child=serializers.CharField())

    @extend_schema_field(PlacesSerializer(many=True))
    def get_places(self, bracket: SeasonBracket) -> list[dict[str, Any]]:
        return [{"place": place, "entrants": [row.key for row in rows]} for place, rows in bracket.places]


class DivisionSerializer(serializers.Serializer):
    id = serializers.CharField(source="division.key")
    name = serializers.CharField(source="division.name")
    level = serializers.IntegerField(source="division.level", help_text="1 is the highest.")
    promotes = serializers.IntegerField(source="division.promotes")
    relegates = serializers.IntegerField(source="division.relegates")
    rows = StandingsRowSerializer(many=True)


class DivisionFactsSerializer(serializers.Serializer):
    id = serializers.CharField(source="key")
    name = serializers.CharField()
    level = serializers.IntegerField(help_text="1 is the highest.")
    promotes = serializers.IntegerField()
    relegates = serializers.IntegerField()


class NewDivisionSerializer(StrictSerializer):
    name = Text(max_length=80)
    level = Whole(min_value=1, max_value=50, help_text="1 is the highest.")
    promotes = Whole(min_value=0, max_value=100, required=False, default=0, help_text="How many go up at the end.")
    relegates = Whole(min_value=0, max_value=100, required=False, default=0, help_text="How many go down at the end.")


class NextSeasonSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    name = Text(max_length=80)
    starts_on = Day()


class FixturesSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    text = serializers.CharField(
        max_length=200_000,
        help_text="A line for each pairing: round, who, against whom (or bye), and perhaps the day, with commas between.",
    )


class ChallengeSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    entrants = serializers.ListField(
        child=Text(max_length=40), min_length=2, max_length=20, help_text="On a ladder the first challenges the second."
    )
    on = Day()
