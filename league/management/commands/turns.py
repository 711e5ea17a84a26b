"""The clock of campaigns: `manage.py turns` reveals every set of orders whose deadline has passed. May run any time."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from league.campaigns.models import Campaign
from league.campaigns.services.turns import reveal_what_is_due


class Command(BaseCommand):
    help = "Reveal the orders of every campaign whose deadline has passed. Safe to run every minute."

    def handle(self, **_options: Any) -> None:
        now = timezone.now()
        for campaign in Campaign.objects.filter(started_at__isnull=False, ended_at=None).order_by("pk"):
            if reveal_what_is_due(campaign, now=now):
                self.stdout.write(f"{campaign.name}: the orders are revealed")
