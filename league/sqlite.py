"""Which SQLite runs beneath the site, and whether its write-ahead log can be trusted.

SQLite 3.7.0 to 3.51.2 can corrupt a database in WAL mode when a checkpoint races the commit that resets the log
(sqlite.org/wal.html, section on the WAL-reset bug; mended in 3.51.3 and, in their lines, 3.50.7 and 3.44.6).
"""

from __future__ import annotations

import sys

__all__ = ["prefer_bundled", "wal_is_sound"]

FIRST_SOUND = (3, 51, 3)
MENDED_LINES = {(3, 50): 7, (3, 44): 6}


def wal_is_sound(version: tuple[int, int, int]) -> bool:
    """Whether this SQLite version is free of the WAL-reset bug."""
    if version >= FIRST_SOUND or version < (3, 7, 0):
        return True
    mended_at = MENDED_LINES.get(version[:2])
    return mended_at is not None and version[2] >= mended_at


def prefer_bundled() -> tuple[int, int, int]:
    """Put the bundled SQLite in the standard library's place where its wheel is installed; return the version in use.

    Must run before Django first imports sqlite3.
    """
    try:
        import pysqlite3  # noqa: PLC0415 - optional: only some platforms have the wheel
    except ImportError:
        import sqlite3  # noqa: PLC0415 - the fallback
    else:
        sys.modules["sqlite3"] = sqlite3 = pysqlite3
        sys.modules["sqlite3.dbapi2"] = pysqlite3.dbapi2
    return sqlite3.sqlite_version_info


def options(version: tuple[int, int, int]) -> dict[str, object]:
    """Django's OPTIONS for a database that loses nothing: no reader-turned-writer races, commits reach the disk."""
    journal = "WAL" if wal_is_sound(version) else "TRUNCATE"
    return {
        "timeout": 20,
        "transaction_mode": "IMMEDIATE",
        "init_command": f"PRAGMA journal_mode={journal}; PRAGMA synchronous=FULL; PRAGMA journal_size_limit=67108864;",
    }
