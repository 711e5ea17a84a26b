"""Bodies in which every key counts."""

from __future__ import annotations

from typing import Any

import pytest
from drf_spectacular.generators import SchemaGenerator
from rest_framework import serializers
from rest_framework.exceptions import ValidationError

from league.api import StrictSerializer, flatten


class Line(StrictSerializer):
    unit = serializers.IntegerField()


class Claim(StrictSerializer):
    number = serializers.IntegerField(read_only=True)
    score = serializers.IntegerField()
    best = Line(required=False)
    lines = Line(many=True, required=False)


def refused(body: Any) -> list[tuple[str, str]]:
    claim = Claim(data=body)
    with pytest.raises(ValidationError) as refusal:
        claim.is_valid(raise_exception=True)
    return [(each["pointer"], each["detail"]) for each in flatten(refusal.value.get_full_details())]


UNKNOWN = "There is no such field."


def test_known_keys_pass():
    assert Claim(data={"score": 1, "best": {"unit": 1}, "lines": [{"unit": 2}]}).is_valid()


def test_an_unknown_key_is_refused_by_name():
    assert refused({"score": 1, "scroe": 2}) == [("/scroe", UNKNOWN)]


def test_all_errors_come_at_once():
    assert dict(refused({"scroe": 2})) == {"/scroe": UNKNOWN, "/score": "This field is required."}


def test_a_key_that_can_only_be_read_is_refused():
    assert refused({"score": 1, "number": 9}) == [("/number", UNKNOWN)]


def test_an_unknown_key_inside_another_body_is_refused():
    assert refused({"score": 1, "best": {"unit": 1, "colour": "red"}}) == [("/best/colour", UNKNOWN)]


def test_an_unknown_key_in_a_list_names_its_place():
    assert refused({"score": 1, "lines": [{"unit": 1}, {"unit": 2, "x": 1}]}) == [("/lines/1/x", UNKNOWN)]


@pytest.mark.parametrize("body", [[], "score", 7, None])
def test_a_body_that_is_no_object_is_refused(body):
    assert refused(body) != []


def test_the_description_of_the_api_says_that_there_are_no_other_keys():
    schemas = SchemaGenerator().get_schema(request=None, public=True)["components"]["schemas"]
    strict = {name for name, schema in schemas.items() if schema.get("additionalProperties") is False}
    assert "NewTokenRequest" in strict
