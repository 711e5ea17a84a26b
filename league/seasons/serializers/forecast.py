"""A forecast as JSON. Entrants go by the names they have in the season's document."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import StrictSerializer
from league.engines.documents.season_foretold import Foretold
from league.seasons.queries.forecast import Forecast

__all__ = ["ForecastQuerySerializer", "ForecastSerializer"]

VERDICTS = "through, through_or_level, level, open, level_at_best, out or undecided"
OUTCOMES = "win, draw or loss"


class ForecastQuerySerializer(StrictSerializer):
    division = serializers.CharField(
        max_length=40, required=False, default=None, help_text="The division by its key; the first one if left out."
    )
    entrant = serializers.CharField(
        max_length=40, required=False, default=None, help_text="Whose needs from the next game are worked out."
    )


class FixtureSerializer(serializers.Serializer):
    pairing = serializers.CharField(source="id")
    round = serializers.IntegerField()
    first = serializers.CharField()
    second = serializers.CharField(allow_null=True)


class AimSerializer(serializers.Serializer):
    aim = serializers.CharField(help_text="title, final, semi_final, promotion or staying_up.")
    places = serializers.IntegerField(help_text="To finish among so many.")
    chance = serializers.FloatField()
    error = serializers.FloatField(help_text="The standard error of the chance.")
    verdict = serializers.CharField(help_text=f"What is certain, on points alone: {VERDICTS}.")


class EntrantForecastSerializer(serializers.Serializer):
    entrant = serializers.CharField()
    points_x2 = serializers.IntegerField(help_text="Twice the points.")
    aims = AimSerializer(many=True)
    places = serializers.ListField(
        child=serializers.FloatField(), help_text="The chance of each place, from the first."
    )
    errors = serializers.ListField(child=serializers.FloatField(), help_text="Their standard errors.")


class ConditionSerializer(serializers.Serializer):
    pairing = serializers.CharField(source="fixture_id")
    outcomes = serializers.ListField(
        child=serializers.CharField(), help_text=f"How it may end for its first side: {OUTCOMES}."
    )


class CaseSerializer(serializers.Serializer):
    outcome = serializers.CharField(help_text=f"{OUTCOMES}.")
    bonuses = serializers.SerializerMethodField(help_text="The own bonuses it comes with, and no others.")
    points_x2 = serializers.IntegerField()
    verdict = serializers.CharField(help_text=f"{VERDICTS}.")
    ifs = serializers.SerializerMethodField(help_text="Each list of conditions, met together, makes it certain.")
    level = serializers.BooleanField(help_text="The conditions make it level on points at worst.")

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_bonuses(self, case: Any) -> list[str]:
        return [bonus.label for bonus in case.bonuses]

    @extend_schema_field(serializers.ListField(child=ConditionSerializer(many=True)))
    def get_ifs(self, case: Any) -> list[Any]:
        return [ConditionSerializer(together, many=True).data for together in case.ifs]


class NeedsSerializer(serializers.Serializer):
    entrant = serializers.CharField(source="entrant_id")
    places = serializers.IntegerField()
    pairing = serializers.CharField(source="fixture_id")
    cases = CaseSerializer(many=True)


class ForecastSerializer(serializers.Serializer):
    """`reasons` says why nothing is foretold; then there are no entrants."""

    season = serializers.IntegerField(source="season.pk")
    reasons = serializers.ListField(child=serializers.CharField())
    division = serializers.CharField(source="told.division", default="")
    simulations = serializers.IntegerField(
        source="told.seasons", default=0, help_text="How many seasons were drawn; 0: every possible one was counted."
    )
    rounds_to_draw = serializers.IntegerField(source="told.rounds_to_draw", default=0)
    fixtures = FixtureSerializer(source="told.fixtures", many=True, default=())
    entrants = serializers.SerializerMethodField()
    needs = serializers.SerializerMethodField(help_text="Of the entrant asked for, one for each aim still open.")

    @extend_schema_field(EntrantForecastSerializer(many=True))
    def get_entrants(self, forecast: Forecast) -> list[Any]:
        return [] if forecast.told is None else list(EntrantForecastSerializer(lines(forecast.told), many=True).data)

    @extend_schema_field(NeedsSerializer(many=True))
    def get_needs(self, _forecast: Forecast) -> list[Any]:
        return list(NeedsSerializer(self.context.get("needs", ()), many=True).data)


def lines(told: Foretold) -> list[dict[str, Any]]:
    return [
        {
            "entrant": entrant,
            "points_x2": told.points_x2[place],
            "places": told.places[place],
            "errors": told.errors[place],
            "aims": [
                {
                    "aim": aim.name,
                    "places": aim.places,
                    "chance": aim.chances[place].chance,
                    "error": aim.chances[place].error,
                    "verdict": aim.verdicts[place],
                }
                for aim in told.aims
            ],
        }
        for place, entrant in enumerate(told.ids)
    ]
