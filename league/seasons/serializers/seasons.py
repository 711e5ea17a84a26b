"""Seasons as JSON. Entrants and pairings go by the names they have in the season's document."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import Day, StrictSerializer, Submission, Text, Whole, YesNo
from league.engines.documents.reading import schema_of
from league.seasons.models import Season, Unplayed

__all__ = [
    "AdjustmentSerializer",
    "CellSerializer",
    "EntrantSerializer",
    "ImportSerializer",
    "MarksSerializer",
    "NewAdjustmentSerializer",
    "NewEntrantSerializer",
    "NewPairingSerializer",
    "NewRoundSerializer",
    "NewSeasonSerializer",
    "PairingSerializer",
    "RoundSerializer",
    "RulesChangeSerializer",
    "SeasonSerializer",
    "StandingsQuerySerializer",
    "StandingsSerializer",
    "WithdrawalSerializer",
]

SUBMISSION = "Names this submission; sent again with the same contents it is done once."


def as_openapi(schema: Any, defs: Any) -> Any:
    """A part of a document's schema with its references written out, as an OpenAPI 3.1 schema.

    What characters a text must *not* hold stays out of it: season.json says so, and programs that read an API's
    description know only half of such patterns.
    """
    if isinstance(schema, dict):
        if "$ref" in schema:
            target = defs[schema["$ref"].rsplit("/", 1)[1]]
            return as_openapi({**target, **{key: value for key, value in schema.items() if key != "$ref"}}, defs)
        return {key: as_openapi(value, defs) for key, value in schema.items() if key != "not"}
    if isinstance(schema, list):
        return [as_openapi(each, defs) for each in schema]
    return schema


DEFS = schema_of("season")["$defs"]


@extend_schema_field(as_openapi(DEFS["rules"], DEFS))
class RulesField(serializers.JSONField):
    """The `rules` of a season document; the service says what is wrong with them."""

    def to_internal_value(self, data: Any) -> Any:
        if not isinstance(data, dict):
            self.fail("invalid")
        return super().to_internal_value(data)


@extend_schema_field({"type": "object", "description": "A season document; its JSON Schema is season.json."})
class DocumentField(serializers.JSONField):
    pass


class SeasonSerializer(serializers.ModelSerializer[Season]):
    rules = serializers.SerializerMethodField(help_text="The rules of a season document.")
    ruleset = serializers.IntegerField(source="ruleset_id")
    entrant_count = serializers.IntegerField(default=0, help_text="How many take part today.")

    class Meta:
        model = Season
        fields = ["id", "name", "ruleset", "starts_on", "ends_on", "rules", "entrant_count", "created_at", "closed_at"]
        read_only_fields = fields

    @extend_schema_field(as_openapi(DEFS["rules"], DEFS))
    def get_rules(self, season: Season) -> dict[str, Any]:
        return {**season.rules, "counts": season.counts}


class NewSeasonSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    ruleset = Whole(min_value=1)
    name = Text(max_length=80)
    starts_on = Day()
    ends_on = Day(required=False, allow_null=True, default=None)
    rules = RulesField()


class RulesChangeSerializer(StrictSerializer):
    never_left_out = ("rules", "reason")

    rules = RulesField()
    reason = Text(max_length=200)


class PlayerSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="member_id")
    name = serializers.CharField(source="member.name")


class EntrantSerializer(serializers.Serializer):
    id = serializers.CharField(source="key", help_text="Its name in the season's document.")
    name = serializers.CharField()
    players = PlayerSerializer(source="players.all", many=True)
    left_at = serializers.DateTimeField(allow_null=True)
    left_after_round = serializers.IntegerField(allow_null=True)
    left_reason = serializers.CharField()
    joined_after_round = serializers.IntegerField(help_text="How many rounds were over when it entered.")
    seed_number = serializers.IntegerField(allow_null=True, help_text="Its place in the seeding; null: by lot.")


class NewEntrantSerializer(StrictSerializer):
    name = Text(max_length=80, required=False, default="", allow_blank=True)
    member_ids = serializers.ListField(child=Whole(min_value=1), max_length=50)


class WithdrawalSerializer(StrictSerializer):
    reason = Text(max_length=200)
    after_round = Whole(min_value=0, max_value=1000, required=False, allow_null=True, default=None)


class RoundSerializer(serializers.Serializer):
    number = serializers.IntegerField(help_text="0: open play.")
    on = serializers.DateField(allow_null=True)
    note = serializers.CharField()
    published_at = serializers.DateTimeField(allow_null=True, help_text="Null: typed in, or still a draft.")
    pairing_count = serializers.IntegerField(default=0)
    reported_count = serializers.IntegerField(default=0)


class NewRoundSerializer(StrictSerializer):
    number = Whole(
        min_value=0, max_value=1000, required=False, allow_null=True, default=None, help_text="0: open play."
    )
    on = Day(required=False, allow_null=True, default=None)
    note = Text(max_length=200, required=False, default="", allow_blank=True)


class SeatSerializer(serializers.Serializer):
    entrant = serializers.CharField(source="entrant.key")
    unplayed = serializers.ChoiceField(choices=["", *Unplayed.values])
    score = serializers.IntegerField(allow_null=True)
    outcome = serializers.ChoiceField(choices=["", "win", "draw", "loss"])


class PairingSerializer(serializers.Serializer):
    id = serializers.CharField(source="pairing.key", help_text="Its name in the season's document.")
    game = serializers.IntegerField(source="pairing.game_id", allow_null=True)
    report = serializers.IntegerField(source="report_id", allow_null=True)
    state = serializers.CharField(help_text="The report's state; else planned, cancelled or unplayed.")
    table = serializers.IntegerField(source="pairing.game.table_id", allow_null=True, default=None)
    scenario = serializers.CharField(source="pairing.game.scenario", default="")
    seats = SeatSerializer(many=True)


class NewPairingSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    entrants = serializers.ListField(
        child=Text(max_length=40), min_length=1, max_length=20, help_text="One for a bye, two or more for a game."
    )
    absent = YesNo(required=False, default=False)
    on = Day(required=False, allow_null=True, default=None)
    table = Whole(min_value=1, required=False, allow_null=True, default=None)
    scenario = Text(max_length=40, required=False, default="", allow_blank=True)


class MarksSerializer(StrictSerializer):
    seats = serializers.DictField(
        child=serializers.ChoiceField(choices=["", *Unplayed.values]), help_text="By the entrant's id."
    )


class AdjustmentSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="pk")
    entrant = serializers.CharField(source="entrant.key")
    points_x2 = serializers.IntegerField(help_text="Twice the points.")
    after_round = serializers.IntegerField()
    reason = serializers.CharField()
    by = serializers.CharField(source="by.name")
    on = serializers.DateField(allow_null=True)


class NewAdjustmentSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    entrant = Text(max_length=40)
    points_x2 = Whole(min_value=-2000, max_value=2000, help_text="Twice the points.")
    reason = Text(max_length=200)
    after_round = Whole(min_value=0, max_value=1000, required=False, default=0)


class StandingsQuerySerializer(StrictSerializer):
    round = serializers.IntegerField(
        min_value=0, max_value=1000, required=False, default=None, help_text="As it stood after this round."
    )
    date = serializers.DateField(required=False, default=None, help_text="As it stood at the end of this day.")


class TieBreakSerializer(serializers.Serializer):
    name = serializers.CharField()
    text = serializers.CharField(help_text="The value written out.")


class StandingsRowSerializer(serializers.Serializer):
    rank = serializers.IntegerField()
    shared = serializers.BooleanField(help_text="Level with a neighbour on everything.")
    entrant = serializers.CharField(source="entrant_id")
    name = serializers.CharField()
    played = serializers.IntegerField()
    won = serializers.IntegerField()
    drawn = serializers.IntegerField()
    lost = serializers.IntegerField()
    unplayed = serializers.IntegerField()
    points_x2 = serializers.IntegerField(help_text="Twice the points.")
    score_for = serializers.IntegerField()
    score_against = serializers.IntegerField()
    tie_breaks = TieBreakSerializer(source="values", many=True)


class StandingsSerializer(serializers.Serializer):
    season = serializers.IntegerField(source="season.pk")
    through_round = serializers.IntegerField(allow_null=True)
    through_date = serializers.DateField(allow_null=True)
    rows = StandingsRowSerializer(many=True)


class ReasonSerializer(serializers.Serializer):
    kind = serializers.CharField()
    contribution = serializers.IntegerField(help_text="In the cell's scale.")
    divisor = serializers.IntegerField()
    pairing = serializers.CharField(source="game_id", allow_null=True)
    round = serializers.IntegerField(allow_null=True)
    opponent = serializers.CharField(source="opponent_id", allow_null=True)
    note = serializers.CharField()


class CellSerializer(serializers.Serializer):
    """One number with its reasons; for a ratio the contributions over the divisors, else the contributions add up."""

    entrant = serializers.CharField()
    column = serializers.CharField()
    text = serializers.CharField(help_text="The value written out.")
    total = serializers.CharField(help_text="What the reasons add up to, written out.")
    scale = serializers.IntegerField(help_text="Divide contributions by this.")
    reasons = ReasonSerializer(many=True)


class ImportSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    ruleset = Whole(min_value=1)
    document = DocumentField()
