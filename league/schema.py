"""The API's description of itself (OpenAPI 3.1), with the problems each operation can answer.

Apart from league.api because drf-spectacular's schema imports the views that import league.api.
"""

from __future__ import annotations

from typing import Any

from django_filters import BooleanFilter, CharFilter, ModelChoiceFilter, NumberFilter
from drf_spectacular.contrib.django_filters import DjangoFilterExtension
from drf_spectacular.openapi import AutoSchema
from rest_framework import status

from league.api import PROBLEM, Problem, StrictFilterBackend
from league.api.lists import LARGEST_NUMBER

__all__ = ["Schema"]


class Schema(AutoSchema):
    """drf-spectacular's schema with the problems each operation can answer."""

    def get_override_parameters(self) -> list[Any]:
        return []

    def _get_response_bodies(self, direction: str = "response") -> dict[str, Any]:
        bodies = super()._get_response_bodies(direction)
        for code in self.problem_codes():
            if str(code) not in bodies:
                bodies[str(code)] = self._get_response_for_code(Problem, str(code), media_types=[PROBLEM])
        return bodies

    def problem_codes(self) -> list[int]:
        codes = [
            status.HTTP_400_BAD_REQUEST,
            status.HTTP_401_UNAUTHORIZED,
            status.HTTP_403_FORBIDDEN,
            status.HTTP_404_NOT_FOUND,
            status.HTTP_406_NOT_ACCEPTABLE,
        ]
        if self.method in {"POST", "PUT", "PATCH", "DELETE"}:
            codes += [status.HTTP_409_CONFLICT, status.HTTP_422_UNPROCESSABLE_ENTITY]
        if self.method in {"POST", "PUT", "PATCH"}:
            codes += [status.HTTP_413_REQUEST_ENTITY_TOO_LARGE, status.HTTP_415_UNSUPPORTED_MEDIA_TYPE]
        return codes


class StrictFilters(DjangoFilterExtension):
    """Says in the API's description what `StrictFilterBackend` does."""

    target_class = StrictFilterBackend
    priority = 1

    def resolve_filter_field(
        self, auto_schema: Any, model: Any, filterset_class: Any, field_name: str, filter_field: Any
    ) -> list[dict[str, Any]]:
        parameters = super().resolve_filter_field(auto_schema, model, filterset_class, field_name, filter_field)
        for parameter in parameters:
            if isinstance(filter_field, BooleanFilter):
                parameter["schema"] = {"type": "boolean"}
            elif isinstance(filter_field, NumberFilter | ModelChoiceFilter):
                parameter["schema"] = {"type": "integer", "minimum": 1, "maximum": LARGEST_NUMBER}
            elif isinstance(filter_field, CharFilter):
                parameter["schema"]["minLength"] = 1
        return list(parameters)
