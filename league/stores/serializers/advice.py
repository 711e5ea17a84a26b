"""Spares, how many are enough, and a first game, in JSON."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import StrictSerializer
from league.stores.models import Category
from league.stores.queries.enough_page import MOST_TABLES
from league.stores.queries.first_game_page import StepLine
from league.stores.queries.spares import Spares
from league.stores.serializers.holdings import FoundHoldingSerializer

__all__ = [
    "EnoughQuerySerializer",
    "EnoughSerializer",
    "FirstGameSerializer",
    "SparesQuerySerializer",
    "SparesSerializer",
]

SHOWN = 200


class SparesQuerySerializer(StrictSerializer):
    q = serializers.CharField(max_length=200, allow_blank=True, default="")
    on = serializers.DateField(default=None)
    category = serializers.ChoiceField(choices=Category.choices, default="")
    colour = serializers.CharField(max_length=40, default="")
    scale_mm = serializers.IntegerField(min_value=1, max_value=200, default=None)


class SparesSerializer(serializers.Serializer):
    """`unknown`: words that nothing and nobody in the club is called by; `is_cut`: only the first was looked at."""

    on = serializers.DateField(allow_null=True, help_text="The day they are free on; null for now.")
    unknown = serializers.ListField(child=serializers.CharField())
    is_cut = serializers.BooleanField()
    found = serializers.SerializerMethodField(help_text="How many holdings have some.")
    holdings = serializers.SerializerMethodField()

    def get_found(self, spares: Spares) -> int:
        return len(spares.holdings)

    @extend_schema_field(FoundHoldingSerializer(many=True))
    def get_holdings(self, spares: Spares) -> list[Any]:
        return list(FoundHoldingSerializer(spares.holdings[:SHOWN], many=True).data)


class EnoughQuerySerializer(StrictSerializer):
    what = serializers.ChoiceField(choices=["markers", "dice"], default="markers")
    tables = serializers.IntegerField(min_value=1, max_value=MOST_TABLES, default=6)
    percent = serializers.IntegerField(min_value=1, max_value=99, default=95)


class StockStepSerializer(serializers.Serializer):
    stock = serializers.IntegerField()
    chance = serializers.FloatField(help_text="That so many are enough.")


class EnoughSerializer(serializers.Serializer):
    """`enough` pieces serve `tables` at once in `percent` of 100 evenings."""

    what = serializers.CharField(help_text="markers or dice.")
    tables = serializers.IntegerField()
    percent = serializers.IntegerField()
    enough = serializers.IntegerField()
    reports = serializers.IntegerField(
        help_text="How many reports told the most that were in use, of dice by the forces there."
    )
    prior = serializers.CharField(source="prior_words", help_text="What is assumed while reports are few.")
    prior_worth = serializers.IntegerField(source="worth", help_text="As much as so many reports.")
    mean = serializers.FloatField()
    curve = StockStepSerializer(source="steps", many=True)


class FirstGameStepSerializer(serializers.Serializer):
    need = serializers.CharField()
    count = serializers.IntegerField()
    who = serializers.CharField(help_text="Who lends it; empty where nobody has to.")
    what = serializers.CharField()
    note = serializers.CharField()
    holding = serializers.SerializerMethodField()
    why = serializers.ListField(child=serializers.CharField())

    @extend_schema_field(serializers.IntegerField(allow_null=True))
    def get_holding(self, line: StepLine) -> int | None:
        return line.holding.pk if line.holding else None


class FirstGameGroupSerializer(serializers.Serializer):
    """A heading of the page, and what stands under it."""

    title = serializers.SerializerMethodField()
    steps = serializers.SerializerMethodField()

    def get_title(self, group: Any) -> str:
        return str(group[0])

    @extend_schema_field(FirstGameStepSerializer(many=True))
    def get_steps(self, group: Any) -> list[Any]:
        return list(FirstGameStepSerializer(group[1], many=True).data)


class FirstGameSerializer(serializers.Serializer):
    """In the order in which things are easiest to have."""

    asks_nothing = serializers.BooleanField(help_text="The ruleset says nothing of kit.")
    groups = FirstGameGroupSerializer(many=True)
