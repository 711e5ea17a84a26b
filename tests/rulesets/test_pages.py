"""The ruleset pages: reading, editing by form, who may."""

from __future__ import annotations

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from league.rulesets.forms.sections import SECTIONS
from league.rulesets.models import Ruleset
from league.rulesets.queries import canonical, current_edition, rules_of, shipped_documents
from league.rulesets.services.rulesets import create_ruleset, revise_ruleset
from tests.factories import EditionFactory


def at(name, club, **kwargs):
    return reverse(name, kwargs={"club": club.slug, **kwargs})


@pytest.fixture
def edit(browse, organiser, club, ruleset, as_shown):
    """Open a section, type over what is shown, save."""

    def typed(section, changes, by=organiser):
        client, address = browse(by), at("ruleset-edit", club, pk=ruleset.pk, section=section)
        shown = as_shown(client.get(address).context["form"])
        return client.post(address, {**shown, **changes})

    return typed


@pytest.mark.parametrize("name", sorted(shipped_documents()))
@pytest.mark.parametrize("section", sorted(SECTIONS))
def test_saving_a_section_as_it_stands_changes_nothing(name, section, club, organiser, browse, as_shown):
    ruleset = create_ruleset(club, document=shipped_documents()[name], by=organiser)
    address = at("ruleset-edit", club, pk=ruleset.pk, section=section)
    client = browse(organiser)
    answer = client.post(address, as_shown(client.get(address).context["form"]))
    assert answer.status_code == 302
    assert current_edition(ruleset).number == 1


def test_a_class_can_be_added_in_a_blank_row(edit, ruleset):
    new = {"unit_classes-6-name": "Eel spearmen", "unit_classes-6-figures_least": 4, "unit_classes-6-figures_most": 9}
    assert edit("classes", {**new, "note": "Spears"}).status_code == 302
    edition = current_edition(ruleset)
    added = rules_of(edition).unit_classes[-1]
    assert (edition.number, edition.note) == (2, "Spears")
    assert (added.key, added.name, added.figures_least, added.figures_most) == ("eel_spearmen", "Eel spearmen", 4, 9)


def test_a_renamed_class_keeps_its_key(edit, ruleset):
    edit("classes", {"unit_classes-1-name": "Levied foot"})
    assert rules_of(current_edition(ruleset)).unit_class("line").name == "Levied foot"


def test_a_row_can_be_taken_away(edit, ruleset):
    edit("scenarios", {"scenarios-3-DELETE": "on"})
    assert rules_of(current_edition(ruleset)).scenario("chance_meeting") is None


def test_taking_away_a_class_that_a_limit_speaks_of_is_refused_with_the_limits_place(edit, ruleset):
    answer = edit("classes", {"unit_classes-5-DELETE": "on"})
    assert answer.status_code == 422
    assert "Limits, line 4, class" in answer.content.decode()
    assert current_edition(ruleset).number == 1


def test_casualty_tables_follow_their_places(edit, ruleset):
    edit("casualties", {"casualty_tables-0-ORDER": 2, "casualty_tables-1-ORDER": 1})
    assert [each.key for each in rules_of(current_edition(ruleset)).casualty_tables] == ["veterans", "leaders", "foot"]


def test_a_roll_without_an_outcome_is_told_beside_the_lines(edit):
    answer = edit("casualties", {"casualty_tables-2-outcomes": "1-2 lost\n4-6 back"})
    row = answer.context["form"].sets[0][1][2]
    assert "No outcome answers a roll of 3" in row.errors["outcomes"][0]


def test_a_number_a_kind_of_limit_has_no_use_for_is_told_and_not_dropped(edit):
    answer = edit("limits", {"limits-0-least": 5})
    assert answer.status_code == 422
    assert "not a field known here" in answer.content.decode()


def test_everything_wrong_in_a_section_is_told_at_once_and_what_was_typed_stays(edit):
    answer = edit("classes", {"unit_classes-0-name": "", "unit_classes-1-figures_most": "many"})
    rows = answer.context["form"].sets[0][1]
    assert answer.status_code == 422
    assert rows[0].has_error("name", "required") and rows[1].has_error("figures_most", "invalid")
    assert 'value="many"' in answer.content.decode()


def test_half_points_are_typed_as_people_write_them(edit, ruleset):
    edit("scoring", {"win_x2": "3.5", "draw_x2": "1½", "loss_x2": "½"})
    scoring = rules_of(current_edition(ruleset)).scoring
    assert (scoring.win_x2, scoring.draw_x2, scoring.loss_x2) == (7, 3, 1)


def test_thirds_of_points_are_refused(edit):
    assert edit("scoring", {"win_x2": "1/3"}).status_code == 422


def test_an_edit_begun_before_somebody_elses_is_refused_and_what_was_typed_is_kept(
    browse, organiser, umpire, club, ruleset, as_shown, document
):
    client, address = browse(organiser), at("ruleset-edit", club, pk=ruleset.pk, section="about")
    shown = as_shown(client.get(address).context["form"])
    revise_ruleset(ruleset, document={**document, "summary": "Theirs."}, note="", by=umpire)
    answer = client.post(address, {**shown, "summary": "Mine, typed for an hour."})
    assert answer.status_code == 422
    assert "Edition 2 was made meanwhile" in answer.content.decode()
    assert "Mine, typed for an hour." in answer.content.decode()
    assert current_edition(ruleset).document["summary"] == "Theirs."


def test_a_second_tap_on_save_makes_one_edition(browse, organiser, club, ruleset, as_shown):
    client, address = browse(organiser), at("ruleset-edit", club, pk=ruleset.pk, section="about")
    shown = {**as_shown(client.get(address).context["form"]), "summary": "Changed."}
    assert client.post(address, shown).status_code == client.post(address, shown).status_code == 302
    assert current_edition(ruleset).number == 2


def test_a_ruleset_can_begin_from_an_example_under_another_name(browse, organiser, club):
    answer = browse(organiser).post(at("ruleset-new", club), {"start": "levee_battle", "name": "Dykes"})
    assert answer.status_code == 302
    assert current_edition(Ruleset.objects.get(name="Dykes")).document["unit_classes"][0]["key"] == "command"


def test_a_ruleset_can_begin_blank(browse, organiser, club):
    browse(organiser).post(at("ruleset-new", club), {"start": "blank", "name": "Ours"})
    assert len(rules_of(current_edition(Ruleset.objects.get(name="Ours"))).unit_classes) == 1


def test_a_downloaded_file_makes_the_same_ruleset_elsewhere(browse, organiser, outsider, club, other_club, ruleset):
    file = browse(organiser).get(at("ruleset-json", club, pk=ruleset.pk)).content
    answer = browse(outsider).post(
        at("ruleset-new", other_club), {"start": "own", "file": SimpleUploadedFile("rules.json", file)}
    )
    assert answer.status_code == 302
    assert current_edition(Ruleset.objects.get(club=other_club)).document == current_edition(ruleset).document


@pytest.mark.parametrize("text", ["{", "nonsense", '{"name": NaN}', "[" * 100_000])
def test_what_is_no_json_is_refused_in_words(browse, organiser, club, text):
    answer = browse(organiser).post(at("ruleset-new", club), {"start": "own", "text": text})
    assert answer.status_code == 422
    assert "This is no JSON" in answer.content.decode()


def test_a_pasted_document_with_faults_names_every_place(browse, organiser, club, document):
    document["qualities"][0]["key"] = "Raw!"
    del document["unit_classes"][0]["name"]
    answer = browse(organiser).post(at("ruleset-new", club), {"start": "own", "text": json.dumps(document)})
    page = answer.content.decode()
    assert "Qualities, line 1, key" in page and "Unit classes, line 1, name" in page


def test_a_file_may_take_the_place_of_an_edition(browse, organiser, club, ruleset, document):
    text = json.dumps({**document, "summary": "From a file."})
    address = at("ruleset-document", club, pk=ruleset.pk)
    assert browse(organiser).post(address, {"text": text, "number": 1}).status_code == 302
    assert current_edition(ruleset).document["summary"] == "From a file."


def test_an_older_edition_can_still_be_read(browse, organiser, member, club, ruleset, document):
    revise_ruleset(ruleset, document={**document, "summary": "Newer."}, note="", by=organiser)
    page = browse(member).get(at("ruleset-edition", club, pk=ruleset.pk, number=1)).content.decode()
    assert "Small fights for the crossings" in page and "Newer." not in page


def test_the_exported_bytes_are_the_canonical_ones(browse, member, club, ruleset):
    exported = browse(member).get(at("ruleset-json", club, pk=ruleset.pk)).content.decode()
    assert exported == canonical(current_edition(ruleset).document)


def test_the_page_says_the_rules_in_plain_words(browse, member, club, ruleset):
    page = browse(member).get(at("ruleset", club, pk=ruleset.pk)).content.decode()
    for words in ("At most 400 points.", "out for 1 battle", "One die of 6 for each figure lost.", "Old hands"):
        assert words in page


def test_a_die_of_three_is_shown_by_the_faces_of_the_die_that_is_thrown(browse, member, organiser, club):
    levee = create_ruleset(club, document=shipped_documents()["levee_battle"], by=organiser)
    page = browse(member).get(at("ruleset", club, pk=levee.pk)).content.decode()
    # A die of three is a six-sided die read 1-2, 3-4, 5-6 (common practice, no source).
    assert "<td>1–2</td>" in page and "<td>5–6</td>" in page


READING = ["ruleset", "ruleset-json", "ruleset-editions"]
WRITING = ["ruleset-document", "ruleset-retire", "ruleset-bring-back"]


@pytest.mark.parametrize("name", READING)
def test_every_member_reads_rulesets(browse, member, club, ruleset, name):
    assert browse(member).get(at(name, club, pk=ruleset.pk)).status_code == 200


@pytest.mark.parametrize("name", WRITING)
@pytest.mark.parametrize(("who", "code"), [("organiser", 200), ("umpire", 200), ("member", 403), ("outsider", 404)])
def test_organisers_and_umpires_write_rulesets(browse, request, club, ruleset, name, who, code):
    assert browse(request.getfixturevalue(who)).get(at(name, club, pk=ruleset.pk)).status_code == code


@pytest.mark.parametrize("name", [*READING, *WRITING])
def test_signed_out_leads_to_the_sign_in(browse, club, ruleset, name):
    answer = browse(None).get(at(name, club, pk=ruleset.pk))
    assert answer.status_code == 302 and "login" in answer["Location"]


@pytest.mark.parametrize("name", [*READING, *WRITING])
def test_a_visitor_of_a_public_club_sees_no_ruleset(browse, club, ruleset, name):
    club.is_public = True
    club.save()
    assert browse(None).get(at(name, club, pk=ruleset.pk)).status_code in {302, 404}


def test_another_clubs_ruleset_is_not_found_under_ones_own_club(browse, outsider, other_club, ruleset):
    assert browse(outsider).get(at("ruleset", other_club, pk=ruleset.pk)).status_code == 404


def test_a_section_nobody_knows_is_not_found(browse, organiser, club, ruleset):
    assert browse(organiser).get(at("ruleset-edit", club, pk=ruleset.pk, section="weather")).status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_costs_the_same_queries_whatever_its_length(browse, member, club, count, django_assert_num_queries):
    for _ in range(count):
        EditionFactory(ruleset__club=club)
    client = browse(member)
    with django_assert_num_queries(6):
        answer = client.get(at("rulesets", club))
    assert len(answer.context["table"].rows) == count


def test_the_list_comes_as_csv(browse, member, club, ruleset):
    assert "Reeds and Ferrymen" in browse(member).get(at("rulesets", club), {"format": "csv"}).content.decode()
