from __future__ import annotations

from hypothesis import given
from jsonschema import Draft202012Validator

from league.engines.documents.night import asked_of, dump_night, night_to_plan, read_night, write_night
from league.engines.documents.reading import parse, schema_of
from league.engines.kit.plan import in_order
from tests.engines.documents.nights_at_random import nights


@given(nights())
def test_reading_what_was_written_gives_the_same_night(document):
    night = read_night(document)
    assert read_night(parse(dump_night(night))) == night


@given(nights())
def test_equal_nights_are_equal_bytes(document):
    data = dump_night(read_night(document))
    assert dump_night(read_night(parse(data))) == data


@given(nights())
def test_what_is_written_satisfies_the_schema(document):
    written = write_night(read_night(document))
    assert list(Draft202012Validator(schema_of("night")).iter_errors(written)) == []


@given(nights())
def test_every_night_that_reads_can_be_planned(document):
    night = night_to_plan(read_night(document))
    assert {each.key for each in in_order(night).demands} == {each.key for each in night.demands}


@given(nights())
def test_every_use_meets_demands_of_its_own_table(document):
    night = read_night(document)
    tables = {each.demand.key: each.demand.table for each in asked_of(night)}
    for use in night_to_plan(night).uses:
        assert {tables[key] for key, _pieces in use.covers} == {use.table}
