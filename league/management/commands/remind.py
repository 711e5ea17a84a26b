"""The clock of the kit: `manage.py remind` mails everybody what they bring to the nights that are near."""

from __future__ import annotations

from argparse import ArgumentParser
from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from league.clubs.models import Night
from league.stores.services.packing import remind_of_packing

DAYS = 2
DAYS_MOST = 60


class Command(BaseCommand):
    help = "Mail everybody their packing list for the nights of the next days, once a day at most. May run every hour."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--days", type=int, default=DAYS, metavar="N", help=f"how many days ahead (usually {DAYS})")

    def handle(self, **options: Any) -> None:
        days = options["days"]
        if not 0 <= days <= DAYS_MOST:
            raise CommandError(f"Between 0 and {DAYS_MOST} days ahead can be looked.")
        for night in Night.objects.filter(cancelled_at=None).select_related("club", "venue").order_by("on", "pk"):
            today = timezone.localdate(timezone=night.club.zone)
            if today <= night.on <= today + timedelta(days=days):
                sent = remind_of_packing(night, by=None)
                if sent:
                    self.stdout.write(f"{night.club.name}, {night.on:%Y-%m-%d}: {len(sent)} sent")
