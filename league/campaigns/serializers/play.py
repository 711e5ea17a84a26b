"""Campaigns in JSON. Read shapes list every key; write shapes refuse a key they do not know."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from league.api import Day, Moment, RowId, StrictSerializer, Submission, Text, Whole
from league.campaigns.models import Campaign, Story
from league.clubs.models import Night
from league.rosters.models import Roster

__all__ = [
    "AcceptSerializer",
    "BookSerializer",
    "CampaignSerializer",
    "ConcedeSerializer",
    "DeadlineSerializer",
    "OrdersSerializer",
    "ReasonSerializer",
    "RollsSerializer",
    "RulingSerializer",
    "SettlementSerializer",
    "StorySerializer",
    "StoryWriteSerializer",
    "TellSerializer",
    "TurnSerializer",
]

ONCE = "The client's name for this act: sent twice, it is done once."
KEY = 80


class CampaignSerializer(serializers.ModelSerializer):
    ruleset = serializers.CharField(source="edition.ruleset.name", read_only=True)

    class Meta:
        model = Campaign
        fields = ["id", "name", "about", "ruleset", "is_public", "created_at", "started_at", "ended_at"]
        read_only_fields = fields


class OrdersSerializer(StrictSerializer):
    submission = Submission(help_text=ONCE)
    turn = Whole(min_value=1, max_value=10_000)
    orders = serializers.ListField(
        child=serializers.DictField(),
        max_length=500,
        help_text="As in a campaign document: move, hold, dig_in, rebuild, build_depot, send_supply. All of the set.",
    )
    importance = serializers.ListField(
        child=Text(max_length=KEY), max_length=500, default=list, help_text="Forces in the order they are to be fed."
    )


class DeadlineSerializer(StrictSerializer):
    turn = Whole(min_value=1, max_value=10_000)
    due_at = Moment(help_text="When the turn's orders must be in.")


class TurnSerializer(StrictSerializer):
    turn = Whole(min_value=1, max_value=10_000, help_text="The turn being played, so that a late click does nothing.")


class RollsSerializer(TurnSerializer):
    label = Text(max_length=200)
    results = serializers.ListField(child=Whole(min_value=1, max_value=1000), max_length=1000)


class ReasonSerializer(StrictSerializer):
    reason = Text(max_length=500)


class ConcedeSerializer(ReasonSerializer):
    winner = Text(max_length=KEY, help_text="A faction of the side that is left the field.")


class LossSerializer(StrictSerializer):
    force = Text(max_length=KEY)
    unit = Whole(min_value=1, max_value=2**53)
    figures = Whole(min_value=1, max_value=100_000)


class TellSerializer(ReasonSerializer):
    winner = Text(max_length=KEY, allow_blank=True, help_text="A faction of the side that won; empty for a draw.")
    losses = LossSerializer(many=True, max_length=1000, default=list)


class AcceptSerializer(StrictSerializer):
    seen = Text(max_length=64, help_text="The digest of what was looked at.")


class BookSerializer(StrictSerializer):
    night = RowId(queryset=Night.objects.none(), allow_null=True, default=None)
    on = Day(allow_null=True, default=None, help_text="Where no night is named.")
    scenario = Text(max_length=40, allow_blank=True, default="")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["night"].queryset = Night.objects.filter(club=club, cancelled_at=None)
        return fields


class RulingSerializer(StrictSerializer):
    submission = Submission(help_text=ONCE)
    turn = Whole(min_value=1, max_value=10_000)
    reason = Text(max_length=2000)
    effects = serializers.ListField(
        child=serializers.DictField(), max_length=100, default=list, help_text="As in a campaign document."
    )


class ReinforcementSerializer(StrictSerializer):
    submission = Submission(help_text=ONCE)
    turn = Whole(min_value=1, max_value=10_000)
    roster = RowId(queryset=Roster.objects.none())
    faction = Text(max_length=40)
    region = Text(max_length=40)
    need = Whole(min_value=0, max_value=1_000_000, help_text="Loads of supply it wants a turn.")
    pace = Whole(min_value=1, max_value=20, default=1, help_text="How many roads it may follow in a turn.")
    reason = Text(max_length=2000)

    def get_fields(self) -> dict[str, Any]:
        fields: dict[str, Any] = super().get_fields()
        if "rosters" in self.context:
            fields["roster"].queryset = self.context["rosters"]
        return fields


class SettlementSerializer(RulingSerializer):
    seen = Text(max_length=64, help_text="The digest of the correction that was looked at.")


class StorySerializer(serializers.ModelSerializer):
    by = serializers.CharField(source="by.name", read_only=True)

    class Meta:
        model = Story
        fields = ["id", "turn", "title", "text", "by", "at"]
        read_only_fields = fields


class StoryWriteSerializer(StrictSerializer):
    submission = Submission(help_text=ONCE)
    turn = Whole(min_value=1, max_value=10_000)
    title = Text(max_length=120)
    text = Text(max_length=8000)
