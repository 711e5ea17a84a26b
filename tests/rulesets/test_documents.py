"""Rulesets as documents: made, revised, refused, exported."""

from __future__ import annotations

import json

import pytest

from league.engines.rulesets import parse_ruleset
from league.errors import NotYoursToDo, Refused
from league.rulesets.models import Edition, Ruleset
from league.rulesets.queries import canonical, current_edition, rules_of, shipped_documents
from league.rulesets.services.rulesets import (
    EditionMovedOn,
    RulesetRefused,
    bring_back_ruleset,
    create_ruleset,
    retire_ruleset,
    revise_ruleset,
)


def test_a_ruleset_begins_with_edition_one_under_the_documents_name(ruleset, document):
    assert ruleset.name == document["name"]
    assert current_edition(ruleset).number == 1


def test_the_rules_of_an_edition_are_those_of_its_document(ruleset, document):
    assert rules_of(current_edition(ruleset)) == parse_ruleset(document)


def test_the_same_document_twice_is_one_ruleset(club, organiser, document):
    first = create_ruleset(club, document=document, by=organiser)
    assert create_ruleset(club, document=document, by=organiser) == first
    assert Ruleset.objects.count() == 1


def test_another_document_under_a_name_that_is_taken_is_refused(ruleset, club, organiser, document):
    with pytest.raises(RulesetRefused) as refusal:
        create_ruleset(club, document={**document, "summary": "Other words."}, by=organiser)
    assert "already" in str(refusal.value)


def test_every_fault_of_a_document_is_told_at_once_with_its_place_in_words(club, organiser, document):
    document["unit_classes"][1]["figures_least"] = 0
    document["casualty_tables"][2]["outcomes"][0]["to"] = 1
    document["scoring"]["tie_breaks"].append("height_of_the_player")
    with pytest.raises(RulesetRefused) as refusal:
        create_ruleset(club, document=document, by=organiser)
    told = {each.field: each.message for each in refusal.value.violations}
    assert told["document.unit_classes.1.figures_least"].startswith("Unit classes, line 2, fewest figures: ")
    assert "No outcome answers a roll of 2" in told["document.casualty_tables.2.outcomes"]
    assert "document.scoring.tie_breaks.5" in told
    assert not Ruleset.objects.exists()


@pytest.mark.parametrize("nonsense", [None, [], "text", 7, {}])
def test_what_is_no_document_is_refused_in_words(club, organiser, nonsense):
    with pytest.raises(RulesetRefused) as refusal:
        create_ruleset(club, document=nonsense, by=organiser)
    assert all(each.message for each in refusal.value.violations)


def test_a_revision_makes_the_next_edition_and_leaves_the_one_before(ruleset, organiser, document):
    before = current_edition(ruleset)
    revised = revise_ruleset(ruleset, document={**document, "name": "Reeds"}, note="Shorter", number=1, by=organiser)
    ruleset.refresh_from_db()
    assert (revised.number, revised.note, ruleset.name) == (2, "Shorter", "Reeds")
    assert Edition.objects.get(pk=before.pk).document["name"] == document["name"]


def test_a_revision_from_an_edition_that_is_not_current_is_refused(ruleset, organiser, document):
    revise_ruleset(ruleset, document={**document, "summary": "First."}, note="", number=1, by=organiser)
    with pytest.raises(EditionMovedOn):
        revise_ruleset(ruleset, document={**document, "summary": "Second."}, note="", number=1, by=organiser)
    assert current_edition(ruleset).document["summary"] == "First."


def test_the_second_arrival_of_a_revision_finds_the_first_ones_edition(ruleset, organiser, document):
    changed = {**document, "summary": "Changed."}
    first = revise_ruleset(ruleset, document=changed, note="", number=1, by=organiser)
    assert revise_ruleset(ruleset, document=changed, note="", number=1, by=organiser) == first


def test_a_revision_may_not_take_another_rulesets_name(ruleset, club, organiser, document):
    other = create_ruleset(club, document=shipped_documents()["levee_battle"], by=organiser)
    with pytest.raises(RulesetRefused):
        revise_ruleset(other, document=document, note="", by=organiser)


def test_members_do_not_write_rules_and_umpires_do(club, member, umpire, document):
    with pytest.raises(NotYoursToDo):
        create_ruleset(club, document=document, by=member)
    assert create_ruleset(club, document=document, by=umpire).pk


def test_organisers_of_other_clubs_do_not_write_rules(ruleset, outsider, document):
    with pytest.raises(Refused):
        revise_ruleset(ruleset, document=document, note="", by=outsider)


def test_a_retired_ruleset_can_be_brought_back(ruleset, organiser):
    assert retire_ruleset(ruleset, by=organiser).retired_at is not None
    assert retire_ruleset(ruleset, by=organiser).retired_at is not None
    assert bring_back_ruleset(ruleset, by=organiser).retired_at is None


@pytest.mark.parametrize("name", sorted(shipped_documents()))
def test_what_is_exported_reads_back_as_the_same_bytes(name):
    exported = canonical(shipped_documents()[name])
    assert canonical(json.loads(exported)) == exported
    assert parse_ruleset(json.loads(exported)) == parse_ruleset(shipped_documents()[name])
