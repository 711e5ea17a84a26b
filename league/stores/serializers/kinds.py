"""Kinds, packs and cautions in JSON. Read shapes list every key; write shapes refuse a key they do not know."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from league.api import StrictSerializer, Submission, Text, Whole, YesNo
from league.stores.models import Category, ItemKind, PackOffer
from league.stores.queries import CAUTIONS
from league.stores.services.kinds import KindFacts

__all__ = [
    "CautionSerializer",
    "ItemKindSerializer",
    "KindChangeSerializer",
    "KindWriteSerializer",
    "PackOfferSerializer",
    "PackWriteSerializer",
    "kind_facts",
]


class PackOfferSerializer(serializers.ModelSerializer):
    class Meta:
        model = PackOffer
        fields = ["id", "kind", "pieces", "price_pence", "note", "added_at"]
        read_only_fields = fields


class ItemKindSerializer(serializers.ModelSerializer):
    category = serializers.ChoiceField(choices=Category.choices, read_only=True)
    use = serializers.CharField(read_only=True, help_text="A ruleset's word for the purpose; may be empty.")
    sizes_mm = serializers.ListField(child=serializers.IntegerField(), read_only=True)
    cautions = serializers.ListField(child=serializers.CharField(), read_only=True, help_text="Keys of the cautions.")
    packs = PackOfferSerializer(source="standing_offers", many=True, read_only=True)

    class Meta:
        model = ItemKind
        fields = [
            "id",
            "key",
            "name",
            "category",
            "use",
            "sides",
            "sizes_mm",
            "unit",
            "bulk_ml",
            "can_be_made",
            "how_made",
            "cautions",
            "caution",
            "packs",
            "created_at",
            "retired_at",
        ]
        read_only_fields = fields


class KindChangeSerializer(StrictSerializer):
    name = Text(max_length=80)
    category = serializers.ChoiceField(choices=Category.choices)
    use = Text(max_length=40, allow_blank=True, default="", help_text="A ruleset's word for the purpose.")
    sides = Whole(min_value=2, max_value=1000, allow_null=True, default=None, help_text="Of a die.")
    sizes_mm = serializers.ListField(
        child=Whole(min_value=1, max_value=10_000),
        max_length=8,
        default=list,
        help_text="Across a template, one for each circle it offers; along a ruler; both edges of a mat.",
    )
    unit = Text(max_length=40, allow_blank=True, default="")
    bulk_ml = Whole(min_value=0, max_value=1_000_000, default=0)
    can_be_made = YesNo(default=False)
    how_made = Text(max_length=1000, allow_blank=True, default="")
    cautions = serializers.ListField(
        child=serializers.ChoiceField(choices=[(key, caution.title) for key, caution in CAUTIONS.items()]),
        max_length=20,
        default=list,
    )
    caution = Text(max_length=1000, allow_blank=True, default="")


class KindWriteSerializer(KindChangeSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    key = Text(max_length=60, allow_blank=True, default="", help_text="Made from the name where it is left out.")


class PackWriteSerializer(StrictSerializer):
    pieces = Whole(min_value=1, max_value=100_000)
    price_pence = Whole(min_value=0, max_value=10_000_000)
    note = Text(max_length=120, allow_blank=True, default="")


class CautionSerializer(serializers.Serializer):
    """A usual caution. The maker's sheet, the venue's rules and the law of the place go before it."""

    key = serializers.CharField()
    title = serializers.CharField()
    text = serializers.CharField()


def kind_facts(data: dict[str, Any]) -> KindFacts:
    """A valid body, or what stands with changes laid over it, as facts."""
    facts = {name: data[name] for name in KindFacts.__slots__}
    return KindFacts(**{**facts, "sizes_mm": tuple(facts["sizes_mm"]), "cautions": tuple(facts["cautions"])})
