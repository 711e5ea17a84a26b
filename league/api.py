"""The shared half of the API: problems by RFC 9457, paging, strict filters.

Knows no subject: rooms build on it, never the other way.
"""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, JsonResponse
from django.utils.translation import gettext as _
from django_filters.rest_framework import DjangoFilterBackend
from rest_framework import exceptions, serializers
from rest_framework.pagination import PageNumberPagination
from rest_framework.response import Response

from league.errors import Refused

__all__ = ["Pages", "Problem", "StrictFilterBackend", "Text", "no_such_address", "problem"]

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


class StrictFilterBackend(DjangoFilterBackend):
    """Filters that refuse a key nobody knows, instead of quietly answering with everything."""

    def filter_queryset(self, request: Any, queryset: Any, view: Any) -> Any:
        filterset = self.get_filterset_class(view, queryset)
        known = set(filterset.base_filters) if filterset else set()
        unknown = sorted(set(request.query_params) - known - RESERVED_PARAMETERS)
        if unknown:
            raise exceptions.ValidationError({name: [_("There is no such filter.")] for name in unknown})
        return super().filter_queryset(request, queryset, view)
