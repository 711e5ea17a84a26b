from __future__ import annotations

import io
import json
import uuid

import pytest
from django.core.management import call_command
from hypothesis import HealthCheck, given, settings

from league.clubs.models import LogEntry, Member
from league.engines.documents.season import dump, read_season
from league.errors import NotYoursToDo
from league.seasons.models import Season
from league.seasons.queries import season_document, season_file, standings
from league.seasons.services.imports import import_season
from league.seasons.services.seasons import SeasonRefused
from tests import factories
from tests.engines.documents.seasons_at_random import seasons


@pytest.fixture
def take_in(club, ruleset, organiser):
    def act(document, **changes):
        facts = {"ruleset": ruleset, "submission": uuid.uuid4(), "by": organiser, **changes}
        return import_season(club, document=document, **facts)

    return act


def test_a_season_taken_in_and_given_out_again_is_the_same_to_the_byte(document, take_in, organiser):
    assert season_file(take_in(document), reader=organiser) == dump(read_season(document))


@pytest.mark.django_db
@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(document=seasons())
def test_any_season_taken_in_and_given_out_again_is_the_same_to_the_byte(document, take_in, organiser):
    document["name"] = uuid.uuid4().hex
    assert season_file(take_in(document), reader=organiser) == dump(read_season(document))


def test_who_lives_or_travels_together_is_in_the_file_for_organisers_only(document, take_in, organiser, member):
    document["entrants"][0]["party"] = "Mill Lane"
    season = take_in(document)
    assert b"Mill Lane" in season_file(season, reader=organiser)
    assert b"Mill Lane" not in season_file(season, reader=member)
    assert b"Mill Lane" not in season_file(season, reader=None)


def test_the_table_of_the_rows_is_the_table_of_the_file(document, take_in, tmp_path):
    season = take_in(document)
    path = tmp_path / "season.json"
    path.write_bytes(season_file(season, reader=None))
    out = io.StringIO()
    call_command("table", str(path), "--json", stdout=out)
    assert [
        (row.rank, row.entrant_id, row.points_x2, {value.name: value.text for value in row.values})
        for row in standings(season).rows
    ] == [(row["rank"], row["entrant"], row["points_x2"], row["tie_breaks"]) for row in json.loads(out.getvalue())]


def test_players_are_found_by_name_and_strangers_become_guests(document, take_in, club, member):
    take_in(document)
    assert Member.objects.get(name="Brannoc") == member
    assert set(Member.objects.filter(club=club, user=None).values_list("name", flat=True)) == {
        "Ysolde",
        "Tamsin",
        "Hewe",
    }


def test_two_players_of_one_name_are_two_people(document, take_in):
    document["entrants"][1]["players"] = ["Hewe"]
    season = take_in(document)
    assert season.players.filter(member__name="Hewe").values("member").distinct().count() == 2


def test_who_is_known_already_is_not_made_a_guest_twice(document, take_in):
    take_in(document)
    document["name"] = "Winter"
    take_in(document)
    assert Member.objects.filter(name="Ysolde").count() == 1


def test_a_taken_in_result_can_be_read_in_the_report(document, take_in):
    season = take_in(document)
    game = season.rounds.get(number=1).pairings.get(key="1a").game
    report = game.reports.get()
    assert [(r.score, r.outcome) for r in report.results.order_by("side__position")] == [(9, "win"), (4, "loss")]


def test_every_fault_of_the_file_is_told_at_once(document, take_in):
    document["name"] = ""
    document["games"][0]["sides"][0]["score"] = -1
    with pytest.raises(SeasonRefused) as refusal:
        take_in(document)
    assert [each.field for each in refusal.value.violations] == ["document.name", "document.games.0.sides.0.score"]


def test_a_file_of_a_thousand_faults_tells_the_first_hundred_and_how_many_more(document, take_in):
    document["entrants"] += [{"id": "!", "name": "x"} for _ in range(1000)]
    with pytest.raises(SeasonRefused) as refusal:
        take_in(document)
    assert len(refusal.value.violations) == 101
    assert refusal.value.violations[-1].message.startswith("And ")


def test_a_name_that_is_taken_is_refused_and_nothing_is_written(document, take_in, season):
    document["name"] = season.name
    with pytest.raises(SeasonRefused, match="There is a season called Spring already"):
        take_in(document)
    assert not Member.objects.filter(name="Ysolde").exists()


def test_another_clubs_ruleset_is_refused(document, take_in, other_club):
    foreign = factories.EditionFactory(ruleset__club=other_club).ruleset
    with pytest.raises(SeasonRefused, match="not one of the club's"):
        take_in(document, ruleset=foreign)


def test_the_same_submission_twice_makes_one_season(document, take_in):
    name = uuid.uuid4()
    assert take_in(document, submission=name) == take_in(document, submission=name)
    assert Season.objects.count() == 1


def test_a_member_without_office_takes_in_nothing(document, take_in, member):
    with pytest.raises(NotYoursToDo):
        take_in(document, by=member)


def test_the_book_says_who_took_it_in(document, take_in, organiser):
    season = take_in(document)
    line = LogEntry.objects.get(act="season_imported")
    assert (line.by, line.subject) == (organiser, f"season:{season.pk}")


def test_a_season_made_here_names_this_club(season):
    assert season_document(season)["club"] == "Weir Street Irregulars"
