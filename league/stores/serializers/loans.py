"""Loans in JSON."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from league.api import Day, RowId, StrictSerializer, Submission, Text, Whole, YesNo
from league.clubs.models import Member
from league.stores.models import Act, Holding, Loan, LoanState
from league.stores.services.loans import LOST_ACTS
from league.stores.services.movements import PIECES_MOST

__all__ = [
    "AskSerializer",
    "BackSerializer",
    "LendSerializer",
    "LoanSerializer",
    "LostSerializer",
    "WhyNotSerializer",
]


class LoanSerializer(serializers.ModelSerializer):
    """A loan and where it stands. `outstanding`: pieces set aside for it or out."""

    state = serializers.ChoiceField(choices=LoanState.choices, read_only=True)
    outstanding = serializers.IntegerField(read_only=True)
    kind_name = serializers.CharField(source="holding.kind.name", read_only=True)
    borrower_name = serializers.CharField(source="borrower.name", read_only=True)

    class Meta:
        model = Loan
        fields = [
            "id",
            "holding",
            "kind_name",
            "borrower",
            "borrower_name",
            "count",
            "outstanding",
            "state",
            "due_on",
            "note",
            "asked_at",
            "agreed_at",
            "handed_at",
            "refused_at",
            "withdrawn_at",
            "reason",
            "reminded_at",
        ]
        read_only_fields = fields


class TermsSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    count = Whole(min_value=1, max_value=PIECES_MOST)
    due_on = Day(help_text="The day by which they come back.")
    note = Text(max_length=200, allow_blank=True, default="")


class AskSerializer(TermsSerializer):
    holding = RowId(queryset=Holding.objects.none())

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            seen = Holding.objects.visible_to(self.context["user"]).filter(club=club)
            fields["holding"].queryset = seen.select_related("club")
        return fields


class LendSerializer(TermsSerializer):
    borrower = RowId(queryset=Member.objects.none())
    is_handed_over = YesNo(default=True, help_text="Whether the borrower has them in hand already.")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if club := self.context.get("club"):
            fields["borrower"].queryset = Member.objects.present().filter(club=club)
        return fields


class BackSerializer(StrictSerializer):
    submission = Submission(help_text="The client's name for this act: sent twice, it is done once.")
    count = Whole(min_value=1, max_value=PIECES_MOST)
    reason = Text(max_length=200, allow_blank=True, default="")


class LostSerializer(BackSerializer):
    act = serializers.ChoiceField(choices=[(act.value, act.label) for act in LOST_ACTS], default=Act.LOST.value)


class WhyNotSerializer(StrictSerializer):
    reason = Text(max_length=200, allow_blank=True, default="")
