"""Lists of kit in JSON."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from league.api import RowId, StrictSerializer, Submission, Text, YesNo
from league.clubs.models import Member

__all__ = ["KitListReadSerializer", "KitListSerializer"]


class KitListSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    text = Text(
        max_length=200_000, trim_whitespace=False, help_text="Lines as one would write them, CSV, or JSON as text."
    )
    owner = RowId(
        queryset=Member.objects.none(),
        allow_null=True,
        required=False,
        help_text="Null is the club; myself if left out.",
    )
    dry_run = YesNo(default=True, help_text="Unless this is false nothing is written.")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["owner"].queryset = Member.objects.present().filter(club=club)
        return fields


class KitLineSerializer(serializers.Serializer):
    line_number = serializers.IntegerField(source="pieces.line_number")
    kind = serializers.CharField(source="pieces.kind", help_text="Key of the kind.")
    kind_name = serializers.CharField()
    count = serializers.IntegerField(source="pieces.count")
    colour = serializers.CharField(source="pieces.colour")
    scale_mm = serializers.IntegerField(source="pieces.scale_mm", allow_null=True)
    condition = serializers.CharField(source="pieces.condition")
    kept = serializers.IntegerField(source="pieces.kept")
    place = serializers.CharField(source="pieces.place")
    is_private = serializers.BooleanField(source="pieces.is_private")
    note = serializers.CharField(source="pieces.note")
    already = serializers.IntegerField(help_text="Pieces like it that the owner has on the list now.")


class UnreadLineSerializer(serializers.Serializer):
    line_number = serializers.IntegerField()
    text = serializers.CharField()
    problems = serializers.ListField(child=serializers.CharField())


class KitListReadSerializer(serializers.Serializer):
    written = serializers.BooleanField()
    holdings = serializers.ListField(child=serializers.IntegerField(), help_text="Those written, by number.")
    lines = KitLineSerializer(many=True)
    bad_lines = UnreadLineSerializer(many=True)
