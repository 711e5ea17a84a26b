"""A night's needs, plan, packing lists and promises in JSON."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from league.api import RowId, StrictSerializer, Submission, Whole
from league.clubs.models import Member
from league.stores.models import Carrying, Holding, Promise
from league.stores.services.movements import PIECES_MOST

__all__ = [
    "CarryingSerializer",
    "CarryingWriteSerializer",
    "NightKitSerializer",
    "PackingListSerializer",
    "PartSerializer",
    "PromiseSerializer",
    "PromiseWriteSerializer",
    "RemindedSerializer",
    "ShoppingQuerySerializer",
    "ShoppingSerializer",
]

IMPORTANCES = ["needed", "wanted", "pleasant"]


class MetSerializer(serializers.Serializer):
    """Pieces that the plan puts to a need. `member` null: they are at the venue already."""

    supply = serializers.CharField(help_text="holding:12, or loan:3 for what the member has borrowed.")
    name = serializers.CharField()
    member = serializers.IntegerField(source="carrier", allow_null=True)
    count = serializers.IntegerField()
    rank = serializers.IntegerField(source="use.rank", help_text="0: the thing itself; else a stand-in.")
    note = serializers.CharField(source="use.note")
    reasons = serializers.SerializerMethodField()

    def get_reasons(self, line: Any) -> list[str]:
        return [reason.words for reason in line.reasons]


class NeedSerializer(serializers.Serializer):
    """One thing that a table asks for, why, and how it is met."""

    key = serializers.CharField(source="asked.demand.key")
    need = serializers.CharField(source="asked.need", help_text="Key of the ruleset.")
    name = serializers.CharField(source="asked.demand.name")
    count = serializers.IntegerField(source="asked.demand.count")
    importance = serializers.ChoiceField(choices=IMPORTANCES, source="asked.demand.importance")
    why = serializers.ListField(child=serializers.CharField(), source="asked.demand.why")
    missing = serializers.IntegerField()
    met = MetSerializer(many=True, source="lines")


class TableNeedsSerializer(serializers.Serializer):
    key = serializers.CharField(source="table.key")
    name = serializers.CharField(source="table.name")
    game = serializers.IntegerField(source="table.game.pk")
    players = serializers.ListField(child=serializers.IntegerField(), source="table.players")
    lacks = serializers.ListField(
        child=serializers.CharField(), source="table.lacks", help_text="Sides whose roster nobody has named yet."
    )
    needs = NeedSerializer(many=True, source="met")


class ComerSerializer(serializers.Serializer):
    """Somebody who said they come, and how much they said they can carry."""

    member = serializers.IntegerField(source="key")
    name = serializers.CharField()
    carries_most_ml = serializers.IntegerField(allow_null=True)
    has_packed = serializers.BooleanField()


class ShortfallSerializer(serializers.Serializer):
    """What is missing, with the proof in words that no plan misses less."""

    table = serializers.CharField(source="table.name")
    game = serializers.IntegerField(source="table.game.pk")
    demand = serializers.CharField(source="shortfall.demand")
    name = serializers.CharField(source="shortfall.name")
    importance = serializers.ChoiceField(choices=IMPORTANCES, source="shortfall.importance")
    asked = serializers.IntegerField(source="shortfall.asked")
    missing = serializers.IntegerField(source="shortfall.missing")
    words = serializers.CharField(source="shortfall.words")
    make = serializers.CharField(help_text="print, make, or empty: how it can be had without buying it.")


class PlanValueSerializer(serializers.Serializer):
    """What the plan costs by one criterion, and the least that any plan can cost there."""

    criterion = serializers.CharField()
    level = serializers.CharField()
    value = serializers.IntegerField()
    bound = serializers.IntegerField()
    proof = serializers.ChoiceField(choices=["integers", "solver", "open"])


class ForTableSerializer(serializers.Serializer):
    game = serializers.IntegerField(source="table.game.pk")
    table = serializers.CharField(source="table.name")
    count = serializers.IntegerField()
    reasons = serializers.ListField(child=serializers.CharField())


class PackLineSerializer(serializers.Serializer):
    """One thing to pack. `count` 0: it was promised, but the plan does not need it."""

    holding = serializers.SerializerMethodField()
    name = serializers.CharField()
    count = serializers.IntegerField()
    bulk_ml = serializers.IntegerField()
    tables = ForTableSerializer(many=True)
    promise = serializers.IntegerField(source="promise.pk", default=None, allow_null=True)
    promised = serializers.IntegerField(source="promise.count", default=0)
    is_packed = serializers.BooleanField()

    def get_holding(self, line: Any) -> int:
        return int(line.at_hand.holding.pk if line.at_hand else line.promise.holding_id)


class PackingListSerializer(serializers.Serializer):
    member = serializers.IntegerField()
    name = serializers.CharField()
    bulk_ml = serializers.IntegerField()
    carries_most_ml = serializers.IntegerField(allow_null=True)
    lines = PackLineSerializer(many=True)


class RemindedSerializer(serializers.Serializer):
    """Somebody who was sent a packing list."""

    member = serializers.IntegerField(source="pk")
    name = serializers.CharField()


class ShoppingQuerySerializer(StrictSerializer):
    budget_pence = serializers.IntegerField(min_value=0, max_value=1_000_000_000, default=None)


class ShoppingLineSerializer(serializers.Serializer):
    kind = serializers.IntegerField(source="kind.pk")
    name = serializers.CharField(source="kind.name")
    pack = serializers.IntegerField(source="offer.pk")
    pieces_in_pack = serializers.IntegerField(source="offer.pieces")
    price_pence = serializers.IntegerField(source="offer.price_pence")
    where = serializers.CharField(source="offer.note")
    packs = serializers.IntegerField(source="bought.packs")
    cost_pence = serializers.IntegerField(source="bought.cost_pence")
    over = serializers.IntegerField(source="bought.over", help_text="Pieces nobody needs this night.")
    why = serializers.CharField(source="bought.why", help_text="Why these packs, and in which colours.")


class LeftShortSerializer(serializers.Serializer):
    name = serializers.CharField()
    table = serializers.CharField()
    count = serializers.IntegerField()
    why = serializers.CharField()


class ShoppingSerializer(serializers.Serializer):
    """What to buy: as little left missing as can be by importance, then at least cost, then in few packs."""

    cost_pence = serializers.IntegerField(source="purchase.cost_pence")
    budget_pence = serializers.IntegerField(source="purchase.budget_pence", allow_null=True)
    is_proven = serializers.BooleanField(source="purchase.proven", help_text="Whether no purchase is better.")
    lines = ShoppingLineSerializer(many=True)
    still_missing = LeftShortSerializer(source="left", many=True)


class NightKitSerializer(serializers.Serializer):
    """What a night needs and who brings what."""

    night = serializers.IntegerField()
    is_proven = serializers.BooleanField(help_text="Whether no plan is better by the criteria in their order.")
    values = PlanValueSerializer(many=True)
    people = ComerSerializer(many=True)
    tables = TableNeedsSerializer(many=True)
    shortfalls = ShortfallSerializer(many=True)
    packing_lists = PackingListSerializer(many=True)


class PromiseSerializer(serializers.ModelSerializer):
    name = serializers.CharField(source="holding.kind.name", read_only=True)
    member_name = serializers.CharField(source="member.name", read_only=True)

    class Meta:
        model = Promise
        fields = [
            "id",
            "night",
            "holding",
            "name",
            "member",
            "member_name",
            "loan",
            "count",
            "promised_at",
            "packed_at",
            "withdrawn_at",
        ]
        read_only_fields = fields


class ForGameSerializer(StrictSerializer):
    game = Whole(min_value=1)
    count = Whole(min_value=1, max_value=PIECES_MOST)


class OfOneMember(StrictSerializer):
    member = RowId(queryset=Member.objects.none(), allow_null=True, default=None, help_text="Myself if left out.")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["member"].queryset = Member.objects.present().filter(club=club)
        return fields


class PromiseWriteSerializer(OfOneMember):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    holding = RowId(queryset=Holding.objects.none())
    count = Whole(min_value=1, max_value=PIECES_MOST)
    games = ForGameSerializer(
        many=True, required=False, max_length=100, help_text="How many are meant for which game, as the plan said."
    )

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            seen = Holding.objects.visible_to(self.context["user"]).filter(club=club)
            fields["holding"].queryset = seen.select_related("club")
        return fields


class PartSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")


class CarryingSerializer(serializers.ModelSerializer):
    room = serializers.ChoiceField(choices=Carrying.Room.choices, allow_blank=True, read_only=True)

    class Meta:
        model = Carrying
        fields = ["member", "room", "said_at"]
        read_only_fields = fields


class CarryingWriteSerializer(OfOneMember):
    room = serializers.ChoiceField(choices=Carrying.Room.choices, allow_blank=True, help_text="Empty takes it back.")
