"""A campaign that is drawn up, as JSON: its map, its factions, its start, its forces, its rules, its seats."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from league.api import RowId, StrictSerializer, Submission, Text, Whole, YesNo
from league.clubs.models import Member
from league.rosters.models import Roster

__all__ = [
    "CampaignDraftSerializer",
    "CampaignImportSerializer",
    "ChangedMapSerializer",
    "DraftChangesSerializer",
    "FactionsSerializer",
    "ForceFactsSerializer",
    "ForceSerializer",
    "GraphmlSerializer",
    "MapSerializer",
    "NewDraftSerializer",
    "NewForceSerializer",
    "NewWarSeatSerializer",
    "WarRulesSerializer",
    "WarSeatSerializer",
    "WarStartSerializer",
]

SUBMISSION = "The client's name for this act: sent twice, it is done once."
VERSION = "The version one looked at; refused with 409 if the campaign has another by now. Without it what is sent is written over what there is."
KEY_MOST = 40
MOST = 1_000_000


@extend_schema_field({"type": "object", "additionalProperties": True})
class DocumentField(serializers.JSONField):
    """A JSON object, read by the documents' own reader."""


class KeyField(Text):
    def __init__(self, **options: Any) -> None:
        super().__init__(**{"max_length": KEY_MOST, **options})


class VersionedSerializer(StrictSerializer):
    version = Whole(min_value=1, required=False, allow_null=True, default=None, help_text=VERSION)


class NewDraftSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    ruleset = Whole(min_value=1, help_text="The id of one of the club's rulesets.")
    name = Text(max_length=80)
    about = Text(max_length=4000, allow_blank=True, required=False, default="")
    is_public = YesNo(required=False, default=False)


class CampaignImportSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    ruleset = Whole(
        min_value=1, help_text="The id of one of the club's rulesets; it takes the place of the document's."
    )
    document = DocumentField(help_text="A campaign document (campaign.json). Forces and facts are not taken over.")


class DraftChangesSerializer(StrictSerializer):
    name = Text(max_length=80)
    about = Text(max_length=4000, allow_blank=True)
    is_public = YesNo()


class StepSerializer(serializers.Serializer):
    key = serializers.CharField()
    title = serializers.CharField()
    so_far = serializers.CharField()
    wanting = serializers.ListField(
        child=serializers.CharField(), help_text="What is missing before the war can start."
    )


class CampaignDraftSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="campaign.pk")
    name = serializers.CharField(source="campaign.name")
    about = serializers.CharField(source="campaign.about")
    is_public = serializers.BooleanField(source="campaign.is_public")
    ruleset = serializers.IntegerField(source="campaign.edition.ruleset_id")
    version = serializers.IntegerField(source="campaign.version")
    started_at = serializers.DateTimeField(source="campaign.started_at", allow_null=True)
    steps = StepSerializer(many=True)


class MapSerializer(VersionedSerializer):
    map = DocumentField(help_text="A map document (map.json). Of its war only who holds what is taken.")


class GraphmlSerializer(VersionedSerializer):
    graphml = serializers.CharField(max_length=5_000_000, trim_whitespace=False, help_text="GraphML of any tool.")


class FactionSerializer(StrictSerializer):
    key = KeyField(allow_blank=True, required=False, default="", help_text="Empty: one is made from the name.")
    name = Text(max_length=80)
    side = KeyField(allow_blank=True, required=False, default="", help_text="Factions of one side are allies.")


class FactionsSerializer(VersionedSerializer):
    factions = FactionSerializer(many=True, max_length=50)


class WarPlaceSerializer(StrictSerializer):
    region = KeyField()
    faction = KeyField()


class WarStockSerializer(WarPlaceSerializer):
    amount = Whole(min_value=0, max_value=MOST, help_text="Whole loads.")


class WarStartSerializer(VersionedSerializer):
    holdings = WarPlaceSerializer(many=True, max_length=2000)
    depots = WarPlaceSerializer(many=True, max_length=2000, required=False, default=list)
    stocks = WarStockSerializer(many=True, max_length=4000, required=False, default=list)


class WarRulesSerializer(VersionedSerializer):
    rules = DocumentField(
        help_text="The part `rules` of a campaign document (campaign.json). What is left out is as usual."
    )


class ForceFactsSerializer(VersionedSerializer):
    faction = KeyField()
    region = KeyField()
    need = Whole(min_value=0, max_value=MOST, help_text="Loads of supply it wants a turn.")
    pace = Whole(min_value=1, max_value=20, help_text="How many roads it may follow in a turn.")


class NewForceSerializer(ForceFactsSerializer):
    roster = RowId(queryset=Roster.objects.none())
    key = KeyField(allow_blank=True, required=False, default="", help_text="Empty: one is made from its name.")

    def get_fields(self) -> dict[str, Any]:
        fields: dict[str, Any] = super().get_fields()
        if "rosters" in self.context:
            fields["roster"].queryset = self.context["rosters"]
        return fields


class ForceSerializer(serializers.Serializer):
    key = serializers.CharField()
    name = serializers.CharField()
    faction = serializers.CharField()
    region = serializers.CharField()
    need = serializers.IntegerField()
    pace = serializers.IntegerField()
    figures = serializers.SerializerMethodField()

    def get_figures(self, force: Any) -> int:
        return sum(unit.figures for unit in force.units)


class WarSeatSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="pk")
    faction = serializers.CharField()
    member = serializers.IntegerField(source="member_id")
    name = serializers.CharField(source="member.name")
    taken_at = serializers.DateTimeField()


class NewWarSeatSerializer(StrictSerializer):
    faction = KeyField()
    member = RowId(queryset=Member.objects.none())

    def get_fields(self) -> dict[str, Any]:
        fields: dict[str, Any] = super().get_fields()
        if "people" in self.context:
            fields["member"].queryset = self.context["people"]
        return fields


class ChangedMapSerializer(StrictSerializer):
    submission = Submission(help_text=SUBMISSION)
    turn = Whole(min_value=1, help_text="The turn that is being played.")
    reason = Text(max_length=1000)
    map = DocumentField(help_text="A map document (map.json).")
    effects = serializers.ListField(
        child=DocumentField(),
        required=False,
        default=list,
        max_length=2000,
        help_text="What becomes of what stands on ground that goes, as effects of a campaign document: place_force, remove_force, grant_stock.",
    )
