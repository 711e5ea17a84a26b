from __future__ import annotations

from rest_framework import serializers

from accounts.models import ApiToken
from accounts.queries import TokenState
from league.api import StrictSerializer, Text, Whole, YesNo

__all__ = ["NewTokenSerializer", "TokenSerializer", "TokenWithSecretSerializer"]


class TokenSerializer(serializers.ModelSerializer):
    state = serializers.ChoiceField(choices=TokenState.choices, read_only=True)

    class Meta:
        model = ApiToken
        fields = ["id", "name", "may_write", "created_at", "expires_at", "used_at", "revoked_at", "state"]
        read_only_fields = fields


class NewTokenSerializer(StrictSerializer):
    name = Text(max_length=80, help_text="What the token is for.")
    days = Whole(default=365, min_value=1, max_value=730, help_text="Days until it expires.")
    may_write = YesNo(default=False)


class TokenWithSecretSerializer(serializers.Serializer):
    id = serializers.IntegerField()
    secret = serializers.CharField(help_text="Shown in this answer and never again.")
