"""The ruleset room in JSON. Read shapes list every key; write shapes refuse a key they do not know."""

from __future__ import annotations

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import StrictSerializer, Text, Whole
from league.rulesets.models import Edition, Ruleset
from league.rulesets.queries import current_edition

__all__ = [
    "EditionSerializer",
    "EditionWithDocumentSerializer",
    "NewRulesetSerializer",
    "ReviseSerializer",
    "RulesetSerializer",
    "RulesetWithDocumentSerializer",
]


@extend_schema_field(OpenApiTypes.OBJECT)
class DocumentField(serializers.JSONField):
    """A whole ruleset document."""


class RulesetSerializer(serializers.ModelSerializer):
    edition = serializers.IntegerField(source="number", help_text="The number of the current edition.")
    changed_at = serializers.DateTimeField()
    rosters = serializers.IntegerField(source="roster_count")

    class Meta:
        model = Ruleset
        fields = ["id", "name", "edition", "changed_at", "rosters", "created_at", "retired_at"]
        read_only_fields = fields


class RulesetWithDocumentSerializer(RulesetSerializer):
    document = serializers.SerializerMethodField()

    class Meta(RulesetSerializer.Meta):
        fields = [*RulesetSerializer.Meta.fields, "document"]
        read_only_fields = fields

    @extend_schema_field(OpenApiTypes.OBJECT)
    def get_document(self, ruleset: Ruleset) -> Any:
        return current_edition(ruleset).document


class NewRulesetSerializer(StrictSerializer):
    document = DocumentField(help_text="In the format “drumhead ruleset 1”.")


class ReviseSerializer(StrictSerializer):
    document = DocumentField(help_text="In the format “drumhead ruleset 1”; it replaces the current one as a whole.")
    number = Whole(min_value=1, help_text="The edition that was changed; 409 if it is not current.")
    note = Text(max_length=200, allow_blank=True, default="")


class EditionSerializer(serializers.ModelSerializer):
    created_by = serializers.PrimaryKeyRelatedField(read_only=True, help_text="The member who made it.")

    class Meta:
        model = Edition
        fields = ["number", "note", "created_by", "created_at"]
        read_only_fields = fields


class EditionWithDocumentSerializer(EditionSerializer):
    document = DocumentField(read_only=True)

    class Meta(EditionSerializer.Meta):
        fields = [*EditionSerializer.Meta.fields, "document"]
        read_only_fields = fields
