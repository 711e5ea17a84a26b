"""A list of kit taken in over the API, and one's own given out."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of
from league.clubs.scope import InClubApi
from league.errors import Refused, Violation
from league.stores import permissions
from league.stores.queries.kit_lists import KitPreview, preview_of, read_kit
from league.stores.serializers import imports as serializers
from league.stores.services.imports import import_kit

__all__ = ["KitLists"]


class KitLists(InClubApi, APIView):
    @extend_schema(
        summary="Write a list of kit down",
        request=serializers.KitListSerializer,
        responses=serializers.KitListReadSerializer,
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Unless `dry_run` is false nothing is written. A line that cannot be read keeps everything from being so. One's
        own; those who keep the stores also the club's and that of guests."""
        body = {"owner": self.member, **body_of(serializers.KitListSerializer, request, club=self.club)}
        owner = body["owner"]
        self.require(permissions.can_own_holdings_for(self.member, self.club, owner))
        parsed = read_kit(self.club, body["text"])
        preview = preview_of(parsed, self.club, owner)
        made = []
        if not body["dry_run"]:
            refuse_bad(preview)
            made = import_kit(
                self.club, pieces=parsed.pieces, owner=owner, submission=body["submission"], by=self.member
            )
        told = {
            "written": not body["dry_run"],
            "holdings": [holding.pk for holding in made],
            "lines": preview.lines,
            "bad_lines": preview.bad_lines,
        }
        return Response(serializers.KitListReadSerializer(told).data)


def refuse_bad(preview: KitPreview) -> None:
    faults = [
        Violation(f"{line.line_number}: {problem}", "text", "bad_line")
        for line in preview.bad_lines
        for problem in line.problems
    ]
    if faults:
        raise Refused(faults)
