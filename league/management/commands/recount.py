"""Reckon everything again from the facts: `manage.py recount`. One line for each mismatch; exit status 1 on any."""

from __future__ import annotations

import sys
from typing import Any

from django.core.management.base import BaseCommand

from league.management.recount import CHECKS, mismatches


class Command(BaseCommand):
    help = "Reckon again all that is stored for speed or could disagree; print each mismatch and fail on any."

    def handle(self, **_options: Any) -> None:
        count = 0
        for line in mismatches():
            count += 1
            self.stdout.write(line)
        self.stdout.write(f"{len(CHECKS)} checks, {count} mismatches")
        if count:
            sys.exit(1)
