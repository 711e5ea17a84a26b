"""The shared half of the API: problems by RFC 9457, paging, strict filters.

Knows no subject: rooms build on it, never the other way.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, JsonResponse
from django.utils.translation import gettext as _
from django_filters.rest_framework import DjangoFilterBackend
from drf_spectacular.extensions import OpenApiSerializerExtension
from rest_framework import exceptions, serializers
from rest_framework.pagination import PageNumberPagination
from rest_framework.response import Response

from league.errors import Refused

__all__ = ["Pages", "Problem", "StrictFilterBackend", "StrictSerializer", "Text", "no_such_address", "problem"]

PROBLEM = "application/problem+json"
RESERVED_PARAMETERS = {"page", "page_size", "format"}


class Pages(PageNumberPagination):
    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 200


class FieldError(serializers.Serializer):
    pointer = serializers.CharField(help_text="JSON Pointer (RFC 6901) to the field, empty for the whole.")
    code = serializers.CharField()
    detail = serializers.CharField()


class Problem(serializers.Serializer):
    """What went wrong, by RFC 9457."""

    type = serializers.CharField()
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField()
    errors = FieldError(many=True, required=False)


def problem(failure: Exception, context: dict[str, Any]) -> Response | None:
    """DRF's exception handler: every failure becomes problem+json with all its errors."""
    if isinstance(failure, Refused):
        return problem_response(
            failure.status,
            failure.title,
            str(failure),
            errors=[
                {"pointer": pointer_to(each.field), "code": each.code, "detail": each.message}
                for each in failure.violations
            ],
        )
    if isinstance(failure, Http404):
        failure = exceptions.NotFound()
    elif isinstance(failure, PermissionDenied):
        failure = exceptions.PermissionDenied()
    if not isinstance(failure, exceptions.APIException):
        return None
    headers = {}
    if getattr(failure, "auth_header", None):
        headers["WWW-Authenticate"] = failure.auth_header
    if getattr(failure, "wait", None):
        headers["Retry-After"] = str(int(failure.wait))
    if isinstance(failure, exceptions.ValidationError):
        return problem_response(
            failure.status_code,
            _("The request is not in order"),
            _("See the errors."),
            errors=list(flatten(failure.get_full_details())),
        )
    return problem_response(failure.status_code, str(failure.default_detail), str(failure.detail), headers=headers)


def problem_response(
    code: int,
    title: str,
    detail: str,
    *,
    errors: list[dict[str, str]] | None = None,
    headers: dict[str, str] | None = None,
) -> Response:
    body: dict[str, Any] = {"type": "about:blank", "title": str(title), "status": code, "detail": detail}
    if errors is not None:
        body["errors"] = errors
    return Response(body, status=code, headers=headers, content_type=PROBLEM)


def pointer_to(field: str) -> str:
    return "/" + field.replace(".", "/") if field else ""


def flatten(details: Any, at: str = "") -> Any:
    """Yield one error per leaf of DRF's nested details, with the JSON Pointer of its place."""
    if isinstance(details, dict) and set(details) == {"message", "code"}:
        yield {"pointer": at, "code": str(details["code"]), "detail": str(details["message"])}
    elif isinstance(details, dict):
        for name, inner in details.items():
            yield from flatten(inner, at if name == "non_field_errors" else f"{at}/{name}")
    else:
        for index, inner in enumerate(details):
            leaf = isinstance(inner, dict) and set(inner) == {"message", "code"}
            yield from flatten(inner, at if leaf else f"{at}/{index}")


def no_such_address(request: HttpRequest, path: str = "") -> JsonResponse:
    """Any address under the API that leads nowhere."""
    body = {"type": "about:blank", "title": _("Not found"), "status": 404, "detail": _("There is no such address.")}
    return JsonResponse(body, status=404, content_type=PROBLEM)


class Text(serializers.CharField):
    """Text that must arrive as text: a number or a boolean is a mistake, not a spelling of it."""

    def to_internal_value(self, data: Any) -> str:
        if not isinstance(data, str):
            self.fail("invalid")
        return super().to_internal_value(data)


class StrictSerializer(serializers.Serializer):
    """A body in which every key counts: one that nobody reads is a mistake, told together with the other errors.

    A key that can only be read counts as unknown in a body too. Serializers inside serializers, and lists of them,
    are as strict as they are themselves declared.
    """

    def to_internal_value(self, data: Any) -> Any:
        unknown: dict[str, Any] = {}
        if isinstance(data, Mapping):
            known = {name for name, field in self.fields.items() if not field.read_only}
            unknown = {
                str(name): [exceptions.ErrorDetail(_("There is no such field."), code="unknown")]
                for name in data
                if name not in known
            }
        try:
            kept = super().to_internal_value(data)
        except exceptions.ValidationError as failure:
            if unknown and isinstance(failure.detail, dict):
                raise exceptions.ValidationError({**unknown, **failure.detail}) from None
            raise
        if unknown:
            raise exceptions.ValidationError(unknown)
        return kept


class StrictFilterBackend(DjangoFilterBackend):
    """Filters that refuse a key nobody knows, instead of quietly answering with everything."""

    def filter_queryset(self, request: Any, queryset: Any, view: Any) -> Any:
        filterset = self.get_filterset_class(view, queryset)
        known = set(filterset.base_filters) if filterset else set()
        unknown = sorted(set(request.query_params) - known - RESERVED_PARAMETERS)
        if unknown:
            raise exceptions.ValidationError({name: [_("There is no such filter.")] for name in unknown})
        return super().filter_queryset(request, queryset, view)


class StrictBodies(OpenApiSerializerExtension):
    """Says in the API's description what `StrictSerializer` does: no other keys."""

    target_class = StrictSerializer
    match_subclasses = True

    def map_serializer(self, auto_schema: Any, direction: Any) -> dict[str, Any]:
        schema = auto_schema._map_serializer(self.target, direction, bypass_extensions=True)  # noqa: SLF001 - its documented use
        return {**schema, "additionalProperties": False} if direction == "request" else schema
