from __future__ import annotations

import copy
import json
from datetime import date

import pytest
from jsonschema import Draft202012Validator

from league.engines.documents.reading import MOST_BYTES, BadDocument, parse, schema_of
from league.engines.documents.season import dump, read_rules, read_season, standings_of, write_rules, write_season


def faults(document) -> list[str]:
    with pytest.raises(BadDocument) as refusal:
        read_season(document)
    return [str(fault) for fault in refusal.value.faults]


def points(document, **when) -> dict[str, int]:
    return {row.entrant_id: row.points_x2 for row in standings_of(read_season(document), **when).rows}


# --- the schema -----------------------------------------------------------------


def test_the_schema_is_sound_by_its_own_standard():
    Draft202012Validator.check_schema(schema_of("season"))


def described(schema, place=""):
    if isinstance(schema, dict):
        if "properties" in schema:
            for name, inner in schema["properties"].items():
                if "description" not in inner:
                    yield f"{place}/{name}"
        for name, inner in schema.items():
            yield from described(inner, f"{place}/{name}")


def test_every_property_is_described():
    assert list(described(schema_of("season"))) == []


def test_what_is_written_satisfies_the_schema(spring):
    written = write_season(read_season(spring))
    assert list(Draft202012Validator(schema_of("season")).iter_errors(written)) == []


# --- reading ---------------------------------------------------------------------


def test_everything_wrong_is_said_at_once_with_its_place(spring):
    spring["name"] = " "
    spring["colour"] = "red"
    spring["starts_on"] = "20260115"
    del spring["rules"]["scheme"]["win_x2"]
    spring["entrants"][0]["players"] = [7]
    spring["games"][0]["sides"][1]["score"] = -1
    assert faults(spring) == [
        "Unknown here: 'colour'.",
        "/name: This must not be blank.",
        "/starts_on: This must be a day as YYYY-MM-DD; it is '20260115'.",
        "/rules/scheme: 'win_x2' is missing.",
        "/entrants/0/players/0: This must be text.",
        "/games/0/sides/1/score: This must be 0 or more; it is -1.",
    ]


def test_what_no_schema_sees_is_said_at_once_too(spring):
    spring["ends_on"] = "2026-01-01"
    spring["entrants"].append({"id": "gorran", "name": "Gorran"})
    spring["rounds"].append({"number": 2})
    spring["games"][1]["sides"][0]["entrant"] = "nobody"
    spring["games"][2]["round"] = 1
    spring["games"][3]["round"] = 9
    spring["games"][3]["id"] = "r1-1"
    spring["adjustments"] = [{"entrant": "ulmar", "points_x2": -2, "reason": "late"}]
    assert faults(spring) == [
        "/ends_on: The season ends before it starts.",
        "/entrants/3/id: Another entrant has this id.",
        "/entrants/3/name: Another entrant has this name.",
        "/rounds/2/number: Another round has this number.",
        "/games/3/id: Another game has this id.",
        "/games/3/round: There is no round 9.",
        "/games/1/sides/0/entrant: There is no such entrant.",
        "/games/2/sides: ceriden is also in game r1-1 of round 1.",
        "/adjustments/0/entrant: There is no such entrant.",
    ]


@pytest.mark.parametrize(
    ("sides", "words"),
    [
        ([{"entrant": "brannoc"}], "Nobody plays alone: a single side is a bye, a forfeit or an absence."),
        ([{"entrant": "brannoc", "outcome": "win"}, {"entrant": "ceriden", "outcome": "win"}], "cannot both be"),
        ([{"entrant": "brannoc", "score": 4}, {"entrant": "ceriden"}], "neither score nor outcome"),
        ([{"entrant": "brannoc", "outcome": "win"}, {"entrant": "ceriden"}], "neither an outcome nor a score"),
        ([{"entrant": "brannoc", "unplayed": "bye"}, {"entrant": "ceriden", "unplayed": "bye"}], "a game of one side"),
        ([{"entrant": "brannoc", "score": 1}, {"entrant": "brannoc", "score": 2}], "brannoc is on 2 sides."),
        ([{"entrant": "brannoc", "unplayed": "bye", "score": 3}], "has no outcome, no score"),
        ([{"entrant": "brannoc"}, {"entrant": "ceriden", "unplayed": "forfeit_loss"}], "say that it won by forfeit"),
        (
            [{"entrant": "brannoc", "unplayed": "forfeit_win"}, {"entrant": "ceriden", "unplayed": "forfeit_win"}],
            "Both sides cannot win by forfeit.",
        ),
    ],
)
def test_a_game_that_cannot_be_is_refused(spring, sides, words):
    spring["games"] = [{"id": "g", "round": 1, "sides": sides}]
    assert any(words in fault for fault in faults(spring))


@pytest.mark.parametrize(
    ("tie_break", "words"),
    [
        ({"name": "buchholz", "wait": True}, "/rules/tie_breaks/0/wait: This is no option of buchholz."),
        ({"name": "count_total"}, "/rules/tie_breaks/0: 'count' is missing."),
    ],
)
def test_an_option_belongs_to_its_tie_break(spring, tie_break, words):
    spring["rules"]["tie_breaks"] = [tie_break]
    assert faults(spring) == [words]


def test_the_same_tie_break_twice_is_refused(spring):
    spring["rules"]["tie_breaks"] = [{"name": "wins"}, {"name": "wins"}]
    assert faults(spring) == ["/rules: The tie-break 'wins' is listed 2 times."]


@pytest.mark.parametrize("nothing", [None, [], "season", 7, {}])
def test_what_is_no_season_at_all_is_refused(nothing):
    assert faults(nothing)


@pytest.mark.parametrize("text", ["Bran\x00noc", "Bran\nnoc", "Bran\ud800noc"])
def test_a_name_holds_no_control_characters(spring, text):
    spring["entrants"][0]["name"] = text
    assert faults(spring) == ["/entrants/0/name: There is a character in this text that may not stand there."]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"{", "is not JSON"),
        (b'{"a": 1, "a": 2}', "'a' stands twice"),
        (b'{"a": NaN}', "NaN is not a number in JSON"),
        (b"\xff\xfe", "not UTF-8"),
        (b"[" * 100_000, "nested too deeply"),
        (b" " * (MOST_BYTES + 1), "larger than 20 MB"),
    ],
)
def test_bytes_that_are_no_json_are_refused_in_words(data, words):
    with pytest.raises(BadDocument, match=words):
        parse(data)


def test_outcomes_left_out_follow_the_scores(spring):
    season = read_season(spring)
    assert [side.outcome for side in season.games[0].sides] == ["win", "loss"]


def test_a_stated_outcome_stands_against_the_scores(spring):
    spring["games"][0]["sides"] = [
        {"entrant": "brannoc", "score": 12, "outcome": "draw"},
        {"entrant": "ceriden", "score": 11, "outcome": "draw"},
    ]
    assert points(spring)["ceriden"] == 2 + 6


def test_after_a_concession_one_side_may_have_no_score(spring):
    spring["games"][0]["sides"] = [
        {"entrant": "brannoc", "score": 12, "outcome": "win"},
        {"entrant": "ceriden", "outcome": "loss", "conceded": True},
    ]
    rows = {row.entrant_id: row for row in standings_of(read_season(spring)).rows}
    assert (rows["brannoc"].points_x2, rows["brannoc"].score_for) == (12, 0)


def test_rules_can_be_read_on_their_own(spring):
    rules = read_rules(spring["rules"], "spring")
    assert rules == read_season(spring).rules


def test_rules_on_their_own_are_refused_with_places_of_their_own(spring):
    spring["rules"]["scheme"]["win_x2"] = "3"
    with pytest.raises(BadDocument) as refusal:
        read_rules(spring["rules"], "spring")
    assert [fault.place for fault in refusal.value.faults] == ["/scheme/win_x2"]


def test_rules_written_are_rules_read(spring):
    rules = read_season(spring).rules
    assert read_rules(write_rules(rules, "confirmed"), "spring") == rules


# --- writing ---------------------------------------------------------------------


def test_a_written_season_reads_as_the_same_season(spring):
    season = read_season(spring)
    assert read_season(parse(dump(season))) == season


def test_the_order_of_keys_and_spaces_does_not_show(spring):
    shuffled = json.loads(json.dumps(spring, sort_keys=True))
    assert dump(read_season(shuffled)) == dump(read_season(spring))


def test_rounds_and_games_are_written_in_order(spring):
    spring["rounds"].reverse()
    spring["games"].reverse()
    written = write_season(read_season(spring))
    assert [each["number"] for each in written["rounds"]] == [1, 2]
    assert [each["id"] for each in written["games"]] == ["r1-2", "r1-1", "r2-2", "r2-1"]


def test_bytes_are_utf8_with_two_spaces_and_one_line_feed(spring):
    spring["entrants"][0]["name"] = "Brannóc"
    data = dump(read_season(spring))
    assert data.startswith(b'{\n  "format": "drumhead season 1",\n  "name"')
    assert "Brannóc".encode() in data
    assert data.endswith(b"}\n") and not data.endswith(b"\n\n")


# --- reckoning -------------------------------------------------------------------


def test_the_table_follows_the_games(spring):
    assert points(spring) == {"brannoc": 12, "ceriden": 6, "gorran": 6}


def test_a_look_back_by_round_leaves_later_rounds_out(spring):
    assert points(spring, through_round=1) == {"brannoc": 6, "ceriden": 0, "gorran": 6}


def test_a_look_back_by_day_uses_the_day_of_the_round_where_a_game_has_none(spring):
    assert points(spring, through_date=date(2026, 2, 4)) == {"brannoc": 6, "ceriden": 0, "gorran": 6}


def test_a_look_back_by_day_uses_the_day_of_the_game_before_that_of_its_round(spring):
    spring["games"][2]["on"] = "2026-01-30"
    assert points(spring, through_date=date(2026, 2, 4))["ceriden"] == 6


def test_what_has_no_day_counts_from_the_start_of_the_season(spring):
    spring["rounds"] = [{"number": 1}, {"number": 2}]
    assert points(spring, through_date=date(2026, 1, 15)) == points(spring)
    assert set(points(spring, through_date=date(2026, 1, 14)).values()) == {0}


@pytest.mark.parametrize(
    ("counts", "report", "counted"),
    [
        ("filed", "awaiting", True),
        ("filed", "confirmed", True),
        ("filed", "settled", True),
        ("filed", "disputed", False),
        ("filed", "void", False),
        ("confirmed", "awaiting", False),
        ("confirmed", "confirmed", True),
        ("confirmed", "settled", True),
        ("confirmed", "disputed", False),
        ("confirmed", "void", False),
    ],
)
def test_a_report_counts_by_its_state_and_the_rule_of_the_season(spring, counts, report, counted):
    spring["rules"]["counts"] = counts
    spring["games"][0]["report"] = report
    assert points(spring)["brannoc"] == (12 if counted else 6)


def test_a_game_not_yet_played_counts_nothing(spring):
    spring["games"][0]["sides"] = [{"entrant": "brannoc"}, {"entrant": "ceriden"}]
    assert points(spring) == {"brannoc": 6, "ceriden": 6, "gorran": 6}


def test_an_adjustment_counts_from_its_round_on(spring):
    spring["adjustments"] = [{"entrant": "brannoc", "points_x2": -3, "after_round": 2, "reason": "Came without dice"}]
    assert points(spring, through_round=1)["brannoc"] == 6
    assert points(spring)["brannoc"] == 9


def test_a_leaver_is_still_in_when_looking_back(spring):
    spring["rules"]["leavers"] = "annul"
    spring["entrants"][2]["left"] = {"after_round": 2, "on": "2026-02-10", "reason": "Moved away"}
    assert "gorran" not in points(spring)
    assert points(spring, through_round=1)["gorran"] == 6
    assert points(spring, through_date=date(2026, 2, 9))["gorran"] == 6


def test_open_play_lets_an_entrant_play_any_number_of_games(spring):
    game = spring["games"][0]
    spring["games"] = [{**copy.deepcopy(game), "id": f"open-{n}", "round": 0} for n in range(3)]
    assert points(spring)["brannoc"] == 18


def test_the_same_seed_draws_the_same_lots(spring):
    spring["rules"]["tie_breaks"] = [{"name": "drawn_lot"}]
    spring["games"] = []
    orders = {tuple(points({**spring, "seed": seed})) for seed in ["spring", "spring"]}
    assert len(orders) == 1
    assert len({tuple(points({**spring, "seed": str(n)})) for n in range(40)}) == 6
