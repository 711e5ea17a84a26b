"""SQLite is set so that nothing is lost, and its known flaw is stepped around."""

from __future__ import annotations

import sqlite3

import pytest
from django.db import connection

from league import sqlite

# sqlite.org/wal.html, "The WAL-reset bug": present from 3.7.0 to 3.51.2, mended in 3.51.3, 3.50.7 and 3.44.6.
AFFECTED = [(3, 7, 0), (3, 40, 1), (3, 44, 5), (3, 45, 0), (3, 50, 6), (3, 51, 2)]
SOUND = [(3, 6, 23), (3, 44, 6), (3, 44, 7), (3, 50, 7), (3, 51, 3), (3, 53, 4)]


@pytest.mark.parametrize("version", AFFECTED)
def test_an_affected_version_gets_the_rollback_journal(version):
    assert "journal_mode=TRUNCATE" in sqlite.options(version)["init_command"]


@pytest.mark.parametrize("version", SOUND)
def test_a_sound_version_gets_the_write_ahead_log(version):
    assert "journal_mode=WAL" in sqlite.options(version)["init_command"]


@pytest.mark.parametrize("version", [AFFECTED[0], SOUND[-1]])
def test_every_version_waits_its_turn_and_reaches_the_disk(version):
    options = sqlite.options(version)
    assert (options["transaction_mode"], options["timeout"]) == ("IMMEDIATE", 20)
    assert "synchronous=FULL" in options["init_command"]


@pytest.mark.django_db
def test_the_running_connection_keeps_foreign_keys_and_full_sync():
    if connection.vendor != "sqlite":
        pytest.skip("the running database is not SQLite")
    with connection.cursor() as cursor:
        settings = [cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in ("foreign_keys", "synchronous")]
    assert settings == [1, 2]


def test_the_bundled_sqlite_replaces_an_affected_one():
    pytest.importorskip("pysqlite3", reason="this platform has no wheel of the bundled SQLite")
    assert sqlite.wal_is_sound(sqlite3.sqlite_version_info)
