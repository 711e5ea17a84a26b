"""What the reports say, as JSON. Shares are 0 to 1."""

from __future__ import annotations

from rest_framework import serializers

__all__ = ["BalanceSerializer"]

FINDINGS = ["few", "even", "players", "uneven"]


class IntervalSerializer(serializers.Serializer):
    low = serializers.FloatField()
    high = serializers.FloatField()


class BalanceLineSerializer(serializers.Serializer):
    ruleset = serializers.CharField(allow_blank=True)
    name = serializers.CharField(help_text="The scenario, the table, or the faction met.")
    side = serializers.CharField(allow_blank=True, help_text="Whose share it is; empty: the scenario's first side.")
    games = serializers.IntegerField()
    wins = serializers.IntegerField()
    draws = serializers.IntegerField()
    losses = serializers.IntegerField()
    share = serializers.FloatField(help_text="Wins and half the draws, over all games.")
    interval = IntervalSerializer(help_text="Wilson's, 95 %.")
    fair_share = serializers.FloatField(help_text="Between players equally strong (Bradley-Terry).")
    fair_interval = IntervalSerializer(help_text="95 %.")
    finding = serializers.ChoiceField(
        choices=FINDINGS,
        help_text="few: too few games; even: even odds are possible; players: uneven, but the players' strength may "
        "be why; uneven.",
    )


class BalanceSerializer(serializers.Serializer):
    games = serializers.IntegerField()
    scenarios = BalanceLineSerializer(many=True)
    factions = BalanceLineSerializer(many=True)
    tables = BalanceLineSerializer(many=True)
