"""Ratings and forecasts of a season file, from the shell and without a database."""

from __future__ import annotations

import io
import json
from copy import deepcopy

import pytest
from django.core.management import CommandError, call_command

# These tests do not ask for the database, so pytest-django blocks it: a query would fail them.


@pytest.fixture
def autumn():
    """Four entrants, two rounds played, the last one open. Brannoc has two wins."""

    def game(key, number, *sides):
        return {
            "id": key,
            "round": number,
            "sides": [{"entrant": name} | ({} if score is None else {"score": score}) for name, score in sides],
        }

    return {
        "format": "drumhead season 1",
        "name": "Autumn on the Sedge",
        "starts_on": "2025-09-01",
        "seed": "autumn",
        "rules": {"scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0}, "tie_breaks": [{"name": "score_difference"}]},
        "entrants": [{"id": name.lower(), "name": name} for name in ("Brannoc", "Ceriden", "Gorran", "Ulmar")],
        "rounds": [{"number": 1, "on": "2025-09-12"}, {"number": 2, "on": "2025-10-12"}, {"number": 3}],
        "games": [
            game("1a", 1, ("brannoc", 9), ("ceriden", 4)),
            game("1b", 1, ("gorran", 5), ("ulmar", 5)),
            game("2a", 2, ("brannoc", 9), ("gorran", 4)),
            game("2b", 2, ("ceriden", 3), ("ulmar", 2)),
            game("3a", 3, ("brannoc", None), ("ulmar", None)),
            game("3b", 3, ("ceriden", None), ("gorran", None)),
        ],
    }


@pytest.fixture
def run(tmp_path):
    def command(name, document, *arguments, **options) -> str:
        path = tmp_path / "season.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        out = io.StringIO()
        call_command(name, str(path), *arguments, stdout=out, **options)
        return out.getvalue()

    return command


def aims(told, aim="title"):
    return {row["entrant"]: row["aims"][aim] for row in told["entrants"]}


def finished(document):
    """The same with the last round played: Ulmar beats Brannoc, Ceriden beats Gorran."""
    over = deepcopy(document)
    for game, scores in zip(over["games"][4:], ((1, 7), (8, 2)), strict=True):
        for side, score in zip(game["sides"], scores, strict=True):
            side["score"] = score
    return over


# --- rate --------------------------------------------------------------------------------------


def test_ratings_are_printed_best_first(run, autumn):
    lines = run("rate", autumn).splitlines()
    assert lines[0].split() == ["#", "name", "rating", "deviation", "games"]
    assert [line.split()[1] for line in lines[1:5]] == ["Brannoc", "Ceriden", "Gorran", "Ulmar"]


def test_the_months_of_the_rounds_are_the_rating_periods(run, autumn):
    told = json.loads(run("rate", autumn, "--json"))
    assert [step["month"] for step in told["ratings"][0]["curve"]] == ["2025-09", "2025-10"]


def test_a_game_of_three_sides_is_rated_apart(run, autumn):
    sides = [{"entrant": name, "score": score} for name, score in (("ulmar", 9), ("gorran", 4), ("ceriden", 6))]
    autumn["games"].append({"id": "free", "round": 0, "sides": sides})
    told = json.loads(run("rate", autumn, "--json"))
    assert [row["entrant"] for row in told["many_sided"]] == ["ulmar", "ceriden", "gorran"]
    assert {row["games"] for row in told["ratings"]} == {2}


def test_disputed_games_byes_and_forfeits_say_nothing_about_strength(run, autumn):
    autumn["games"] = [
        autumn["games"][0] | {"report": "disputed"},
        {"id": "bye", "round": 1, "sides": [{"entrant": "gorran", "unplayed": "bye"}]},
        {
            "id": "away",
            "round": 2,
            "sides": [
                {"entrant": "gorran", "unplayed": "forfeit_win"},
                {"entrant": "ulmar", "unplayed": "forfeit_loss"},
            ],
        },
    ]
    assert run("rate", autumn).strip() == "No game counts yet."


# --- forecast ------------------------------------------------------------------------------------


def test_few_possible_seasons_are_all_counted(run, autumn):
    told = json.loads(run("forecast", autumn, "--json"))
    assert told["simulations"] == 0
    assert sum(each["chance"] for each in aims(told).values()) == pytest.approx(1)


def test_who_is_through_and_who_is_out_is_told_for_certain(run, autumn):
    """Six points lead three with one game to play: a lost last game can still be caught up with, but not overtaken."""
    verdicts = {name: each["verdict"] for name, each in aims(json.loads(run("forecast", autumn, "--json"))).items()}
    assert verdicts == {"brannoc": "through_or_level", "ceriden": "level_at_best", "gorran": "out", "ulmar": "out"}


def test_drawn_seasons_agree_with_the_counted_ones_within_their_error(run, autumn):
    counted = aims(json.loads(run("forecast", autumn, "--json")))
    drawn = aims(json.loads(run("forecast", autumn, "--json", simulations=20_000)))
    for entrant, each in drawn.items():
        assert abs(each["chance"] - counted[entrant]["chance"]) <= 4 * each["error"]


def test_the_seed_of_the_season_makes_the_odds_the_same_again(run, autumn):
    first, second = (run("forecast", autumn, "--json", simulations=500) for _each in range(2))
    assert first == second
    assert run("forecast", autumn, "--json", simulations=500, seed=7) != first


def test_the_forecast_of_a_finished_season_is_certain_and_agrees_with_its_table(run, autumn):
    """Brannoc and Ceriden end level on six points; score differences of 4 and 2 part them."""
    told = json.loads(run("forecast", finished(autumn), "--json"))
    assert [row["entrant"] for row in told["entrants"]] == ["brannoc", "ceriden", "ulmar", "gorran"]
    assert [row["places"].index(1) for row in told["entrants"]] == [0, 1, 2, 3]
    assert aims(told)["brannoc"]["verdict"] == "through"


def test_those_level_on_everything_share_the_chance_of_their_places(run, autumn):
    over = finished(autumn)
    over["rules"]["tie_breaks"] = []
    told = aims(json.loads(run("forecast", over, "--json")))
    assert (told["brannoc"]["chance"], told["brannoc"]["verdict"]) == (0.5, "level")


def test_a_round_that_stands_empty_is_one_still_to_be_drawn(run, autumn):
    autumn["games"] = autumn["games"][:4]
    assert json.loads(run("forecast", autumn, "--json"))["rounds_to_draw"] == 1


def test_of_a_round_robin_the_games_not_listed_yet_are_known(run, autumn):
    autumn["pairing"] = {"format": "round_robin"}
    autumn["games"] = autumn["games"][:4]
    told = json.loads(run("forecast", autumn, "--json"))
    assert (told["open_games"], told["rounds_to_draw"]) == (2, 0)


def test_of_swiss_rounds_as_many_are_to_be_drawn_as_the_season_has_left(run, autumn):
    autumn["pairing"] = {"format": "swiss", "rounds": 5}
    told = json.loads(run("forecast", autumn, "--json"))
    assert (told["open_games"], told["rounds_to_draw"]) == (2, 2)


def test_a_disputed_game_is_open_and_one_struck_out_is_not(run, autumn):
    autumn["games"][0]["report"] = "disputed"
    autumn["games"][1]["report"] = "void"
    assert json.loads(run("forecast", autumn, "--json"))["open_games"] == 3


def test_promotion_and_staying_up_are_foretold_by_division(run, autumn):
    autumn["divisions"] = [{"id": "first", "name": "First", "level": 1, "promotes": 0, "relegates": 1}]
    for each in autumn["entrants"]:
        each["division"] = "first"
    told = json.loads(run("forecast", autumn, "--json", division="first"))
    staying = aims(told, "staying_up")
    assert {each["places"] for each in staying.values()} == {3}
    assert staying["brannoc"]["verdict"] == "through"


def test_a_knockout_is_foretold_from_its_bracket(run, autumn):
    """Four seeds, the semi-finals played: the two winners share what is left of the title between them."""
    autumn["pairing"] = {"format": "knockout"}
    autumn["adjustments"] = []
    for number, each in enumerate(autumn["entrants"], start=1):
        each["seed"] = number
    first, second, third, fourth = (each["id"] for each in autumn["entrants"])
    autumn["games"] = [
        {"id": "a", "round": 1, "sides": [{"entrant": first, "score": 9}, {"entrant": fourth, "score": 4}]},
        {"id": "b", "round": 1, "sides": [{"entrant": second, "score": 3}, {"entrant": third, "score": 8}]},
    ]
    told = json.loads(run("forecast", autumn, "--json"))
    assert {key: each["verdict"] for key, each in aims(told, "final").items()} == {
        first: "through",
        third: "through",
        second: "out",
        fourth: "out",
    }
    title = aims(told, "title")
    assert title[first]["chance"] + title[third]["chance"] == pytest.approx(1)


@pytest.mark.parametrize("pairing", [{"format": "ladder"}, {"format": "open"}])
def test_a_season_in_which_anybody_may_still_play_anybody_is_not_foretold(run, autumn, pairing):
    autumn["pairing"] = pairing
    with pytest.raises(CommandError, match="forecast"):
        run("forecast", autumn)


def test_open_games_of_three_sides_are_not_foretold(run, autumn):
    autumn["games"][4]["sides"].append({"entrant": "ceriden"})
    autumn["games"].pop()
    with pytest.raises(CommandError, match="more than two sides"):
        run("forecast", autumn)


@pytest.mark.parametrize("number", [0, 1_000_001])
def test_a_number_of_seasons_out_of_bounds_is_refused(run, autumn, number):
    with pytest.raises(CommandError, match="Between 1 and 1,000,000"):
        run("forecast", autumn, simulations=number)
