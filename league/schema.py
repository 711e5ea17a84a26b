"""The API's description of itself (OpenAPI 3.1), with the problems each operation can answer.

Apart from league.api because drf-spectacular's schema imports the views that import league.api.
"""

from __future__ import annotations

from typing import Any

from drf_spectacular.openapi import AutoSchema
from rest_framework import status

from league.api import PROBLEM, Problem

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
            status.HTTP_401_UNAUTHORIZED,
            status.HTTP_403_FORBIDDEN,
            status.HTTP_404_NOT_FOUND,
            status.HTTP_406_NOT_ACCEPTABLE,
        ]
        if self.method in {"POST", "PUT", "PATCH"}:
            codes += [
                status.HTTP_400_BAD_REQUEST,
                status.HTTP_409_CONFLICT,
                status.HTTP_413_REQUEST_ENTITY_TOO_LARGE,
                status.HTTP_415_UNSUPPORTED_MEDIA_TYPE,
                status.HTTP_422_UNPROCESSABLE_ENTITY,
            ]
        if self._is_list_view():
            codes.append(status.HTTP_400_BAD_REQUEST)
        return codes
