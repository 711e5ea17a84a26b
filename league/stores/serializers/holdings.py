"""Holdings, their record, shelves and spares in JSON."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import RowId, StrictSerializer, Submission, Text, Whole, YesNo
from league.clubs.models import Member, Venue
from league.stores.models import Act, Condition, Holding, ItemKind, Movement, ShelfCount
from league.stores.services.holdings import HoldingFacts
from league.stores.services.movements import GAINS, LOSSES, PIECES_MOST

__all__ = [
    "CountWriteSerializer",
    "FoundHoldingSerializer",
    "HoldingChangeSerializer",
    "HoldingPhotoSerializer",
    "HoldingSerializer",
    "HoldingWriteSerializer",
    "MovementSerializer",
    "MovementWriteSerializer",
    "ShelfCountSerializer",
    "ShelfLineSerializer",
    "holding_facts",
]

GAIN_CHOICES = [(act.value, act.label) for act in GAINS]
LOSS_CHOICES = [(act.value, act.label) for act in LOSSES]


class PlainHoldingSerializer(serializers.ModelSerializer):
    """Where a holding lies and whose it is; `owner` null is the club."""

    kind_name = serializers.CharField(source="kind.name", read_only=True)
    owner_name = serializers.CharField(source="owner.name", default="", read_only=True)
    condition = serializers.ChoiceField(choices=Condition.choices, read_only=True)
    has_photo = serializers.SerializerMethodField()

    class Meta:
        model = Holding
        fields = [
            "id",
            "kind",
            "kind_name",
            "owner",
            "owner_name",
            "keeper",
            "venue",
            "place",
            "colour",
            "scale_mm",
            "condition",
            "kept",
            "is_private",
            "note",
            "label",
            "has_photo",
            "created_at",
            "retired_at",
        ]
        read_only_fields = fields

    @extend_schema_field(serializers.BooleanField())
    def get_has_photo(self, holding: Holding) -> bool:
        return bool(holding.photo)


class HoldingSerializer(PlainHoldingSerializer):
    """A holding with its balance today: spare = held, less kept, less out, less promised."""

    held = serializers.IntegerField(read_only=True)
    out = serializers.IntegerField(read_only=True, help_text="Set aside for loans, or lent.")
    promised = serializers.IntegerField(read_only=True, help_text="The most that is promised for any one day to come.")
    spare = serializers.IntegerField(read_only=True)

    class Meta(PlainHoldingSerializer.Meta):
        fields = [*PlainHoldingSerializer.Meta.fields, "held", "out", "promised", "spare"]
        read_only_fields = fields


class FoundHoldingSerializer(PlainHoldingSerializer):
    """A holding that has something to spare on the day asked for."""

    spare = serializers.IntegerField(read_only=True)

    class Meta(PlainHoldingSerializer.Meta):
        fields = [*PlainHoldingSerializer.Meta.fields, "spare"]
        read_only_fields = fields


class HoldingChangeSerializer(StrictSerializer):
    place = Text(max_length=120, allow_blank=True, default="")
    venue = RowId(queryset=Venue.objects.none(), allow_null=True, default=None, help_text="The hall where it lies.")
    keeper = RowId(
        queryset=Member.objects.none(), allow_null=True, default=None, help_text="Who has the club's kit at home."
    )
    colour = Text(max_length=40, allow_blank=True, default="")
    scale_mm = Whole(min_value=1, max_value=200, allow_null=True, default=None)
    condition = serializers.ChoiceField(choices=Condition.choices, default=Condition.GOOD.value)
    kept = Whole(min_value=0, max_value=PIECES_MOST, default=0)
    is_private = YesNo(default=False)
    note = Text(max_length=1000, allow_blank=True, default="")
    label = Text(max_length=10, allow_blank=True, default="", help_text="The label of a shelf it lies on with others.")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["venue"].queryset = Venue.objects.filter(club=club)
            fields["keeper"].queryset = Member.objects.present().filter(club=club)
        return fields


class HoldingWriteSerializer(HoldingChangeSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    kind = RowId(queryset=ItemKind.objects.none())
    owner = RowId(
        queryset=Member.objects.none(),
        allow_null=True,
        required=False,
        help_text="Null is the club; myself if left out.",
    )
    count = Whole(min_value=1, max_value=PIECES_MOST)
    act = serializers.ChoiceField(choices=GAIN_CHOICES, default=Act.RECEIVED.value, help_text="How the pieces came.")
    reason = Text(max_length=200, allow_blank=True, default="")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["kind"].queryset = ItemKind.objects.filter(club=club).select_related("club")
            fields["owner"].queryset = Member.objects.present().filter(club=club)
        return fields


class HoldingPhotoSerializer(StrictSerializer):
    file = serializers.FileField(help_text="JPEG, PNG or WebP, up to 10 MB and 40 million pixels.")


class MovementSerializer(serializers.ModelSerializer):
    """A line of a holding's record, with the balances it left."""

    act = serializers.ChoiceField(choices=Act.choices, read_only=True)
    by_name = serializers.CharField(source="by.name", default="", read_only=True)

    class Meta:
        model = Movement
        fields = [
            "id",
            "sequence",
            "act",
            "change",
            "out_change",
            "held_after",
            "out_after",
            "loan",
            "shelf_count",
            "reason",
            "by",
            "by_name",
            "at",
        ]
        read_only_fields = fields


class MovementWriteSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    act = serializers.ChoiceField(choices=GAIN_CHOICES + LOSS_CHOICES)
    count = Whole(min_value=1, max_value=PIECES_MOST)
    reason = Text(max_length=200, allow_blank=True, default="")


class ShelfLineSerializer(serializers.Serializer):
    """A holding under a label. `there`: pieces that the record says lie there, those set aside for loans included."""

    holding = serializers.IntegerField(source="holding.pk")
    kind = serializers.IntegerField(source="holding.kind_id")
    name = serializers.CharField(source="what")
    there = serializers.IntegerField()


class CountedSerializer(StrictSerializer):
    holding = Whole(min_value=1)
    pieces = Whole(min_value=0, max_value=PIECES_MOST)


class CountWriteSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    counted = CountedSerializer(many=True, max_length=200, help_text="What was counted; the rest of the shelf was not.")
    reason = Text(max_length=200, allow_blank=True, default="", help_text="Needed where something differs.")

    def validate_counted(self, counted: list[dict[str, int]]) -> list[dict[str, int]]:
        if len({each["holding"] for each in counted}) < len(counted):
            raise serializers.ValidationError("Name each holding once.")
        return counted


class ShelfCountSerializer(serializers.ModelSerializer):
    lines = MovementSerializer(source="movements", many=True, read_only=True)

    class Meta:
        model = ShelfCount
        fields = ["id", "label", "reason", "by", "at", "lines"]
        read_only_fields = fields


def holding_facts(data: dict[str, Any]) -> HoldingFacts:
    """A valid body, or what stands with changes laid over it, as facts."""
    return HoldingFacts(**{name: data[name] for name in HoldingFacts.__slots__})
