"""Drafting and publishing in the browser and over the API."""

from __future__ import annotations

from datetime import date

import pytest
from django.urls import reverse

from league.engines.documents.season import Pairing as PairingRules
from league.seasons.forms.formats import FormatForm
from league.seasons.models import Pairing, Round
from league.seasons.queries.drafts import draft_of
from league.seasons.services.formats import choose_format
from league.seasons.services.rounds import add_round
from tests import factories
from tests.seasons.drafted import fill, next_round, play

SWISS = {"format": "swiss", "rounds": 5}


@pytest.fixture
def six(season, organiser):
    return fill(season, 6, by=organiser, pairing=SWISS)


@pytest.fixture
def first(season, six, organiser):
    return add_round(season, on=date(2026, 1, 22), by=organiser)


def at(name, in_round, **more):
    season = in_round.season
    return reverse(name, kwargs={"club": season.club.slug, "pk": season.pk, "number": in_round.number, **more})


def api(what, in_round):
    return f"/api/v1/clubs/weir-street/seasons/{in_round.season_id}/rounds/{in_round.number}/{what}"


def test_the_draft_page_shows_pairings_and_their_reasons(browse, organiser, first):
    page = browse(organiser).get(at("round-draft", first))
    assert page.status_code == 200
    assert "They have not met before." in page.text


def test_publishing_from_the_page_shows_everybody_the_round(browse, organiser, member, first, six):
    browse(organiser).post(at("round-draft", first), {"seen": draft_of(first).digest})
    assert six[0].name in browse(member).get(at("round", first)).text


def test_players_do_not_see_a_draft(browse, member, first):
    assert browse(member).get(at("round-draft", first)).status_code == 403
    assert "This round is not published yet." in browse(member).get(at("round", first)).text


def test_a_stale_draft_comes_back_as_a_conflict_with_the_new_one(browse, organiser, first):
    answer = browse(organiser).post(at("round-draft", first), {"seen": "of yesterday"})
    assert answer.status_code == 409
    assert draft_of(first).digest in answer.text
    assert not Pairing.objects.exists()


def test_a_pin_is_set_and_taken_out_on_pages(browse, organiser, first, six):
    browser = browse(organiser)
    browser.post(at("pin-new", first), {"first": six[0].pk, "second": six[1].pk, "table": ""})
    pin = first.pins.get(removed_at=None)
    assert f"{six[0].name} – {six[1].name}" in browser.get(at("round-draft", first)).text
    browser.post(at("pin-remove", first, pin=pin.pk))
    assert not first.pins.filter(removed_at=None).exists()


def test_a_pin_that_fixes_nothing_is_refused_on_the_form(browse, organiser, first, six):
    answer = browse(organiser).post(at("pin-new", first), {"first": six[0].pk, "second": "any", "table": ""})
    assert "Say at which table, or whom they meet." in answer.text


def test_the_format_is_chosen_on_its_page(browse, organiser, season):
    page = reverse("season-format-edit", kwargs={"club": season.club.slug, "pk": season.pk})
    answer = browse(organiser).post(
        page, {"format": "swiss", "rounds": 7, "sides": 2, "rank_distance": 1, "rank_repeat": 2, "must_repeat": "on"}
    )
    assert answer.status_code == 302
    season.refresh_from_db()
    assert season.pairing == {"rounds": 7, "criteria": ["distance", "repeat"], "must": ["repeat"], "sides": 2}


@pytest.mark.parametrize(
    ("pairing", "sentence"),
    [
        ({"format": "typed"}, "An organiser types in who meets whom."),
        (SWISS, "5 rounds are planned."),
        ({"format": "round_robin"}, "Everybody meets everybody once."),
        ({"format": "double_round_robin"}, "Everybody meets everybody twice, once in each role."),
        ({"format": "knockout", "third_place": True}, "Those who lose the semi-finals play for the third place."),
        ({"format": "groups_knockout", "advance": 1}, "The best 1 of every group go on to a knock-out."),
        ({"format": "open", "best_of": 6}, "Only the best 6 results of everybody count."),
        ({"format": "ladder", "reach": 2}, "One may challenge whoever is up to 2 rungs above."),
    ],
)
def test_every_format_has_its_rules_page(browse, organiser, season, pairing, sentence):
    choose_format(season, pairing=pairing, by=organiser)
    page = browse(organiser).get(reverse("season-format", kwargs={"club": season.club.slug, "pk": season.pk}))
    assert sentence in page.text


def test_what_the_draw_looks_at_is_kept(browse, organiser, season, six):
    page = reverse("entrant-place", kwargs={"club": season.club.slug, "pk": season.pk, "entrant": six[0].key})
    browse(organiser).post(page, {"seed_number": 1, "party": "Mill Lane", "is_newcomer": "on"})
    six[0].refresh_from_db()
    assert (six[0].seed_number, six[0].party, six[0].is_newcomer) == (1, "Mill Lane", True)


def test_a_postponed_game_says_until_when(browse, organiser, season, six):
    played = next_round(season, by=organiser)
    pairing = played.pairings.first()
    browser = browse(organiser)
    browser.post(at("pairing-postpone", played, pairing=pairing.key), {"until": "2026-02-28"})
    assert "postponed until Sat 28 Feb 2026" in browser.get(at("round", played)).text


def test_the_sheet_has_a_line_for_every_pairing(browse, member, season, six, organiser):
    played = next_round(season, by=organiser)
    assert browse(member).get(at("round-sheet", played)).text.count('<td class="blank"></td>') == 2 * 3


@pytest.mark.parametrize("count", [2, 20])
def test_the_draft_page_takes_the_same_queries_however_many_play(
    browse, season, organiser, count, django_assert_num_queries
):
    fill(season, count, by=organiser, pairing=SWISS)
    first = add_round(season, by=organiser)
    browser = browse(organiser)
    browser.get(at("round-draft", first))
    with django_assert_num_queries(23):
        browser.get(at("round-draft", first))


# --- the API ---------------------------------------------------------------------------


def test_the_draft_over_the_api_says_why(call, organiser, first):
    told = call(organiser).get(api("draft/", first)).json()
    assert len(told["lines"]) == 3
    assert {each["criterion"] for each in told["lines"][0]["reasons"]} >= {"repeat", "distance"}


def test_publishing_over_the_api(call, organiser, first):
    seen = call(organiser).get(api("draft/", first)).json()["digest"]
    answer = call(organiser).post(api("publication/", first), {"seen": seen}, format="json")
    assert answer.status_code == 200
    assert Round.objects.get(pk=first.pk).published_by == organiser


def test_a_second_organiser_gets_a_problem_that_says_who(call, club, organiser, first):
    colleague = factories.MemberFactory(club=club, name="Perrin", is_organiser=True)
    seen = draft_of(first).digest
    call(organiser).post(api("publication/", first), {"seen": seen}, format="json")
    answer = call(colleague).post(api("publication/", first), {"seen": seen}, format="json")
    assert answer.status_code == 409
    assert answer["Content-Type"].startswith("application/problem+json")
    assert "was published by Odalys" in answer.content.decode()


def test_pins_over_the_api(call, organiser, first, six):
    made = call(organiser).post(
        api("pins/", first), {"kind": "pairing", "entrants": [six[0].key, six[1].key]}, format="json"
    )
    assert made.status_code == 201
    assert call(organiser).get(api("draft/", first)).json()["pins"][0]["entrants"] == [six[0].key, six[1].key]
    assert call(organiser).delete(api(f"pins/{made.json()['id']}/", first)).status_code == 204


def test_the_format_over_the_api(call, organiser, season):
    address = f"/api/v1/clubs/weir-street/seasons/{season.pk}/format/"
    answer = call(organiser).put(address, {"pairing": {"format": "round_robin"}}, format="json")
    assert answer.json()["rules"][0] == "Everybody meets everybody once."


def test_a_round_robin_is_drawn_up_over_the_api(call, organiser, season):
    fill(season, 4, by=organiser, pairing={"format": "round_robin"})
    answer = call(organiser).post(f"/api/v1/clubs/weir-street/seasons/{season.pk}/draw-up/")
    assert [each["number"] for each in answer.json()] == [1, 2, 3]


def test_a_postponed_game_over_the_api(call, organiser, season, six):
    played = next_round(season, by=organiser)
    key = played.pairings.first().key
    answer = call(organiser).put(api(f"pairings/{key}/postponement/", played), {"until": "2026-02-28"}, format="json")
    assert answer.status_code == 200
    assert played.pairings.get(key=key).postponed_until == date(2026, 2, 28)


def test_the_bracket_page_says_who_goes_on(browse, member, season, organiser):
    fill(season, 3, by=organiser, pairing={"format": "knockout"})
    play(next_round(season, by=organiser), by=organiser)
    page = browse(member).get(reverse("bracket", kwargs={"club": season.club.slug, "pk": season.pk}))
    assert " has a bye" in page.text
    assert "Places so far" in page.text


def test_the_bracket_over_the_api(call, member, season, organiser):
    fill(season, 3, by=organiser, pairing={"format": "knockout"})
    play(next_round(season, by=organiser), by=organiser)
    (bracket,) = call(member).get(f"/api/v1/clubs/weir-street/seasons/{season.pk}/bracket/").json()
    assert [len(match["sides"]) for match in bracket["matches"]] == [2, 2, 2]
    assert bracket["matches"][0]["is_walkover"]


def test_what_stands_under_another_format_cannot_be_wrong(season):
    form = FormatForm({"format": "ladder", "reach": "2", "rounds": "-3"}, pairing=PairingRules())
    assert form.is_valid()
    assert form.pairing() == {"format": "ladder", "reach": 2}
    assert not FormatForm({"format": "swiss", "rounds": "-3"}, pairing=PairingRules()).is_valid()
