"""What must hold before the site may start."""

from __future__ import annotations

import os

from django.conf import settings
from django.core.checks import Error, Tags, Warning, register  # noqa: A004 - Django's own name
from django.db import connection

from league import sqlite


@register(Tags.database)
def sqlite_is_sound(app_configs: object, **kwargs: object) -> list[Warning]:
    """Say so when the running SQLite forces the slower rollback journal."""
    if connection.vendor != "sqlite" or sqlite.wal_is_sound(settings.SQLITE_VERSION):
        return []
    version = ".".join(map(str, settings.SQLITE_VERSION))
    return [
        Warning(
            f"SQLite {version} can corrupt a database in WAL mode; the rollback journal is used instead.",
            hint="Nothing is lost, writes are slower. Install pysqlite3, or a Python built with SQLite 3.51.3 or later.",
            id="drumhead.W001",
        )
    ]


@register()
def data_folder_is_writable(app_configs: object, **kwargs: object) -> list[Error]:
    if os.access(settings.DATA_DIR, os.W_OK):
        return []
    return [
        Error(
            f"The data folder {settings.DATA_DIR} cannot be written.",
            hint="Give the user who runs the site the right to write there, or set DRUMHEAD_DATA to another folder.",
            id="drumhead.E001",
        )
    ]
