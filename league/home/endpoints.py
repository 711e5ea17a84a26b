from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse
from rest_framework.views import APIView

__all__ = ["ApiRoot"]

STARTING_POINTS = {"me": "api-me", "clubs": "api-clubs", "schema": "schema", "docs": "api-docs"}


class ApiRoot(APIView):
    """Where a program begins."""

    permission_classes = [AllowAny]

    @extend_schema(
        summary="Where a program begins: the addresses of everything else",
        responses={200: {"type": "object", "additionalProperties": {"type": "string", "format": "uri"}}},
    )
    def get(self, request: Request) -> Response:
        points: dict[str, Any] = {word: reverse(name, request=request) for word, name in STARTING_POINTS.items()}
        return Response(points)
