"""A demo club, made by the services as members would make it, and served: `manage.py demo`."""

from __future__ import annotations

import json
import os
import secrets
import sys
from argparse import ArgumentParser
from datetime import datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone

from league.clubs.models import Club
from league.management.demo import build_demo
from league.management.demo.club import NEIGHBOUR, PEOPLE, is_built

PASSWORDS = "demo-passwords.json"
EVERYONE = (*PEOPLE, NEIGHBOUR)


class Command(BaseCommand):
    help = "Make a demo club (once), print who can sign in, and serve the site on 127.0.0.1."
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-serve", action="store_true", help="prepare only, serve nothing")
        parser.add_argument("--port", type=int, default=8000, help="the port to serve on (8000)")
        parser.add_argument("--fresh", action="store_true", help="move the present database aside and begin anew")

    def handle(self, **options: Any) -> None:
        if options["fresh"]:
            self.move_database_aside()
        call_command("migrate", verbosity=0)
        if is_built():
            self.stdout.write("The demo club is there already; it was left as it is.")
        elif Club.objects.exists():
            raise CommandError(
                "This database holds a club of its own, so no demo is mixed into it. Use another DRUMHEAD_DATA."
            )
        else:
            build_demo(today=timezone.localdate(), passwords=self.passwords())
            self.stdout.write("The demo club was made.")
        self.print_people()
        if not options["no_serve"]:
            self.serve(options["port"])

    def move_database_aside(self) -> None:
        """Nothing is deleted: the old file gets a new name beside the new one."""
        if connection.vendor != "sqlite":
            raise CommandError("--fresh moves a file aside; a database on a server has to be emptied there.")
        connection.close()
        database = Path(settings.DATABASES["default"]["NAME"])
        stamp = datetime.now(tz=timezone.get_default_timezone()).strftime("%Y%m%d-%H%M%S")
        for path in (database, *(database.with_name(database.name + suffix) for suffix in ("-wal", "-shm"))):
            if path.exists():
                path.rename(path.with_name(f"{stamp}-{path.name}"))

    def passwords(self) -> dict[str, str]:
        """Made once, kept readable by the owner only: a site never starts with a password that is printed in a book."""
        path = settings.DATA_DIR / PASSWORDS
        kept: dict[str, str] = json.loads(path.read_text()) if path.exists() else {}
        made = {person.email: kept.get(person.email) or secrets.token_urlsafe(9) for person in EVERYONE}
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
            json.dump(made, file, indent=2)
        return made

    def print_people(self) -> None:
        path = settings.DATA_DIR / PASSWORDS
        if not path.exists():
            self.stdout.write(f"The passwords were in {path}, which is gone; --fresh makes a new demo with new ones.")
            return
        passwords = json.loads(path.read_text())
        self.stdout.write("\nSign in as one of these:\n\n")
        for person in EVERYONE:
            office = ", ".join(each.removeprefix("is_") for each in person.offices) or "member"
            self.stdout.write(f"  {person.email:30} {passwords[person.email]:14} {person.name} ({office})")
        self.stdout.write("")

    def serve(self, port: int) -> None:
        self.stdout.write(f"\nServing on http://127.0.0.1:{port}  (stop with Ctrl-C)")
        self.stdout.flush()
        try:
            import gunicorn  # noqa: F401, PLC0415 - not on every platform
        except ImportError:
            call_command("runserver", f"127.0.0.1:{port}", use_reloader=False, insecure_serving=True)
            return
        connection.close()
        server = [sys.executable, "-m", "gunicorn", "league.wsgi", "--bind", f"127.0.0.1:{port}", "--workers", "2"]
        os.chdir(settings.BASE_DIR)
        os.execv(sys.executable, [*server, "--threads", "4", "--log-level", "warning"])  # noqa: S606 - our own server
