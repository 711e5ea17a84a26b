"""Games and reports over the API."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest

from league.battles.models import Game, Report
from league.battles.services.reports import file_report

PEOPLE = ["member", "opponent", "umpire", "organiser", "quartermaster", "outsider", None]
READ = [200, 200, 200, 200, 200, 404, 401]


def at(club, path):
    return f"/api/v1/clubs/{club.slug}/{path}"


def body(**facts):
    return {
        "submission": str(uuid4()),
        "fought_on": "2026-03-19",
        "sides": [{"position": 1, "score": 5}, {"position": 2, "score": 2}],
        **facts,
    }


@pytest.fixture
def planned(edition, member, opponent):
    def made(**facts):
        return {
            "submission": str(uuid4()),
            "ruleset": edition.ruleset_id,
            "scenario": "ferry_stage",
            "on": "2026-03-19",
            "sides": [{"member_ids": [member.pk], "role": "attacker"}, {"member_ids": [opponent.pk]}],
            **facts,
        }

    return made


@pytest.mark.parametrize("path", ["games/", "games/{game}/", "reports/", "reports/{report}/", "games/{game}/photos/"])
def test_members_of_the_club_read_and_nobody_else(path, request, club, report, call):
    address = at(club, path.format(game=report.game_id, report=report.pk))
    got = [call(request.getfixturevalue(who) if who else None).get(address).status_code for who in PEOPLE]
    assert got == READ


@pytest.mark.parametrize(
    ("path", "data", "expected"),
    [
        ("games/{game}/start/", None, [200, 200, 200, 200, 403, 404, 401]),
        ("games/{game}/cancel/", None, [409, 409, 403, 409, 403, 404, 401]),
        ("games/{fresh}/reports/", body(), [201, 409, 409, 409, 403, 404, 401]),
        ("reports/{report}/confirm/", None, [403, 200, 403, 403, 403, 404, 401]),
        ("reports/{report}/dispute/", {"text": "No."}, [403, 200, 403, 403, 403, 404, 401]),
        ("reports/{report}/settle/", {"verdict": "stands", "text": "Yes."}, [403, 403, 200, 403, 403, 404, 401]),
        ("reports/{report}/draw/", None, [200, 200, 200, 200, 403, 404, 401]),
        ("reports/{report}/rolls/", {"rolls": []}, [200, 200, 200, 200, 403, 404, 401]),
    ],
)
def test_every_act_is_open_to_whom_it_should_be(path, data, expected, request, club, report, plan, call):
    address = at(club, path.format(game=report.game_id, report=report.pk, fresh=plan().pk))
    got = []
    for who in PEOPLE:
        sent = {**data, "submission": str(uuid4())} if data and "submission" in data else data
        got.append(call(request.getfixturevalue(who) if who else None).post(address, sent).status_code)
    assert got == expected


def test_a_game_of_another_club_is_not_found_under_ones_own(game, outsider, other_club, call):
    assert call(outsider).get(at(other_club, f"games/{game.pk}/")).status_code == 404
    assert call(outsider).post(at(other_club, f"games/{game.pk}/reports/"), body()).status_code == 404


def test_a_game_is_planned_once_however_often_it_is_sent(club, planned, member, call):
    sent = planned()
    first, second = (call(member).post(at(club, "games/"), sent) for _time in range(2))
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.data == second.data
    assert Game.objects.count() == 1


def test_a_plan_tells_all_its_faults_with_their_places(club, planned, member, their_roster, call):
    sent = planned(
        scenario="no_such", sides=[{"member_ids": [member.pk], "roster_id": their_roster.pk}, {"member_ids": []}]
    )
    answer = call(member).post(at(club, "games/"), sent)
    assert answer.status_code == 422
    assert [(each["pointer"], each["code"]) for each in answer.data["errors"]] == [
        ("/scenario", "unknown_scenario"),
        ("/sides/1/member_ids", "no_players"),
        ("/sides/0/roster_id", "not_the_owners_side"),
    ]


def test_an_unknown_key_is_refused(club, planned, member, call):
    answer = call(member).post(at(club, "games/"), planned(seed="00" * 32))
    assert (answer.status_code, answer.data["errors"][0]["pointer"]) == (400, "/seed")


def test_a_ruleset_of_another_club_is_unknown(club, planned, member, other_club, call):
    from tests import factories

    foreign = factories.EditionFactory(ruleset__club=other_club).ruleset
    answer = call(member).post(at(club, "games/"), planned(ruleset=foreign.pk))
    assert (answer.status_code, answer.data["errors"][0]["pointer"]) == (400, "/ruleset")


def test_a_report_is_filed_once_however_often_it_is_sent(club, game, member, call):
    sent = body()
    first, second = (call(member).post(at(club, f"games/{game.pk}/reports/"), sent) for _time in range(2))
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.data == second.data
    assert Report.objects.count() == 1


def test_the_same_submission_with_another_body_is_a_conflict(club, game, member, call):
    sent = body()
    call(member).post(at(club, f"games/{game.pk}/reports/"), sent)
    answer = call(member).post(at(club, f"games/{game.pk}/reports/"), {**sent, "notes": "Another."})
    assert answer.status_code == 409


def test_a_report_tells_all_its_faults_with_their_places(club, game, member, roster, call):
    reeds = roster.units.get(name="First reeds").pk
    sent = body(
        rounds_played=99,
        sides=[
            {"position": 1, "score": 50, "casualties": [{"unit_id": reeds, "figures_lost": 9}]},
            {"position": 2, "objectives": {"no_such": 1}},
        ],
    )
    answer = call(member).post(at(club, f"games/{game.pk}/reports/"), sent)
    assert answer.status_code == 422
    assert answer["Content-Type"] == "application/problem+json"
    assert [each["pointer"] for each in answer.data["errors"]] == [
        "/rounds_played",
        "/sides/0/score",
        "/sides/1/objectives/no_such",
        "/sides/0/casualties/0",
    ]


def test_a_full_report_reads_back_as_it_was_sent(club, game, member, roster, call):
    reeds = roster.units.get(name="First reeds").pk
    sides = [
        {
            "position": 1,
            "objectives": {"flags": 2},
            "casualties": [{"unit_id": reeds, "figures_lost": 3, "routed": True}],
        },
        {"position": 2, "score": 2, "conceded": True},
    ]
    made = call(member).post(
        at(club, f"games/{game.pk}/reports/"), body(sides=sides, rounds_played=6, markers_peak=11, is_full=True)
    )
    read = call(member).get(at(club, f"reports/{made.data['id']}/")).data
    first, second = read["sides"]
    assert (read["state"], read["rounds_played"], read["markers_peak"], read["is_full"]) == ("awaiting", 6, 11, True)
    assert (first["score"], first["objectives"], first["outcome"]) == (4, {"flags": 2}, "win")
    assert (second["score"], second["conceded"], second["outcome"]) == (2, True, "loss")
    line = first["casualties"][0]
    assert (line["unit_id"], line["figures_lost"], line["routed"], line["dice_wanted"]) == (reeds, 3, True, 3)


def test_a_whole_game_is_logged_in_one_request(club, planned, member, call):
    sent = planned()
    sent["sides"] = [{**sent["sides"][0], "score": 5}, {**sent["sides"][1], "score": 2}]
    first, second = (call(member).post(at(club, "game-log/"), sent) for _time in range(2))
    assert (first.status_code, second.status_code) == (201, 200)
    assert [side["outcome"] for side in first.data["sides"]] == ["win", "loss"]
    assert (Game.objects.count(), Report.objects.count()) == (1, 1)


def test_a_logged_game_tells_the_faults_of_plan_and_report_together(club, planned, member, call):
    sent = planned(on="2099-01-01")
    sent["sides"] = [{"member_ids": [member.pk], "score": 50}, {"member_ids": [member.pk], "score": 2}]
    answer = call(member).post(at(club, "game-log/"), sent)
    assert answer.status_code == 422
    assert [(each["pointer"], each["code"]) for each in answer.data["errors"]] == [
        ("/sides", "plays_twice"),
        ("/on", "in_the_future"),
        ("/sides/0/score", "score_above_most"),
    ]
    assert not Game.objects.exists()


def test_a_correction_shows_in_the_history(club, report, member, call):
    answer = call(member).post(
        at(club, f"reports/{report.pk}/corrections/"), {**body(), "reason": "Nobody fell", "is_full": True}
    )
    assert answer.status_code == 201
    latest, first = answer.data["history"]
    assert (latest["reason"], first["state"]) == ("Nobody fell", "superseded")
    assert latest["changes"] == [{"what": "First reeds", "before": "3 figures lost", "after": ""}]


def test_a_corrected_report_names_its_correction_in_the_list(club, report, member, call):
    made = call(member).post(at(club, f"reports/{report.pk}/corrections/"), {**body(), "reason": "Nobody fell"})
    listed = call(member).get(at(club, "reports/")).data["results"]
    assert [(each["id"], each["state"], each["correction"]) for each in listed] == [
        (made.data["id"], "awaiting", None),
        (report.pk, "superseded", made.data["id"]),
    ]


def test_the_seed_is_in_no_answer_before_the_draw(club, report, game, member, call):
    game.refresh_from_db()
    paths = ["games/", f"games/{game.pk}/", "reports/", f"reports/{report.pk}/"]
    assert not any(game.seed in call(member).get(at(club, path)).content.decode() for path in paths)
    assert call(member).get(at(club, f"reports/{report.pk}/")).data["seed_hash"] == game.seed_hash


def test_the_seed_comes_with_the_dice_that_were_drawn(club, report, game, member, call):
    answer = call(member).post(at(club, f"reports/{report.pk}/draw/")).data
    game.refresh_from_db()
    line = answer["sides"][0]["casualties"][0]
    assert (answer["seed"], line["source"], len(line["dice"]), line["is_checked"]) == (game.seed, "drawn", 3, True)


def test_dice_from_the_table_are_entered(club, report, member, call):
    line = call(member).get(at(club, f"reports/{report.pk}/")).data["sides"][0]["casualties"][0]
    sent = {"rolls": [{"casualty": line["id"], "results": [1, 3, 6]}]}
    answer = call(member).post(at(club, f"reports/{report.pk}/rolls/"), sent).data
    assert answer["sides"][0]["casualties"][0]["fates"] == [
        "1 lost for good",
        "1 misses the next game",
        "1 back for the next game",
    ]


def test_wrong_dice_are_refused_at_their_place(club, report, member, call):
    line = call(member).get(at(club, f"reports/{report.pk}/")).data["sides"][0]["casualties"][0]
    sent = {"rolls": [{"casualty": line["id"], "results": [1, 9, 6]}]}
    answer = call(member).post(at(club, f"reports/{report.pk}/rolls/"), sent)
    assert (answer.status_code, answer.data["errors"][0]["pointer"]) == (422, "/rolls/0")


@pytest.mark.parametrize(
    ("query", "count"),
    [("", 2), ("?state=awaiting", 1), ("?state=planned", 1), ("?mine=true", 2)],
)
def test_games_are_narrowed_by_filters(query, count, club, report, plan, member, call):
    plan()
    assert len(call(member).get(at(club, f"games/{query}")).data["results"]) == count


def test_an_unknown_filter_is_refused(club, member, call):
    assert call(member).get(at(club, "games/?winner=me")).status_code == 400


def test_reports_are_narrowed_to_days(club, report, member, call):
    found = [
        len(call(member).get(at(club, f"reports/?fought_from={day}")).data["results"])
        for day in ("2026-03-19", "2026-03-20")
    ]
    assert found == [1, 0]


@pytest.mark.parametrize(("path", "queries"), [("games/", 10), ("reports/", 7)])
@pytest.mark.parametrize("count", [1, 3])
def test_lists_take_as_many_queries_for_one_as_for_three(
    count, path, queries, club, plan, claim, member, call, django_assert_num_queries
):
    for number in range(count):
        file_report(plan(on=date(2026, 3, 1 + number)), claim=claim(), submission=uuid4(), by=member)
    client = call(member)
    with django_assert_num_queries(queries):
        assert len(client.get(at(club, path)).data["results"]) == count
