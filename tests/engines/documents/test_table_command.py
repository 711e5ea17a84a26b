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
        path = tmp_path / "season.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        return str(path)

    return write


def table(*arguments, **options) -> str:
    out = io.StringIO()
    call_command("table", *arguments, stdout=out, **options)
    return out.getvalue()


# These tests do not ask for the database, so pytest-django blocks it: a query would fail them.


def test_the_table_prints_every_value_in_columns(spring, file_of):
    assert table(file_of(spring)).splitlines() == [
        "#  name     played  won  drawn  lost  unplayed  points  score_difference",
        "1  Brannoc       1    1      0     0         1       6                 5",
        "2  Ceriden       2    1      0     1         0       3                 0",
        "3  Gorran        1    0      0     1         1       3                -5",
    ]


def test_a_look_back_prints_the_table_as_it_stood(spring, file_of):
    rows = json.loads(table(file_of(spring), "--json", "--round", "1"))
    assert [(row["rank"], row["entrant"], row["points_x2"]) for row in rows] == [
        (1, "brannoc", 6),
        (2, "gorran", 6),
        (3, "ceriden", 0),
    ]
    assert json.loads(table(file_of(spring), "--json", "--date", "2026-01-31")) == rows


def test_reasons_name_round_game_and_opponent(spring, file_of):
    lines = table(file_of(spring), "--explain", "ceriden").splitlines()
    assert lines == [
        "points 3",
        "         0  loss  round 1, game r1-1, opponent brannoc",
        "         3  win  round 2, game r2-1, opponent gorran",
        "score_difference 0",
        "        -5  loss  round 1, game r1-1, opponent brannoc",
        "         5  win  round 2, game r2-1, opponent gorran",
    ]


def test_points_per_game_get_a_column_when_they_rank(spring, file_of):
    spring["rules"]["rank_by"] = "points_per_game"
    assert "per game" in table(file_of(spring)).splitlines()[0]


def test_an_unknown_entrant_has_no_reasons(spring, file_of):
    with pytest.raises(CommandError, match="no entrant 'ulmar'"):
        table(file_of(spring), "--explain", "ulmar")


def test_every_fault_of_the_file_is_listed(spring, file_of):
    spring["name"] = ""
    spring["games"][0]["round"] = -1
    with pytest.raises(CommandError) as failure:
        table(file_of(spring))
    assert "/name: This must not be blank." in str(failure.value)
    assert "/games/0/round: This must be 0 or more; it is -1." in str(failure.value)


def test_a_file_that_is_not_there_is_said_so(tmp_path):
    with pytest.raises(CommandError, match="cannot be read"):
        table(str(tmp_path / "nothing.json"))


@pytest.mark.parametrize(("broken", "status"), [(False, 0), (True, 1)])
def test_the_exit_status_tells_a_shell_how_it_went(spring, file_of, tmp_path, broken, status):
    if broken:
        del spring["rules"]
    outcome = subprocess.run(
        [sys.executable, str(MANAGE), "table", file_of(spring)],
        env={**os.environ, "DRUMHEAD_DATA": str(tmp_path / "data")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert outcome.returncode == status, outcome.stderr
    assert not (tmp_path / "data" / "drumhead.sqlite3").exists()
