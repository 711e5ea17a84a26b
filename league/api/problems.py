"""Everything that goes wrong under /api/, as problem+json (RFC 9457)."""

from __future__ import annotations

from collections.abc import Iterator
from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.utils.translation import gettext as _
from django.views import defaults
from django.views.decorators.csrf import csrf_exempt
from rest_framework import exceptions, serializers
from rest_framework.response import Response

from league.errors import Refused

__all__ = ["PROBLEM", "Problem", "TooLarge", "flatten", "no_such_address", "problem"]

PROBLEM = "application/problem+json"


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


class TooLarge(exceptions.APIException):
    status_code = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
    default_detail = _("The request is larger than this address takes.")
    default_code = "too_large"


def problem(failure: Exception, context: dict[str, Any]) -> Response | None:  # noqa: ARG001 - DRF's signature
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
        failure = exceptions.PermissionDenied(*failure.args[:1])
    elif isinstance(failure, RequestDataTooBig):
        failure = TooLarge()
    elif isinstance(failure, SuspiciousOperation):
        failure = exceptions.ParseError()
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
    return "/" + "/".join(escaped(part) for part in field.split(".")) if field else ""


def escaped(name: object) -> str:
    """A name as one step of a JSON Pointer (RFC 6901, section 3)."""
    return str(name).replace("~", "~0").replace("/", "~1")


def flatten(details: Any, at: str = "") -> Iterator[dict[str, str]]:
    """Yield one error per leaf of DRF's nested details, with the JSON Pointer of its place."""
    if is_leaf(details):
        yield {"pointer": at, "code": str(details["code"]), "detail": str(details["message"])}
    elif isinstance(details, dict):
        for name, inner in details.items():
            yield from flatten(inner, at if name == "non_field_errors" else f"{at}/{escaped(name)}")
    else:
        for index, inner in enumerate(details):
            yield from flatten(inner, at if is_leaf(inner) else f"{at}/{index}")


def is_leaf(details: Any) -> bool:
    return isinstance(details, dict) and set(details) == {"message", "code"} and isinstance(details["message"], str)


@csrf_exempt
def no_such_address(request: HttpRequest, path: str = "") -> JsonResponse:  # noqa: ARG001 - a view's signature
    """Any address under the API that leads nowhere, whatever is sent to it."""
    return said(HTTPStatus.NOT_FOUND, _("Not found"), _("There is no such address."))


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Django's handler of 400, such as a request for a host that is not ours."""
    if of_api(request):
        return said(HTTPStatus.BAD_REQUEST, _("Bad request"), _("The request cannot be understood."))
    return defaults.bad_request(request, exception)


def not_allowed(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Django's handler of 403."""
    if of_api(request):
        return said(HTTPStatus.FORBIDDEN, _("Not allowed"), _("You do not have the right to do this."))
    return defaults.permission_denied(request, exception)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Django's handler of 404."""
    return no_such_address(request) if of_api(request) else defaults.page_not_found(request, exception)


def broken(request: HttpRequest) -> HttpResponse:
    """Django's handler of 500."""
    if of_api(request):
        return said(HTTPStatus.INTERNAL_SERVER_ERROR, _("The site broke"), _("What was sent now was not saved."))
    return defaults.server_error(request)


def of_api(request: HttpRequest) -> bool:
    return request.path_info.startswith("/api/")


def said(status: HTTPStatus, title: str, detail: str) -> JsonResponse:
    body = {"type": "about:blank", "title": title, "status": status.value, "detail": detail}
    return JsonResponse(body, status=status, content_type=PROBLEM)
