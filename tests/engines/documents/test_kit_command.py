from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

MANAGE = Path(__file__).resolve().parents[3] / "manage.py"


@pytest.fixture
def file_of(tmp_path):
    def write(document) -> str:
        path = tmp_path / "night.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        return str(path)

    return write


def kit(*arguments) -> str:
    out = io.StringIO()
    call_command("kit", *arguments, stdout=out)
    return out.getvalue()


# These tests do not ask for the database, so pytest-django blocks it: a query would fail them.


def test_needs_packing_and_shortfalls_are_printed_with_their_reasons(thursday, file_of):
    lines = kit(file_of(thursday)).splitlines()
    assert lines[:11] == [
        "Thursday",
        "",
        "By the window needs",
        "    2  Tokens (East)",
        "         One for each of 2 units.",
        "    1  Tokens (West)",
        "         One for each of 1 unit.",
        "   12  Dice",
        "         Company: 12 figures roll together: 12 dice.",
        "         The sides use the same, in turn.",
        "",
    ]
    assert lines[lines.index("Quenna brings") + 1] == "    2  Red tokens, for By the window: Tokens (East)"
    assert lines[lines.index("At the venue") + 1] == "   12  White dice, for By the window: Dice"
    assert lines[lines.index("Missing") + 1] == "    2  Tea, for t2"
    assert lines[-1] == "         It must be bought."


def test_a_night_that_lacks_nothing_says_so(thursday, file_of):
    del thursday["tables"][1]
    assert kit(file_of(thursday)).endswith("\n\nNothing is missing.\n")


def test_json_has_needs_packing_shortfalls_and_what_is_proven(thursday, file_of):
    printed = json.loads(kit(file_of(thursday), "--json"))
    assert [(each["demand"], each["count"]) for each in printed["needs"]] == [
        ("t1/tokens/east", 2),
        ("t1/tokens/west", 1),
        ("t1/dice", 12),
        ("t2/tea", 2),
    ]
    assert {(each["person"], each["holding"], each["count"], each["table"]) for each in printed["packing"]} == {
        ("quenna", "red", 2, "t1"),
        ("ulmar", "blue", 1, "t1"),
        (None, "dice", 12, "t1"),
    }
    assert [(each["demand"], each["missing"], each["otherwise"]) for each in printed["shortfalls"]] == [
        ("t2/tea", 2, "buy")
    ]
    assert all(each["proof"] != "open" for each in printed["measures"])


def test_a_file_with_faults_is_refused_with_all_of_them(thursday, file_of):
    thursday["holdings"][0]["count"] = -1
    thursday["people"][0]["id"] = ""
    with pytest.raises(CommandError) as refusal:
        kit(file_of(thursday))
    assert "is not a night in order" in str(refusal.value)
    assert "/holdings/0/count" in str(refusal.value) and "/people/0/id" in str(refusal.value)


def test_a_file_that_is_not_there_is_refused():
    with pytest.raises(CommandError, match="cannot be read"):
        kit("nowhere.json")


def test_a_file_that_is_no_json_is_refused(tmp_path):
    path = tmp_path / "night.json"
    path.write_bytes(b"{")
    with pytest.raises(CommandError, match="not JSON"):
        kit(str(path))


def run(tmp_path, data):
    return subprocess.run(
        [sys.executable, str(MANAGE), "kit", "-", "--json"],
        input=data,
        env={**os.environ, "DRUMHEAD_DATA": str(tmp_path / "data")},
        capture_output=True,
        check=False,
    )


def test_the_command_runs_from_standard_input_and_leaves_no_database_behind(thursday, tmp_path):
    outcome = run(tmp_path, json.dumps(thursday).encode())
    assert outcome.returncode == 0, outcome.stderr
    assert json.loads(outcome.stdout)["night"] == "Thursday"
    assert not (tmp_path / "data" / "drumhead.sqlite3").exists()


def test_a_refusal_ends_with_a_code_and_no_traceback(tmp_path):
    outcome = run(tmp_path, b"[]")
    assert (outcome.returncode, outcome.stdout) == (1, b"")
    assert b"Traceback" not in outcome.stderr


# --- buying ---------------------------------------------------------------------------


@pytest.fixture
def with_packs(thursday):
    """Two bags of tea are missing at the second table; tea is sold one by one, or three together."""
    tea = next(need for table in thursday["tables"] for need in table.get("needs", ()) if need["key"] == "tea")
    piece = {name: value for name, value in tea["wanted"].items() if name in ("category", "use")}
    thursday["offers"] = [
        {"id": "one", "name": "A bag of tea", "piece": piece, "pieces": 1, "price_pence": 90},
        {"id": "three", "name": "Three bags of tea", "piece": piece, "pieces": 3, "price_pence": 150},
    ]
    return thursday


def test_what_to_buy_is_printed_with_what_it_costs(with_packs, file_of):
    lines = kit(file_of(with_packs)).splitlines()
    start = lines.index("To buy, for 1.50")
    assert lines[start + 1 : start + 5] == [
        "    1  Three bags of tea (3 for 1.50): 1.50",
        "         2 for Tea",
        "         1 left over",
        "         2 packs would serve; no choice leaves less missing, or as little for less money.",
    ]


def test_a_budget_too_small_says_what_stays_missing(with_packs, file_of):
    with_packs["budget_pence"] = 100
    told = json.loads(kit(file_of(with_packs), "--json"))["purchase"]
    assert [(each["offer"], each["packs"]) for each in told["packs"]] == [("one", 1)]
    assert told["packs"][0]["why"].startswith("2 packs would serve")
    assert [(each["demand"], each["missing"]) for each in told["still_missing"]] == [("t2/tea", 1)]
    assert (told["cost_pence"], told["budget_pence"], told["proven"]) == (90, 100, True)


def test_packs_named_twice_are_refused(with_packs, file_of):
    with_packs["offers"][1]["id"] = "one"
    with pytest.raises(CommandError, match="Another pack has this id"):
        kit(file_of(with_packs))
