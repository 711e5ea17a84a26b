"""What the reports say, over the API."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response
from rest_framework.views import APIView

from league.battles.queries.balance import balance_of
from league.battles.serializers.balance import BalanceSerializer
from league.clubs.scope import InClubApi

__all__ = ["Balance"]


class Balance(InClubApi, APIView):
    @extend_schema(summary="Read what the reports say about balance", responses=BalanceSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Scenario by scenario, faction against faction, table by table: shares with their intervals, as counted and
        with the players' strength allowed for."""
        return Response(BalanceSerializer(balance_of(self.club)).data)
