"""Formats, drafts and pins as JSON."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import Day, StrictSerializer, Text, Whole, YesNo
from league.engines.documents.season_formats import FORMATS
from league.seasons.models import Pin, Season
from league.seasons.queries.documents import pairing_of_season
from league.seasons.queries.formats import format_in_words
from league.seasons.serializers.seasons import DEFS, as_openapi

__all__ = [
    "DraftSerializer",
    "FormatSerializer",
    "NewFormatSerializer",
    "NewPinSerializer",
    "PinSerializer",
    "PlaceSerializer",
    "PostponeSerializer",
    "PublishSerializer",
    "PublishedSerializer",
]


@extend_schema_field({"type": "array", "items": {"type": "string"}})
class KeysField(serializers.Field):
    """The ids of entrants."""

    def to_representation(self, value: Any) -> list[str]:
        return [entrant.key for entrant in value]


class DraftReasonSerializer(serializers.Serializer):
    criterion = serializers.CharField()
    cost = serializers.IntegerField(help_text="0: nothing gave way here.")
    words = serializers.CharField()


class DraftLineSerializer(serializers.Serializer):
    division = serializers.CharField(help_text="Empty where there are none.")
    entrants = KeysField(help_text="The first of two attacks; one alone has the bye.")
    pinned = serializers.BooleanField()
    table = serializers.IntegerField(source="table.pk", allow_null=True, default=None)
    scenario = serializers.CharField(source="scenario.key", default="")
    reasons = DraftReasonSerializer(many=True)
    seating = serializers.ListField(child=serializers.CharField(), help_text="Why this table and this scenario.")


class GaveWaySerializer(serializers.Serializer):
    criterion = serializers.CharField()
    total = serializers.IntegerField()
    where = serializers.ListField(child=serializers.ListField(child=serializers.CharField()))
    unavoidable = serializers.BooleanField(
        allow_null=True, help_text="Whether no round at all keeps it; null: not proven."
    )
    words = serializers.CharField()


class PinSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="pin.pk")
    kind = serializers.ChoiceField(source="pin.kind", choices=Pin.Kind.choices)
    entrants = KeysField()
    table = serializers.IntegerField(source="pin.table_id", allow_null=True)


class DraftSerializer(serializers.Serializer):
    round = serializers.IntegerField(source="round.number")
    digest = serializers.CharField(help_text="Names exactly this draft; publishing asks for it.")
    is_exact = serializers.BooleanField(help_text="False: a better round may exist.")
    refusal = serializers.ListField(child=serializers.CharField(), help_text="Why there is no such round.")
    lines = DraftLineSerializer(many=True)
    gave_way = GaveWaySerializer(many=True)
    seating_gave_way = serializers.ListField(child=serializers.CharField())
    waiting = serializers.ListField(
        child=KeysField(), help_text="Games of earlier rounds without a result that counts."
    )
    pins = PinSerializer(many=True)


class PublishSerializer(StrictSerializer):
    seen = Text(max_length=64, help_text="The digest of the draft that was looked at.")


class PublishedSerializer(serializers.Serializer):
    number = serializers.IntegerField()
    published_at = serializers.DateTimeField()
    published_by = serializers.CharField(source="published_by.name")


class NewPinSerializer(StrictSerializer):
    kind = serializers.ChoiceField(choices=Pin.Kind.choices)
    entrants = serializers.ListField(child=Text(max_length=40), min_length=1, max_length=4)
    table = Whole(min_value=1, required=False, allow_null=True, default=None)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        attrs = super().validate(attrs)
        if attrs["kind"] == Pin.Kind.TABLE and attrs["table"] is None:
            raise serializers.ValidationError({"table": ["Say at which table."]})
        if attrs["kind"] != Pin.Kind.PAIRING and len(attrs["entrants"]) != 1:
            raise serializers.ValidationError({"entrants": ["Name one entrant."]})
        return attrs


@extend_schema_field(as_openapi(DEFS["pairing"], DEFS))
class PairingField(serializers.JSONField):
    """The `pairing` of a season document; the service says what is wrong with it."""

    def to_internal_value(self, data: Any) -> Any:
        if not isinstance(data, dict):
            self.fail("invalid")
        return super().to_internal_value(data)


class NewFormatSerializer(StrictSerializer):
    pairing = PairingField()


class FormatSerializer(serializers.Serializer):
    format = serializers.ChoiceField(choices=list(FORMATS))
    pairing = serializers.SerializerMethodField()
    rules = serializers.SerializerMethodField(help_text="In plain words.")

    @extend_schema_field(as_openapi(DEFS["pairing"], DEFS))
    def get_pairing(self, season: Season) -> dict[str, Any]:
        return {"format": season.format, **season.pairing}

    def get_rules(self, season: Season) -> list[str]:
        return format_in_words(pairing_of_season(season))


class PlaceSerializer(StrictSerializer):
    division = Text(max_length=40, required=False, default="", allow_blank=True, help_text="A division's id.")
    party = Text(max_length=60, required=False, default="", allow_blank=True)
    is_newcomer = YesNo(required=False, default=False)
    seed_number = Whole(min_value=1, max_value=10_000, required=False, allow_null=True, default=None)


class SeedingSerializer(StrictSerializer):
    order = serializers.ChoiceField(choices=["rating", "lot"], help_text="What the numbers go by.")


class SeedLineSerializer(serializers.Serializer):
    """A `rating` of None: nobody of the entrant is rated; a `seed_number` of None: the lot decides."""

    id = serializers.CharField(source="entrant.key")
    name = serializers.CharField(source="entrant.name")
    rating = serializers.IntegerField(allow_null=True)
    seed_number = serializers.IntegerField(source="entrant.seed_number", allow_null=True)


class PostponeSerializer(StrictSerializer):
    until = Day()
