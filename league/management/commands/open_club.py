"""A new club and the link by which its first organiser chooses a password: `manage.py open_club NAME EMAIL`."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from allauth.account.forms import default_token_generator
from allauth.account.utils import user_pk_to_url_str
from django.core.management.base import BaseCommand, CommandError
from django.urls import reverse
from django.utils.text import slugify

from accounts.models import User
from accounts.services import open_account
from league.clubs.services.clubs import found_club
from league.errors import Refused


class Command(BaseCommand):
    help = "Open a club for its first organiser and print the address at which they choose a password."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="the club's name")
        parser.add_argument("email", help="the organiser's e-mail address")
        parser.add_argument("--organiser", default="", help="what club mates call the organiser")
        parser.add_argument("--address", default="", help="the club's part of its web address")

    def handle(self, **options: Any) -> None:
        member_name = options["organiser"] or options["email"].partition("@")[0]
        user = open_account(email=options["email"], name=member_name)
        try:
            club = found_club(
                user,
                name=options["name"],
                slug=options["address"] or slugify(options["name"])[:40],
                member_name=member_name,
            )
        except Refused as refusal:
            raise CommandError("\n".join(each.message for each in refusal.violations)) from refusal
        self.stdout.write(f"{club.name} is open at {reverse('club', kwargs={'club': club.slug})}")
        if not user.has_usable_password():
            self.stdout.write(f"{user.email} chooses a password at {password_address(user)}")


def password_address(user: User) -> str:
    """The page that the forgotten-password mail would link to; it works once and for a few days."""
    key = f"{user_pk_to_url_str(user)}-{default_token_generator.make_token(user)}"
    return reverse(
        "account_reset_password_from_key", kwargs={"uidb36": key.partition("-")[0], "key": key.partition("-")[2]}
    )
