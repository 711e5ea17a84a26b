from __future__ import annotations

import json
import re
import uuid
from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from league.engines.documents.season import dump, read_season
from league.seasons.models import Adjustment, Pairing, Season
from league.seasons.queries import standings
from league.seasons.services.adjustments import adjust
from league.seasons.services.entrants import enter_each
from league.seasons.services.imports import import_season
from league.seasons.services.pairings import pair
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import change_rules
from tests import factories
from tests.seasons.test_running_a_season import report


@pytest.fixture
def at(season):
    def address(name, **kwargs):
        return reverse(name, kwargs={"club": "weir-street", "pk": season.pk, **kwargs})

    return address


@pytest.fixture
def taken_in(club, ruleset, organiser, document):
    return import_season(club, document=document, ruleset=ruleset, submission=uuid.uuid4(), by=organiser)


def typed(form) -> dict:
    """What a browser would send if nothing were changed: the page's own values."""
    data = {}
    for field in form:
        value = field.value()
        if value is True:
            data[field.html_name] = "on"
        elif value not in (None, False):
            data[field.html_name] = field.field.prepare_value(value) if field.is_hidden else value
    return data


# --- making and changing ---------------------------------------------------------------


def test_a_new_season_begins_with_what_its_ruleset_says(browse, club, ruleset, organiser):
    page = browse(organiser).get(reverse("season-new", kwargs={"club": club.slug}))
    form = page.context["form"]
    assert form["win_x2"].value() == "3"
    assert form["showing_up_x2"].value() == "½"
    assert form["tie_break_1"].value() == "direct_encounter"
    assert form["tie_break_4"].value() == "count_total:flags"
    assert form["bonus_1_count"].value() == "flags"


def test_the_page_as_filled_in_makes_the_season(browse, club, ruleset, organiser):
    address = reverse("season-new", kwargs={"club": club.slug})
    client = browse(organiser)
    data = typed(client.get(address).context["form"])
    data |= {"name": "Summer", "draw_x2": "1½", "tie_break_5": "", "tie_break_6": "sonneborn_berger"}
    answer = client.post(address, data)
    season = Season.objects.get(name="Summer")
    assert answer.url == reverse("season-format-edit", kwargs={"club": club.slug, "pk": season.pk})
    assert season.rules["scheme"]["draw_x2"] == 3
    assert [each["name"] for each in season.rules["tie_breaks"]] == [
        "direct_encounter",
        "buchholz_cut1",
        "score_difference",
        "count_total",
        "sonneborn_berger",
    ]
    assert [bonus["name"] for bonus in season.rules["scheme"]["bonuses"]] == ["A close thing", "Two flags"]


def test_with_two_rulesets_the_page_asks_which(browse, club, ruleset, organiser):
    other = factories.EditionFactory(ruleset__club=club, ruleset__name="Levee").ruleset
    address = reverse("season-new", kwargs={"club": club.slug})
    assert "win_x2" not in browse(organiser).get(address).context["form"].fields
    assert "win_x2" in browse(organiser).get(f"{address}?ruleset={other.pk}").context["form"].fields


def test_points_that_are_none_are_said_at_their_field(browse, club, ruleset, organiser):
    address = reverse("season-new", kwargs={"club": club.slug})
    client = browse(organiser)
    data = typed(client.get(address).context["form"]) | {"name": "Summer", "win_x2": "three"}
    answer = client.post(address, data)
    assert answer.status_code == 422
    assert answer.context["form"].errors["win_x2"] == ["Write points as 3, 1.5 or 1½."]


def test_the_same_page_sent_twice_makes_one_season(browse, club, ruleset, organiser):
    address = reverse("season-new", kwargs={"club": club.slug})
    client = browse(organiser)
    data = typed(client.get(address).context["form"]) | {"name": "Summer"}
    assert client.post(address, data).url == client.post(address, data).url


def test_rules_change_with_a_reason(browse, season, organiser, at):
    client = browse(organiser)
    data = typed(client.get(at("season-rules")).context["form"]) | {"win_x2": "2", "reason": "So agreed"}
    client.post(at("season-rules"), data)
    season.refresh_from_db()
    assert season.rules["scheme"]["win_x2"] == 4


def test_the_rules_form_unchanged_changes_nothing(browse, taken_in, organiser, club):
    address = reverse("season-rules", kwargs={"club": club.slug, "pk": taken_in.pk})
    client = browse(organiser)
    before = taken_in.rules
    client.post(address, typed(client.get(address).context["form"]) | {"reason": "Nothing"})
    taken_in.refresh_from_db()
    assert taken_in.rules == before


def test_players_ticked_without_a_team_enter_for_themselves(browse, season, organiser, member, opponent, at):
    browse(organiser).post(at("entrant-new"), {"member_ids": [member.pk, opponent.pk], "name": ""})
    assert set(season.entrants.values_list("name", flat=True)) == {"Brannoc", "Ceriden"}


def test_players_ticked_with_a_team_enter_as_one(browse, season, organiser, member, opponent, at):
    browse(organiser).post(at("entrant-new"), {"member_ids": [member.pk, opponent.pk], "name": "The Eels"})
    assert season.entrants.get().players.count() == 2


def test_several_pairings_are_typed_on_one_page(browse, season, cast, organiser, at):
    add_round(season, by=organiser)
    client = browse(organiser)
    address = at("pairing-new", number=1)
    data = typed(client.get(address).context["form"])
    data |= {"first_0": cast["Brannoc"].pk, "second_0": cast["Ceriden"].pk, "first_1": cast["Gorran"].pk}
    data |= {"second_1": "bye"}
    assert client.post(address, data).url == at("round", number=1)
    assert client.post(address, data).status_code == 302
    assert Pairing.objects.count() == 2


def test_a_pairing_without_an_opponent_must_say_that_it_is_a_bye(browse, season, cast, organiser, at):
    add_round(season, by=organiser)
    client = browse(organiser)
    address = at("pairing-new", number=1)
    data = typed(client.get(address).context["form"]) | {"first_1": cast["Gorran"].pk}
    answer = client.post(address, data)
    assert answer.context["form"].errors == {"second_1": ["Say against whom, or that it is a bye."]}


def test_a_refused_pairing_is_said_at_its_line_and_what_was_typed_stays(browse, season, cast, organiser, at):
    add_round(season, by=organiser)
    client = browse(organiser)
    address = at("pairing-new", number=1)
    data = typed(client.get(address).context["form"])
    data |= {"first_1": cast["Gorran"].pk, "second_1": cast["Gorran"].pk}
    answer = client.post(address, data)
    assert answer.context["form"].errors == {"first_1": ["Gorran cannot meet themselves."]}
    assert answer.context["form"]["second_1"].value() == str(cast["Gorran"].pk)


def test_who_did_not_play_is_marked_on_a_page(browse, season, cast, organiser, at):
    in_round = add_round(season, by=organiser)
    ids = [cast["Brannoc"].pk, cast["Ceriden"].pk]
    pairing = pair(in_round, entrant_ids=ids, submission=uuid.uuid4(), by=organiser)
    marks = {f"seat_{ids[0]}": "forfeit_win", f"seat_{ids[1]}": "forfeit_loss"}
    browse(organiser).post(at("pairing-mark", number=1, pairing=pairing.key), marks)
    assert standings(season).row("brannoc").points_x2 == 6


def test_points_are_taken_on_a_page_as_people_write_them(browse, season, cast, organiser, at):
    client = browse(organiser)
    data = typed(client.get(at("adjust")).context["form"])
    data |= {"entrant": cast["Brannoc"].pk, "points_x2": "-1½", "reason": "Came late"}
    client.post(at("adjust"), data)
    assert Adjustment.objects.get().points_x2 == -3


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("round-new", {"number": "1", "on": "2026-01-22"}),
        ("open-play", {}),
        ("season-close", {}),
    ],
)
def test_an_organiser_does_it_on_its_page(browse, season, organiser, at, name, data):
    client = browse(organiser)
    assert client.get(at(name)).status_code == 200
    assert client.post(at(name), data).status_code == 302


@pytest.mark.parametrize("name", ["entrant-edit", "entrant-leave"])
def test_an_entrants_pages_open(browse, cast, organiser, at, name):
    assert browse(organiser).get(at(name, entrant="brannoc")).status_code == 200


def test_an_entrant_leaves_and_returns_on_pages(browse, season, cast, organiser, at):
    client = browse(organiser)
    client.post(at("entrant-leave", entrant="brannoc"), {"reason": "Ill", "after_round": ""})
    assert season.entrants.get(key="brannoc").left_reason == "Ill"
    client.post(at("entrant-return", entrant="brannoc"))
    assert season.entrants.get(key="brannoc").left_at is None


# --- files -------------------------------------------------------------------------------


def test_a_season_goes_out_and_comes_in_as_a_file(browse, club, ruleset, organiser, document):
    client = browse(organiser)
    address = reverse("season-import", kwargs={"club": club.slug})
    form = client.get(address).context["form"]
    file = SimpleUploadedFile("season.json", json.dumps(document).encode())
    client.post(address, {**typed(form), "ruleset": ruleset.pk, "document": file})
    season = Season.objects.get()
    answer = client.get(reverse("season-json", kwargs={"club": club.slug, "pk": season.pk}))
    assert answer.content == dump(read_season(document))
    assert answer["Content-Type"] == "application/json"


@pytest.mark.parametrize(("data", "complaint"), [(b"{", "The document is not JSON"), (b"{}", "'format' is missing.")])
def test_a_file_that_is_no_season_is_refused_on_the_page(browse, club, ruleset, organiser, data, complaint):
    client = browse(organiser)
    address = reverse("season-import", kwargs={"club": club.slug})
    form = client.get(address).context["form"]
    file = SimpleUploadedFile("season.json", data)
    answer = client.post(address, {**typed(form), "ruleset": ruleset.pk, "document": file})
    assert answer.status_code == 422
    assert complaint in answer.content.decode().replace("&#x27;", "'")


# --- reading -------------------------------------------------------------------------------


def rows_of(page) -> list[list[str]]:
    table = page.context["table"]
    return [["" if cell is None else str(cell) for cell in row] for row in table.as_values()]


def test_the_table_shows_every_column_with_points_first(browse, taken_in, member, club):
    page = browse(member).get(reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk}))
    assert rows_of(page) == [
        [
            "Place",
            "Entrant",
            "Points",
            "Played",
            "Won",
            "Drawn",
            "Lost",
            "Unplayed",
            "Diff.",
            "Buchholz",
            "Note",
        ],
        ["1", "Brannoc", "4.0", "2", "1", "1", "0", "0", "5", "8.0", "1 unconfirmed"],
        ["2", "The Eels", "3.5", "2", "0", "1", "1", "1", "-5", "8.0", "1 unconfirmed"],
        ["3", "Hewe", "3.0", "0", "0", "0", "0", "2", "0", "0.0", ""],
    ]


def test_the_table_is_looked_back_at_by_round_and_by_day(browse, taken_in, member, club):
    address = reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk})
    names = [row[1] for row in rows_of(browse(member).get(f"{address}?round=1"))[1:]]
    assert names == ["Brannoc", "Hewe", "The Eels"]
    early = rows_of(browse(member).get(f"{address}?date=2025-08-01"))[1:]
    assert {row[2] for row in early} == {"0.0"}


def test_a_look_back_that_cannot_be_read_is_said_so_and_shows_today(browse, taken_in, member, club):
    address = reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk})
    page = browse(member).get(f"{address}?round=99&date=yesterday")
    assert page.status_code == 200
    assert set(page.context["filter"].errors) == {"round", "date"}


def test_every_number_leads_to_its_reasons(browse, taken_in, member, club):
    client = browse(member)
    page = client.get(reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk}) + "?round=2")
    table = page.context["table"]
    links = [
        table.cell_address(row, column)
        for row in table.reckoned.rows
        for column in ["rank", "points", "played", "won", "drawn", "lost", "unplayed", "score_difference", "buchholz"]
    ]
    assert all(link in page.content.decode() for link in links)
    for link in links:
        answer = client.get(link)
        assert answer.status_code == 200
        assert answer.context["page"].total == answer.context["page"].value
        assert "after round 2" in answer.content.decode()


@pytest.fixture
def number(taken_in):
    """An entrant's number in addresses, 0 for one who is not in the season."""
    rows = dict(taken_in.entrants.values_list("key", "pk"))
    return lambda key: rows.get(key, 0)


def test_a_column_or_entrant_there_is_not_is_not_found(browse, taken_in, member, club, number):
    for entrant, column in [("nobody", "points"), ("brannoc", "luck")]:
        kwargs = {"club": club.slug, "pk": taken_in.pk, "row": number(entrant), "column": column}
        assert browse(member).get(reverse("standings-cell", kwargs=kwargs)).status_code == 404


def test_the_place_is_explained_by_what_parts_two_neighbours(browse, taken_in, member, club, number):
    kwargs = {"club": club.slug, "pk": taken_in.pk, "row": number("eels"), "column": "rank"}
    page = browse(member).get(reverse("standings-cell", kwargs=kwargs)).context["page"]
    assert [(each.column, each.mine, each.theirs, each.parts) for each in page.comparisons] == [
        ("points", "3.5", "4", True)
    ]


def test_an_unconfirmed_result_is_marked_in_the_table(browse, taken_in, member, club):
    page = browse(member).get(reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk}))
    assert "1 unconfirmed" in page.content.decode()


def test_a_look_back_remarks_only_on_what_it_sees(browse, taken_in, member, club):
    address = reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk})
    assert "1 unconfirmed" not in browse(member).get(f"{address}?date=2025-08-01").content.decode()


def test_a_visitor_reads_the_reasons_of_a_number_without_private_names(browse, club, taken_in, number):
    club.is_public = True
    club.save()
    kwargs = {"club": club.slug, "pk": taken_in.pk, "row": number("eels"), "column": "buchholz"}
    page = browse(None).get(reverse("standings-cell", kwargs=kwargs))
    assert page.status_code == 200
    assert "brannoc" not in page.content.decode().lower()


def test_the_table_downloads_as_csv(browse, taken_in, member, club):
    answer = browse(member).get(reverse("standings", kwargs={"club": club.slug, "pk": taken_in.pk}) + "?format=csv")
    lines = answer.content.decode().splitlines()
    assert lines[0].startswith('"Place","Entrant","Points"')
    assert lines[1] == '"1","Brannoc","4.0","2","1","1","0","0","5","8.0","1 unconfirmed"'


def test_a_round_shows_who_met_and_how_it_went(browse, taken_in, member, club):
    page = browse(member).get(reverse("round", kwargs={"club": club.slug, "pk": taken_in.pk, "number": 1}))
    assert rows_of(page)[1:] == [
        ["Brannoc v The Eels", "9 : 4", "", "confirmed"],
        ["Hewe", "", "", "not played"],
    ]


def test_the_season_page_explains_every_rule_and_tie_break(browse, taken_in, member, club):
    page = browse(member).get(reverse("season", kwargs={"club": club.slug, "pk": taken_in.pk})).content.decode()
    for words in [
        "for a game won",
        "for a round without an opponent",
        "The points of everybody one met, without adjustments, added up: a harder road stands first.",
        "A result counts as soon as it is filed",
        "Left the tables standing",
        "left: Moved to Overbrune",
    ]:
        assert words in page


# --- who may read what ---------------------------------------------------------------------

READ = ["seasons", "season", "standings", "round"]
CHANGE = ["season-rules", "season-close", "adjust", "entrant-new", "round-new", "open-play", "pairing-new"]


def address_of(name, club, season) -> str:
    kwargs = {"club": club.slug}
    if name != "seasons":
        kwargs["pk"] = season.pk
    if name in {"round", "pairing-new"}:
        kwargs["number"] = 1
    return reverse(name, kwargs=kwargs)


@pytest.mark.parametrize("name", READ)
def test_visitors_read_a_public_club_and_no_other(browse, club, taken_in, name):
    address = address_of(name, club, taken_in)
    assert browse(None).get(address).status_code == 302
    club.is_public = True
    club.save()
    assert browse(None).get(address).status_code == 200


@pytest.mark.parametrize("name", [*READ, "season-json"])
def test_another_clubs_organiser_finds_nothing(browse, club, taken_in, outsider, name):
    assert browse(outsider).get(address_of(name, club, taken_in)).status_code == 404


@pytest.mark.parametrize("name", CHANGE)
def test_members_without_office_are_refused(browse, club, taken_in, member, name):
    assert browse(member).get(address_of(name, club, taken_in)).status_code == 403
    assert browse(member).post(address_of(name, club, taken_in)).status_code == 403


def test_another_clubs_season_is_not_found_under_ones_own(browse, taken_in, outsider, other_club):
    assert browse(outsider).get(address_of("season", other_club, taken_in)).status_code == 404


def test_visitors_read_names_only_of_those_who_allow_it(browse, club, member, taken_in):
    club.is_public = True
    club.save()
    member.shows_page = True
    member.save()
    page = browse(None).get(address_of("standings", club, taken_in)).content.decode()
    assert "Brannoc" in page
    assert "The Eels" in page
    assert "hewe" not in page.lower()


@pytest.mark.parametrize("name", ["season", "round", "standings"])
def test_no_page_gives_a_visitor_a_private_name(browse, club, taken_in, name):
    club.is_public = True
    club.save()
    page = browse(None).get(address_of(name, club, taken_in)).content.decode().lower()
    for private in ["brannoc", "hewe", "ysolde", "tamsin", "odalys"]:
        assert private not in page


def test_the_file_is_for_members(browse, club, taken_in, member):
    club.is_public = True
    club.save()
    assert browse(None).get(address_of("season-json", club, taken_in)).status_code == 302
    assert browse(member).get(address_of("season-json", club, taken_in)).status_code == 200


# --- queries ---------------------------------------------------------------------------------


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_of_seasons_takes_the_same_queries_however_long(
    browse, club, ruleset, member, count, django_assert_num_queries
):
    factories.SeasonFactory.create_batch(count, club=club, ruleset=ruleset)
    client = browse(member)
    address = reverse("seasons", kwargs={"club": club.slug})
    client.get(address)
    with django_assert_num_queries(6):
        client.get(address)


@pytest.fixture
def crowd(club, season, organiser):
    """So many entrants who all met somebody in round 1, with results."""

    def act(count):
        members = factories.MemberFactory.create_batch(2 * count, club=club)
        rows = enter_each(season, member_ids=[each.pk for each in members], by=organiser)
        in_round = add_round(season, on=date(2026, 1, 22), by=organiser)
        for first, second in zip(rows[::2], rows[1::2], strict=True):
            ids = [first.pk, second.pk]
            pairing = pair(in_round, entrant_ids=ids, submission=uuid.uuid4(), by=organiser)
            report(pairing, 7, 3, by=organiser)
        adjust(season, entrant=rows[0], points_x2=1, reason="x", submission=uuid.uuid4(), by=organiser)

    return act


@pytest.mark.parametrize("count", [1, 3])
@pytest.mark.parametrize(("name", "queries"), [("standings", 19), ("season", 16), ("round", 14)])
def test_pages_take_the_same_queries_however_many_play(
    browse, season, crowd, member, at, count, name, queries, django_assert_num_queries
):
    crowd(count)
    client = browse(member)
    address = at(name, number=1) if name == "round" else at(name)
    client.get(address)
    with django_assert_num_queries(queries):
        client.get(address)


@pytest.mark.parametrize("count", [1, 25])
def test_the_table_takes_ten_queries_however_many_play(season, crowd, count, django_assert_num_queries):
    crowd(count)
    season = Season.objects.select_related("club").get(pk=season.pk)
    with django_assert_num_queries(10):
        assert len(standings(season).rows) == 2 * count


def test_the_readers_own_row_is_marked(browse, member, taken_in, club):
    page = browse(member).get(address_of("standings", club, taken_in)).content.decode()
    assert len(re.findall(r'<tr role="row"[^>]*\bmine\b', page)) == 1


def test_a_visitor_has_no_row_of_their_own(browse, taken_in, club):
    club.is_public = True
    club.save()
    assert "mine" not in browse(None).get(address_of("standings", club, taken_in)).content.decode()


@pytest.fixture
def with_direct_encounter(taken_in, organiser):
    """Brannoc and the Eels differ by half a point (4 and 3½): nobody is level, so there is nothing to compare."""
    rules = {**taken_in.rules, "tie_breaks": [{"name": "direct_encounter", "pieces": ["points"]}]}
    return change_rules(taken_in, rules=rules, reason="To have it", by=organiser)


def test_direct_encounter_is_a_dash_where_nobody_is_level(browse, with_direct_encounter, member, club):
    page = browse(member).get(address_of("standings", club, with_direct_encounter)).content.decode()
    assert set(re.findall(r'data-label="Direct"[^>]*><a [^>]*>([^<]*)</a>', page)) == {"–"}


def test_the_reason_of_the_dash_is_told(browse, with_direct_encounter, member, club, number):
    row = number("eels")
    kwargs = {"club": club.slug, "pk": with_direct_encounter.pk, "row": row, "column": "direct_encounter"}
    page = browse(member).get(reverse("standings-cell", kwargs=kwargs)).content.decode()
    assert "It is not asked for The Eels" in page
