from __future__ import annotations

from hypothesis import given

from league.engines.documents.reading import parse
from league.engines.documents.season import dump, read_season, standings_of
from tests.engines.documents.seasons_at_random import seasons


@given(seasons())
def test_reading_what_was_written_gives_the_same_season(document):
    season = read_season(document)
    assert read_season(parse(dump(season))) == season


@given(seasons())
def test_equal_seasons_are_equal_bytes(document):
    data = dump(read_season(document))
    assert dump(read_season(parse(data))) == data


@given(seasons())
def test_every_season_that_reads_has_a_table(document):
    season = read_season(document)
    left = {each.id for each in season.entrants if each.left and season.rules.leavers == "annul"}
    assert {row.entrant_id for row in standings_of(season).rows} == {each.id for each in season.entrants} - left
