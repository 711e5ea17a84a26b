"""Several people, or one impatient one, do the same at the same moment: it is done once, and nobody meets an error page."""

from __future__ import annotations

import json
from collections import Counter
from uuid import uuid4

import pytest

from tests.race.conftest import TODAY

pytestmark = [pytest.mark.race, pytest.mark.xdist_group("race")]

ROUNDS = 5
PARALLEL = 30
WRITTEN = {200, 201}


def sides(site, *names, scored=(), rosters=False):
    """Two sides as a body holds them: who plays, with which roster, what it scored."""
    return [
        {
            "member_ids": [site.club["members"][name]],
            **({"roster_id": site.club["rosters"][name]} if rosters else {}),
            **({"score": scored[place]} if scored else {}),
        }
        for place, name in enumerate(names)
    ]


def logged(site, who, *names, rosters=False, submission=None):
    body = {
        "submission": submission or str(uuid4()),
        "ruleset": site.club["ruleset"],
        "on": TODAY,
        "sides": sides(site, *names, scored=(12, 7), rosters=rosters),
    }
    return site.told(who, "game-log/", body)


def planned(site, *names, rosters=False):
    """A game that is planned, by its number."""
    body = {
        "submission": str(uuid4()),
        "ruleset": site.club["ruleset"],
        "on": TODAY,
        "sides": sides(site, *names, rosters=rosters),
    }
    [(status, answer)] = site.at_once([site.told("Mila", "games/", body)])
    assert status == 201, answer
    return json.loads(answer)["id"]


def reported(site, who, game, scores, submission=None):
    body = {
        "submission": submission or str(uuid4()),
        "fought_on": TODAY,
        "sides": [{"position": place, "score": score} for place, score in enumerate(scores, start=1)],
    }
    return site.told(who, f"games/{game}/reports/", body)


def games_of(site):
    return site.read("games/?page_size=1")["count"]


@pytest.mark.parametrize("_round", range(ROUNDS))
def test_a_log_tapped_four_times_at_once_is_one_game(site, _round):
    before = games_of(site)
    name = str(uuid4())
    answers = site.at_once([logged(site, "Brannoc", "Brannoc", "Ceriden", submission=name)] * 4)
    assert {status for status, _answer in answers} <= WRITTEN, answers
    assert len({json.loads(answer)["id"] for _status, answer in answers}) == 1
    assert games_of(site) == before + 1


@pytest.mark.parametrize("_round", range(ROUNDS))
def test_a_report_sent_four_times_at_once_is_one_report(site, _round):
    game = planned(site, "Brannoc", "Ceriden", rosters=True)
    name = str(uuid4())
    answers = site.at_once([reported(site, "Brannoc", game, (12, 7), submission=name)] * 4)
    assert {status for status, _answer in answers} <= WRITTEN, answers
    assert len({json.loads(answer)["id"] for _status, answer in answers}) == 1


@pytest.mark.parametrize("_round", range(ROUNDS))
def test_of_two_first_reports_at_once_one_stands_and_the_other_hears_whose_it_is(site, _round):
    game = planned(site, "Brannoc", "Ceriden")
    tellers = ("Brannoc", "Ceriden")
    answers = site.at_once(reported(site, who, game, (12, 7)) for who in tellers)
    by_status = {status: (who, answer) for who, (status, answer) in zip(tellers, answers, strict=True)}
    assert set(by_status) == {201, 409}, answers
    assert f"{by_status[201][0]} already filed a report" in json.loads(by_status[409][1])["detail"]


@pytest.mark.parametrize("_round", range(ROUNDS))
def test_two_reports_in_which_the_same_rosters_stand_the_other_way_round_both_arrive(site, _round):
    """Both acts hold both rosters; taken in the order of the sides they would wait for each other for ever."""
    one = planned(site, "Brannoc", "Ceriden", rosters=True)
    other = planned(site, "Ceriden", "Brannoc", rosters=True)
    answers = site.at_once([reported(site, "Brannoc", one, (12, 7)), reported(site, "Ceriden", other, (3, 4))])
    assert [status for status, _answer in answers] == [201, 201], answers


def test_thirty_games_logged_at_once_are_thirty_games(site):
    before = games_of(site)
    pairs = [("Brannoc", "Ceriden"), ("Ceriden", "Brannoc")]
    answers = site.at_once(
        logged(site, pairs[number % 2][0], *pairs[number % 2], rosters=True) for number in range(PARALLEL)
    )
    assert Counter(status for status, _answer in answers) == {201: PARALLEL}
    assert len({json.loads(answer)["id"] for _status, answer in answers}) == PARALLEL
    assert games_of(site) == before + PARALLEL


def test_every_roster_counts_its_battles_one_by_one_after_all_that(site):
    assert site.server.manage("recount").strip().endswith("0 mismatches")


def test_a_link_for_one_lets_in_one_of_four(site):
    before = site.read("members/?page_size=1")["count"]
    answers = site.at_once(
        site.typed(name, f"/join/{site.club['link']}/", {"name": name}) for name in site.club["newcomers"]
    )
    assert Counter(status for status, _answer in answers)[302] == 1, answers
    assert all(status < 500 for status, _answer in answers)
    assert site.read("members/?page_size=1")["count"] == before + 1


def test_a_venue_added_twice_at_once_under_one_name_is_there_once(site):
    halls = [{"name": "Net loft", "address": address} for address in ("Quay 1", "Quay 2", "Quay 3", "Quay 4")]
    answers = site.at_once(site.told("Mila", "venues/", hall) for hall in halls)
    assert Counter(status for status, _answer in answers) == {201: 1, 422: 3}, answers


@pytest.mark.parametrize("_round", range(ROUNDS))
def test_a_pairing_sent_four_times_at_once_is_one_pairing_with_one_game(site, _round):
    before = games_of(site)
    address = f"seasons/{site.club['season']}/rounds/{_round + 1}/pairings/"
    body = {"submission": str(uuid4()), "entrants": ["brannoc", "ceriden"]}
    answers = site.at_once([site.told("Mila", address, body)] * 4)
    assert {status for status, _answer in answers} <= WRITTEN, answers
    assert len(site.read(address)) == 1
    assert games_of(site) == before + 1


@pytest.mark.parametrize("_round", range(ROUNDS))
def test_an_entrant_paired_with_two_others_at_once_plays_one_of_them(site, _round):
    address = f"seasons/{site.club['season']}/rounds/{ROUNDS + _round + 1}/pairings/"
    bodies = [{"submission": str(uuid4()), "entrants": ["mila", other]} for other in ("brannoc", "ceriden")]
    answers = site.at_once(site.told("Mila", address, body) for body in bodies)
    assert sorted(status for status, _answer in answers) == [201, 422], answers
    assert len(site.read(address)) == 1
