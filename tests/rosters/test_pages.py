"""The roster pages: reading, writing in three ways, files, and who may."""

from __future__ import annotations

import json
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from league.rosters.models import Roster, Unit
from league.rosters.services.facts import UnitFacts, facts_of
from league.rosters.services.rosters import change_roster
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset

LINES = "Captain Oss: leader, 1 figure, veteran, 30 pts\n2x Line foot, 8 figures, 40 pts, long muskets; grenades"


def at(name, club, **kwargs):
    return reverse(name, kwargs={"club": club.slug, **kwargs})


def typed(**rows):
    """What a browser sends for rows of units."""
    sent = {"units-TOTAL_FORMS": 6, "units-INITIAL_FORMS": 0}
    for number, unit in enumerate(rows.pop("units", [])):
        sent |= {f"units-{number}-{field}": value for field, value in unit.items()}
    return {"submission": uuid.uuid4(), "name": "Levee Watch", **sent, **rows}


@pytest.fixture
def address(club, roster):
    return at("roster", club, pk=roster.pk)


# Reading


def test_the_page_shows_each_unit_as_it_stands_today(browse, opponent, address, fight):
    fight(Red_Company=(4, [1, 3, 3, 6]), Reed_Cutters=(6, [3] * 6), destroyed=["Reed Cutters"])
    page = browse(opponent).get(address).content.decode()
    assert "2 out for 1 more battle; 1 lost for good" in page
    assert "Against Ceriden" in page
    assert "legal" in page


def test_the_page_says_why(browse, member, address, fight):
    fight(Red_Company=(2, [1, 6]))
    page = browse(member).get(address).content.decode()
    assert "1 figure lost for good (dice 1, Everyone else)" in page


def test_the_page_tells_everything_that_is_not_legal(browse, member, club, write):
    roster = write(member, [UnitFacts(name="A", unit_class="line", figures=40, points=900)])
    page = browse(member).get(at("roster", club, pk=roster.pk)).content.decode()
    assert "Line foot has 4 to 12 figures, not 40" in page
    assert "The ruleset allows 400 points; this roster has 900." in page


def test_the_page_tells_which_report_no_longer_fits(browse, member, address, fight):
    first = fight()
    fight(Red_Company=(6, [6] * 6))
    fight(Red_Company=(8, [1] * 8), replaces=first)
    assert "Reports that no longer fit" in browse(member).get(address).content.decode()


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_costs_the_same_queries_whatever_the_units(
    browse, member, club, write, count, django_assert_num_queries
):
    units = [UnitFacts(name=f"Unit {number}", unit_class="line", figures=8, points=40) for number in range(count)]
    roster = write(member, units)
    client = browse(member)
    with django_assert_num_queries(9):
        client.get(at("roster", club, pk=roster.pk))


@pytest.mark.parametrize("count", [1, 3])
def test_the_page_costs_the_same_queries_whatever_the_battles(
    browse, member, address, fight, count, django_assert_num_queries
):
    for _ in range(count):
        fight(Red_Company=(1, [1]))
    client = browse(member)
    with django_assert_num_queries(11):
        client.get(address)


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_costs_the_same_queries_whatever_its_length(
    browse, member, club, write, count, django_assert_num_queries
):
    for number in range(count):
        write(member, [UnitFacts(name="A", unit_class="line", figures=8, points=40)], name=f"Roster {number}")
    client = browse(member)
    with django_assert_num_queries(9):
        answer = client.get(at("rosters", club))
    assert len(answer.context["table"].rows) == count


def test_the_list_is_narrowed_by_owner_and_faction(browse, member, opponent, club, roster, write):
    write(opponent, name="Others", faction="Wardens of Brune")
    client = browse(member)
    assert len(client.get(at("rosters", club), {"owner": opponent.pk}).context["table"].rows) == 1
    assert len(client.get(at("rosters", club), {"faction": "arrel"}).context["table"].rows) == 1


def test_the_list_comes_as_csv(browse, member, club, roster):
    text = browse(member).get(at("rosters", club), {"format": "csv"}).content.decode()
    assert '"Sedge Patrol","Brannoc"' in text and '"legal"' in text


# Writing row by row


def test_a_roster_is_written_in_rows_and_blank_rows_are_left_out(browse, member, club, ruleset):
    units = [{"name": "Oss", "unit_class": "leader", "figures": 1, "points": 30, "gear": "pike; flag"}]
    answer = browse(member).post(at("roster-new", club), typed(owner=member.pk, units=units))
    roster = Roster.objects.get()
    assert answer.status_code == 302
    assert facts_of(roster.units.get()).gear == ("pike", "flag")


def test_a_second_tap_on_save_writes_one_roster(browse, member, club, ruleset):
    sent, client = typed(owner=member.pk), browse(member)
    first, second = (client.post(at("roster-new", club), sent) for _ in range(2))
    assert first["Location"] == second["Location"]
    assert Roster.objects.count() == 1


def test_everything_wrong_in_the_rows_is_told_and_what_was_typed_stays(browse, member, club, ruleset):
    units = [{"name": "Oss", "unit_class": "leader"}, {"points": "many", "unit_class": "line", "name": "Foot"}]
    answer = browse(member).post(at("roster-new", club), typed(owner=member.pk, units=units, name=""))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Unit 1, Figures:" in page and "Unit 2, Points:" in page and "roster&#x27;s name" in page
    assert 'value="many"' in page
    assert not Roster.objects.exists()


def test_a_club_with_two_rulesets_is_asked_for_one(browse, member, organiser, club, ruleset):
    other = create_ruleset(club, document=shipped_documents()["levee_battle"], by=organiser)
    client = browse(member)
    assert "By which ruleset?" in client.get(at("roster-new", club)).content.decode()
    page = client.get(at("roster-new", club), {"ruleset": other.pk}).content.decode()
    assert "Dyke pioneers" in page


def test_a_club_without_a_ruleset_says_so(browse, member, club):
    assert "there is none in use yet" in browse(member).get(at("roster-new", club)).content.decode()


def test_only_organisers_are_asked_for_whom(browse, member, organiser, club, ruleset, opponent):
    assert "Ceriden" not in browse(member).get(at("roster-new", club)).content.decode()
    assert "Ceriden" in browse(organiser).get(at("roster-new", club)).content.decode()


# From text


def test_pasted_lines_are_shown_first_and_nothing_is_written(browse, member, club, ruleset):
    answer = browse(member).post(
        at("roster-from-text", club),
        {"owner": member.pk, "name": "Watch", "submission": uuid.uuid4(), "text": LINES},
    )
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "3 units, 17 figures, 110 points" in page
    assert not Roster.objects.exists() and not Unit.objects.exists()


def confirm(client, address, sent, **changes):
    """Look at a text, then send the page that came back with the button that writes."""
    form = client.post(address, sent).context["form"]
    shown = {bound.html_name: bound.value() for bound in form if bound.value() not in (None, False)}
    return client.post(address, {**shown, "write": "1", **changes})


def test_confirming_writes_what_was_shown(browse, member, club, ruleset):
    sent = {"owner": member.pk, "name": "Watch", "submission": uuid.uuid4(), "text": LINES}
    assert confirm(browse(member), at("roster-from-text", club), sent).status_code == 302
    assert list(Roster.objects.get().units.values_list("figures", flat=True)) == [1, 8, 8]


def test_a_file_is_shown_as_text_and_written_when_confirmed(browse, member, club, ruleset):
    file = SimpleUploadedFile("r.csv", b"Name;Class;Figures;Points\r\nFoot;Line foot;8;40\r\n")
    sent = {"owner": member.pk, "name": "Watch", "submission": uuid.uuid4(), "file": file}
    assert confirm(browse(member), at("roster-from-text", club), sent).status_code == 302
    assert Unit.objects.get().name == "Foot"


def test_text_changed_after_the_preview_is_shown_once_more(browse, member, club, ruleset):
    sent = {"owner": member.pk, "name": "Watch", "submission": uuid.uuid4(), "text": LINES}
    answer = confirm(browse(member), at("roster-from-text", club), sent, text=f"{LINES}\nline, 9, 50 points")
    assert answer.status_code == 200
    assert "4 units" in answer.content.decode()
    assert not Roster.objects.exists()


def test_each_bad_line_is_named_with_all_its_problems_and_the_text_is_kept(browse, member, club, ruleset):
    text = "line, 8 figures, 40 pts\nDragon: dragon, lots"
    answer = browse(member).post(
        at("roster-from-text", club), {"owner": member.pk, "name": "W", "submission": uuid.uuid4(), "text": text}
    )
    page = answer.content.decode()
    assert "1 line cannot be read" in page and "Line 2:" in page
    assert "Dragon: dragon, lots" in page


def test_bad_lines_keep_a_roster_from_being_written_until_one_leaves_them_out(browse, member, club, ruleset):
    text = "line, 8 figures, 40 pts\nDragon: dragon, lots"
    sent = {"owner": member.pk, "name": "W", "submission": uuid.uuid4(), "text": text}
    client, address = browse(member), at("roster-from-text", club)
    assert confirm(client, address, sent).status_code == 200
    assert not Roster.objects.exists()
    assert confirm(client, address, sent, skip_bad="on").status_code == 302
    assert Unit.objects.count() == 1


@pytest.mark.parametrize("text", ["", "   ", "\n"])
def test_nothing_pasted_is_told(browse, member, club, ruleset, text):
    answer = browse(member).post(
        at("roster-from-text", club), {"owner": member.pk, "name": "W", "submission": uuid.uuid4(), "text": text}
    )
    assert answer.status_code == 422


@pytest.mark.parametrize("name", ["roster-csv", "roster-json"])
def test_what_is_exported_imports_as_the_same_units(browse, member, club, roster, ruleset, name):
    client = browse(member)
    file = SimpleUploadedFile("units", client.get(at(name, club, pk=roster.pk)).content)
    sent = {"owner": member.pk, "name": "Again", "submission": uuid.uuid4(), "file": file}
    assert confirm(client, at("roster-from-text", club), sent).status_code == 302
    again = Roster.objects.get(name="Again")
    assert [facts_of(each) for each in again.units.order_by("position")] == [
        facts_of(each) for each in roster.units.order_by("position")
    ]


def test_units_are_added_to_a_roster_from_a_list(browse, member, club, roster):
    sent = {"text": "Riders: riders, 4, 40 pts", "version": roster.version}
    answer = confirm(browse(member), at("roster-import", club, pk=roster.pk), sent)
    assert answer.status_code == 302
    assert roster.units.count() == 4


def test_adding_to_a_roster_that_was_changed_meanwhile_is_refused_and_the_text_is_kept(
    browse, member, organiser, club, roster
):
    sent = {"text": "Riders: riders, 4, 40 pts", "version": roster.version}
    change_roster(roster, name="N", faction="", points_limit=None, note="", version=1, by=organiser)
    answer = confirm(browse(member), at("roster-import", club, pk=roster.pk), sent)
    assert answer.status_code == 422
    assert "Riders: riders, 4, 40 pts" in answer.content.decode()
    assert roster.units.count() == 3


# Changing


def test_a_stale_change_of_a_unit_is_refused_and_what_was_typed_stays(browse, member, organiser, club, roster, unit):
    address = at("unit-edit", club, pk=roster.pk, unit=unit("Red Company").pk)
    form = browse(member).get(address).context["form"]
    shown = {bound.name: bound.value() for bound in form}
    change_roster(roster, name="N", faction="", points_limit=None, note="", version=1, by=organiser)
    answer = browse(member).post(address, {**shown, "name": "Typed for an hour"})
    assert answer.status_code == 422
    assert "Somebody changed this roster meanwhile" in answer.content.decode()
    assert "Typed for an hour" in answer.content.decode()


def test_a_unit_saved_as_it_stands_stays_as_it_is(browse, member, club, roster, unit):
    address = at("unit-edit", club, pk=roster.pk, unit=unit("Red Company").pk)
    shown = {bound.name: bound.value() for bound in browse(member).get(address).context["form"]}
    assert browse(member).post(address, shown).status_code == 302
    roster.refresh_from_db()
    assert roster.version == 1


def test_a_unit_is_added_and_removed(browse, member, club, roster):
    client = browse(member)
    sent = {"name": "Riders", "unit_class": "riders", "figures": 4, "points": 40, "version": 1}
    client.post(at("unit-new", club, pk=roster.pk), sent)
    added = roster.units.get(name="Riders")
    client.post(at("unit-remove", club, pk=roster.pk, unit=added.pk))
    added.refresh_from_db()
    assert added.removed_at is not None


def test_a_roster_is_copied_once_whatever_the_taps(browse, opponent, club, roster):
    client, sent = browse(opponent), {"name": "Mine", "owner": opponent.pk, "submission": uuid.uuid4()}
    first, second = (client.post(at("roster-copy", club, pk=roster.pk), sent) for _ in range(2))
    assert first["Location"] == second["Location"]
    assert Roster.objects.get(name="Mine").copied_from == roster


# Who may

READING = ["roster", "roster-csv", "roster-json", "roster-copy"]
WRITING = ["roster-edit", "roster-import", "roster-retire", "unit-new"]


@pytest.mark.parametrize("name", READING)
@pytest.mark.parametrize(("who", "code"), [("member", 200), ("opponent", 200), ("organiser", 200), ("outsider", 404)])
def test_club_mates_read_and_copy_rosters(browse, request, club, roster, name, who, code):
    assert browse(request.getfixturevalue(who)).get(at(name, club, pk=roster.pk)).status_code == code


@pytest.mark.parametrize("name", WRITING)
@pytest.mark.parametrize(("who", "code"), [("member", 200), ("opponent", 403), ("organiser", 200), ("outsider", 404)])
def test_owner_and_organisers_change_rosters(browse, request, club, roster, name, who, code):
    assert browse(request.getfixturevalue(who)).get(at(name, club, pk=roster.pk)).status_code == code


@pytest.mark.parametrize("name", ["unit-edit", "unit-remove"])
@pytest.mark.parametrize(("who", "code"), [("member", 200), ("opponent", 403), ("organiser", 200), ("outsider", 404)])
def test_owner_and_organisers_change_units(browse, request, club, roster, unit, name, who, code):
    address = at(name, club, pk=roster.pk, unit=unit("Red Company").pk)
    assert browse(request.getfixturevalue(who)).get(address).status_code == code


@pytest.mark.parametrize("name", [*READING, *WRITING])
def test_signed_out_leads_to_the_sign_in(browse, club, roster, name):
    answer = browse(None).get(at(name, club, pk=roster.pk))
    assert answer.status_code == 302 and "login" in answer["Location"]


@pytest.fixture
def shown(club, member):
    """Brannoc shows his rosters to anyone, and the club has public pages."""
    club.is_public = True
    club.save()
    member.shows_page = member.shows_rosters = True
    member.save()


def test_a_stranger_sees_a_roster_its_owner_shows_but_not_whom_he_fought(browse, address, fight, shown):
    fight(Red_Company=(2, [1, 6]))
    page = browse(None).get(address).content.decode()
    assert "Red Company" in page
    assert "Ceriden" not in page


def test_a_stranger_sees_only_the_rosters_that_are_shown(browse, club, roster, opponent, write, shown):
    hidden = write(opponent, name="Hidden")
    page = browse(None).get(at("rosters", club)).content.decode()
    assert "Sedge Patrol" in page and "Hidden" not in page and "Ceriden" not in page
    assert browse(None).get(at("roster", club, pk=hidden.pk)).status_code == 404


def test_a_roster_of_another_club_is_not_found_under_ones_own(browse, outsider, other_club, roster):
    assert browse(outsider).get(at("roster", other_club, pk=roster.pk)).status_code == 404


def test_a_unit_of_another_roster_is_not_found(browse, member, club, roster, write):
    other = write(member, [UnitFacts(name="A", unit_class="line", figures=8, points=40)], name="Other")
    address = at("unit-edit", club, pk=roster.pk, unit=other.units.get().pk)
    assert browse(member).get(address).status_code == 404


def test_the_exported_document_says_what_it_is(browse, member, club, roster):
    document = json.loads(browse(member).get(at("roster-json", club, pk=roster.pk)).content)
    assert (document["format"], document["ruleset"]) == ("drumhead roster 1", "Reeds and Ferrymen")
