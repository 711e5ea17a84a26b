from __future__ import annotations

from collections.abc import Iterator

from django.db import connection

__all__ = ["sound"]


def sound() -> Iterator[str]:
    """SQLite's own checks; a database server does its own."""
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        for (line,) in cursor.execute("PRAGMA integrity_check").fetchall():
            if line != "ok":
                yield line
        for table, row, parent, _key in cursor.execute("PRAGMA foreign_key_check").fetchall():
            yield f"{table} row {row} points at a {parent} that is not there"
