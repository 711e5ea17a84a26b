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
        path = tmp_path / "map.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        return str(path)

    return write


def supply(*arguments) -> str:
    out = io.StringIO()
    call_command("supply", *arguments, stdout=out)
    return out.getvalue()


# These tests do not ask for the database, so pytest-django blocks it: a query would fail them.


def test_every_force_is_told_what_it_gets_and_why_no_more(weir_war, file_of):
    assert supply(file_of(weir_war)).splitlines() == [
        "Not ready for a war: No source of supply is held by The Bargees.",
        "",
        "The Irregulars",
        "order  force                    need  sent  arrived     state",
        "    1  Vanguard in Weir Quay       5     3     2.55     short",
        "    2  Rear Guard in Millstone     4     4     3.80  supplied",
        "Vanguard is short: the road from Millstone to Weir Quay is full.",
        "",
        "The Wardens",
        "order  force                        need  sent  arrived    state",
        "    1  Lost Company in Harrow Ford     2     0     0.00  cut off",
        "    1  Tor Watch in Tor                6     4     4.00    short",
        "Lost Company is cut off: Harrow Ford blocks (held by The Irregulars).",
        "Tor Watch is short: nothing is left in Tor.",
        "",
        "The Bargees",
        "No forces.",
        "",
        "       faction  stock in     held  produced  sent  kept  spoilt on the way",
        "The Irregulars  Harrow Ford     6         4     7     3               0.65",
        "   The Wardens  Tor             1         3     4     0               0.00",
        "",
        "Sent from Harrow Ford to Millstone: 1 of 5, of which 0.95 arrived.",
    ]


def test_json_says_everything(weir_war, file_of):
    told = json.loads(supply(file_of(weir_war), "--json"))
    assert [(each["force"], each["state"], each["loads"]) for each in told["forces"]] == [
        ("van", "short", 3),
        ("rear", "supplied", 4),
        ("lost", "cut_off", 0),
        ("watch", "short", 4),
    ]
    van = next(each for each in told["deliveries"] if each["force"] == "van")
    assert [step["road"] for step in van["steps"]] == ["ford-mill", "lane"]
    assert (van["loss_x100"], van["arrived_x100"], van["spoilt_x100"]) == (15, 255, 45)
    assert told["forces"][0]["why"]["full_roads"] == ["lane"]
    assert told["sendings"][0]["loads"] == 1


def test_a_map_on_which_no_war_could_start_is_supplied_with_a_warning(weir_war, file_of):
    weir_war["roads"] = weir_war["roads"][:2]
    assert "Not ready for a war: No road leads from the rest of the map to Weir Quay." in supply(file_of(weir_war))


def test_a_map_without_factions_says_so(weir_war, file_of):
    bare = {name: weir_war[name] for name in ("format", "name", "regions", "roads")}
    assert supply(file_of(bare)) == "There is no faction on this map.\n"


def test_every_fault_of_the_file_is_listed(weir_war, file_of):
    weir_war["forces"][0]["region"] = "moon"
    weir_war["roads"][0]["b"] = "ford"
    with pytest.raises(CommandError) as failure:
        supply(file_of(weir_war))
    assert "/roads/0/b: The road ford-mill leads from Harrow Ford to itself." in str(failure.value)
    assert "/forces/0/region: There is no region moon on the map." in str(failure.value)


def test_a_file_that_is_not_there_is_said_so(tmp_path):
    with pytest.raises(CommandError, match="cannot be read"):
        supply(str(tmp_path / "nothing.json"))


def test_nothing_but_json_reaches_standard_output(weir_war, file_of, tmp_path):
    outcome = subprocess.run(
        [sys.executable, str(MANAGE), "supply", file_of(weir_war), "--json"],
        env={**os.environ, "DRUMHEAD_DATA": str(tmp_path / "data")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert outcome.returncode == 0, outcome.stderr
    assert len(json.loads(outcome.stdout)["forces"]) == 4
    assert not (tmp_path / "data" / "drumhead.sqlite3").exists()
