"""The API's description of itself: complete, in order, and true of what goes wrong."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from drf_spectacular.drainage import GENERATOR_STATS
from drf_spectacular.generators import SchemaGenerator
from openapi_spec_validator import OpenAPIV31SpecValidator
from rest_framework import serializers

from league.api import StrictSerializer
from tests.rights.walk import addresses

# Addresses that are no operation: the description itself, the page that draws it, and what leads nowhere.
NO_OPERATION = {"schema", "api-docs", "api-nowhere"}
CONVERTER = re.compile(r"<\w+:(\w+)>")
PLACE = re.compile(r"\{\w+\}")
LOOSE = (
    serializers.IntegerField,
    serializers.BooleanField,
    serializers.UUIDField,
    serializers.DateField,
    serializers.TimeField,
    serializers.PrimaryKeyRelatedField,
    serializers.FloatField,
    serializers.DateTimeField,
)
FROM_A_FORM = {
    "StandingsQuerySerializer",
    "SparesQuerySerializer",
    "EnoughQuerySerializer",
    "ShoppingQuerySerializer",
    "PhotoWriteSerializer",
}  # queries and a multipart body: text is all they have
WRITES = {"post", "put", "patch"}


@pytest.fixture(scope="module")
def description() -> dict[str, Any]:
    return SchemaGenerator().get_schema(request=None, public=True)


def operations(description: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, methods in description["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation


def test_it_is_openapi_3_1(description):
    assert description["openapi"].startswith("3.1")
    assert list(OpenAPIV31SpecValidator(description).iter_errors()) == []


def test_it_is_made_without_a_warning():
    GENERATOR_STATS.reset()
    SchemaGenerator().get_schema(request=None, public=True)
    assert (dict(GENERATOR_STATS._warn_cache), dict(GENERATOR_STATS._error_cache)) == ({}, {})


def test_every_address_and_method_of_the_api_is_in_it(description):
    described = {(PLACE.sub("{}", path), method.upper()) for path, method, _ in operations(description)}
    answered = {
        ("/" + CONVERTER.sub("{}", address.route), method)
        for address in addresses()
        if address.is_api and address.name not in NO_OPERATION
        for method in address.methods
    }
    assert answered == described


def test_it_is_served_as_json_to_whoever_asks_for_anything(db):
    answer = Client().get("/api/v1/openapi.json")
    assert answer.json()["info"]["title"] == "Drumhead" and "json" in answer["Content-Type"]


def test_every_operation_says_in_a_line_what_it_does(description):
    silent = [f"{method} {path}" for path, method, operation in operations(description) if not operation.get("summary")]
    assert silent == []


def test_every_operation_has_a_name_of_its_own(description):
    names = [operation["operationId"] for _, _, operation in operations(description)]
    assert len(names) == len(set(names))


def test_every_operation_tells_its_problems_as_problem_json(description):
    otherwise = [
        f"{method} {path} {code}"
        for path, method, operation in operations(description)
        for code, answer in operation["responses"].items()
        if code.startswith(("4", "5")) and list(answer.get("content", {})) != ["application/problem+json"]
    ]
    assert otherwise == []


def test_every_body_says_that_it_takes_no_other_keys(description):
    shapes = description["components"]["schemas"]
    open_bodies = [
        f"{method} {path}"
        for path, method, operation in operations(description)
        if method in WRITES
        for content in operation.get("requestBody", {}).get("content", {}).values()
        if shapes[content["schema"]["$ref"].rsplit("/", 1)[1]].get("additionalProperties") is not False
    ]
    assert open_bodies == []


def strict_bodies(above: type = StrictSerializer) -> Iterator[type[StrictSerializer]]:
    for each in above.__subclasses__():
        yield each
        yield from strict_bodies(each)


def test_no_body_of_the_site_takes_text_for_a_number():
    """Fields made for forms read "5" as 5 and "on" as true; those of league.api do not."""
    loose = {
        f"{body.__name__}.{name}"
        for body in strict_bodies()
        if body.__module__.startswith(("league.", "accounts.")) and body.__name__ not in FROM_A_FORM
        for name, field in body().fields.items()
        if isinstance(getattr(field, "child", field), LOOSE)
        and not type(getattr(field, "child", field)).__module__.startswith("league.")
    }
    assert loose == set()
