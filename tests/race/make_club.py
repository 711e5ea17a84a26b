"""Run inside the site's own shell: makes the club of the race tests and prints its facts as one line of JSON."""

from __future__ import annotations

import json
from datetime import date
from uuid import uuid4

from django.test import Client

from accounts.services import issue_token, open_account
from league.clubs.services.clubs import found_club
from league.clubs.services.invitations import invite, join_by
from league.rosters.services.rosters import UnitFacts, create_roster
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.seasons.services.entrants import enter_each
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import create_season

BACKEND = "allauth.account.auth_backends.AuthenticationBackend"
NEWCOMERS = ("Ulda", "Perrin", "Sefa", "Torvin")
ROUNDS = 10

users, tokens, sessions, members, rosters = {}, {}, {}, {}, {}
for name in ("Mila", "Brannoc", "Ceriden", *NEWCOMERS):
    users[name] = open_account(email=f"{name.lower()}@example.org", name=name, password="a long enough password")
    tokens[name] = issue_token(users[name], name="race", may_write=True)[1]
    browser = Client()
    browser.force_login(users[name], backend=BACKEND)
    sessions[name] = browser.cookies["session"].value
club = found_club(users["Mila"], name="Old Mill", slug="old-mill", member_name="Mila")
organiser = club.members.get()
members["Mila"] = organiser
for name in ("Brannoc", "Ceriden"):
    link = invite(club, by=organiser)[1]
    members[name] = join_by(link, user=users[name], name=name)
ruleset = create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
for name in ("Brannoc", "Ceriden"):
    rosters[name] = create_roster(
        club,
        owner=members[name],
        ruleset=ruleset,
        name=f"The force of {name}",
        units=[UnitFacts(name="First line", unit_class="line", figures=500, points=100)],
        submission=uuid4(),
        by=members[name],
    )
season = create_season(
    club,
    ruleset=ruleset,
    name="Spring",
    starts_on=date(2026, 3, 1),
    rules={"scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0}, "tie_breaks": [{"name": "score_difference"}]},
    submission=uuid4(),
    by=organiser,
)
enter_each(season, member_ids=[member.pk for member in members.values()], by=organiser)
for _number in range(ROUNDS):
    add_round(season, by=organiser)
print(  # noqa: T201 - the test reads it
    json.dumps(
        {
            "tokens": tokens,
            "sessions": sessions,
            "members": {name: member.pk for name, member in members.items()},
            "rosters": {name: roster.pk for name, roster in rosters.items()},
            "ruleset": ruleset.pk,
            "season": season.pk,
            "newcomers": NEWCOMERS,
            "link": invite(club, by=organiser)[1],
        }
    )
)
