"""Ratings as JSON."""

from __future__ import annotations

from rest_framework import serializers

__all__ = ["CurveSerializer", "RatingsSerializer"]

MONTH = "The first day of the month."


class RatingSerializer(serializers.Serializer):
    member = serializers.IntegerField(source="member_id")
    name = serializers.CharField()
    rank = serializers.IntegerField(allow_null=True, help_text="None while the rating is provisional.")
    rating = serializers.FloatField()
    deviation = serializers.FloatField(help_text="The strength lies within twice this, 95 times in 100.")
    is_provisional = serializers.BooleanField()
    games = serializers.IntegerField()
    change = serializers.FloatField(help_text="What the last month with games made of the rating.")
    month = serializers.DateField(help_text=f"The last month with games. {MONTH}")


class SkillSerializer(serializers.Serializer):
    member = serializers.IntegerField(source="member_id")
    name = serializers.CharField()
    rank = serializers.IntegerField()
    mu = serializers.FloatField(source="skill.mu")
    sigma = serializers.FloatField(source="skill.sigma")
    cautious = serializers.FloatField(source="skill.cautious", help_text="Three sigma below mu; the list goes by it.")
    games = serializers.IntegerField()


class BinSerializer(serializers.Serializer):
    low = serializers.FloatField()
    high = serializers.FloatField()
    games = serializers.IntegerField()
    expected = serializers.FloatField()
    scored = serializers.FloatField()
    error = serializers.FloatField(help_text="The standard error of `scored` if the forecasts were right.")


class QualitySerializer(serializers.Serializer):
    """How good the forecasts of the first side's score were, against the best single number for all games."""

    games = serializers.IntegerField()
    log_loss = serializers.FloatField()
    brier = serializers.FloatField()
    base_rate = serializers.FloatField()
    base_log_loss = serializers.FloatField()
    base_brier = serializers.FloatField()
    bins = BinSerializer(many=True)


class RatingsSerializer(serializers.Serializer):
    today = serializers.DateField(help_text="The day at whose end these ratings stand.")
    games = serializers.IntegerField(help_text="How many games of one against one are behind `ratings`.")
    ratings = RatingSerializer(source="lines", many=True)
    team_games = serializers.IntegerField(help_text="How many games of teams or many sides are behind `teams`.")
    teams = SkillSerializer(many=True)
    quality = QualitySerializer(allow_null=True)
    says_quality = serializers.BooleanField(help_text="Whether there are games enough for `quality` to say anything.")


class CurveStepSerializer(serializers.Serializer):
    month = serializers.DateField(help_text=MONTH)
    rating = serializers.FloatField()
    deviation = serializers.FloatField()
    games = serializers.IntegerField()


class CurveSerializer(serializers.Serializer):
    member = serializers.IntegerField()
    curve = CurveStepSerializer(many=True)
