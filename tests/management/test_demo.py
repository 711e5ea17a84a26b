"""`manage.py demo` does everything by itself, twice over, and never touches a club of somebody's own."""

from __future__ import annotations

import json
import re

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction

from accounts.models import User
from league.battles.models import Report
from league.clubs.models import Club, LogEntry
from league.seasons.models import Pairing, Round, Season
from league.seasons.queries.pages import pairing_lines
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def data_folder(settings, tmp_path):
    settings.DATA_DIR = tmp_path
    return tmp_path


def counts():
    return [model.objects.count() for model in (Club, User, Report, Season, Pairing, LogEntry)]


def told():
    """Every pairing of the club with its scores, as a reader sees them: no row numbers."""
    rounds = Round.objects.order_by("season__pk", "number").select_related("season__club")
    lines = [line for each in rounds for line in pairing_lines(each.pairings.all(), {})]
    return [(line.pairing.key, [(seat.name, seat.score, seat.unplayed) for seat in line.seats]) for line in lines]


def test_the_demo_prints_who_can_sign_in(client, capsys):
    call_command("demo", "--no-serve")
    email, password = re.search(r"(\S+@\S+) +(\S+) +Brannoc", capsys.readouterr().out).groups()
    client.post("/account/login/", {"login": email, "password": password})
    assert client.session["_auth_user_id"] == str(User.objects.get(email=email).pk)


def test_the_demo_run_twice_is_the_demo_run_once():
    call_command("demo", "--no-serve")
    once = counts()
    call_command("demo", "--no-serve")
    assert counts() == once


def test_the_demo_comes_out_the_same_each_time():
    made = []
    for _time in range(2):
        with transaction.atomic():
            call_command("demo", "--no-serve")
            made.append(told())
            transaction.set_rollback(True)
    assert made[0] == made[1]
    assert len(made[0]) > 100


def test_the_demo_keeps_out_of_a_clubs_own_database():
    factories.ClubFactory(name="A club of its own")
    with pytest.raises(CommandError, match="holds a club of its own"):
        call_command("demo", "--no-serve")


def test_the_demos_passwords_are_read_by_their_owner_only(data_folder):
    call_command("demo", "--no-serve")
    path = data_folder / "demo-passwords.json"
    assert path.stat().st_mode & 0o777 == 0o600
    assert len(set(json.loads(path.read_text()).values())) == 9


def test_a_club_opened_from_the_shell_lets_its_organiser_choose_a_password(client, capsys):
    call_command("open_club", "Old Mill Club", "mila@example.org", "--organiser", "Mila")
    address = re.search(r"password at (\S+)", capsys.readouterr().out)[1]
    page = client.get(address, follow=True)
    assert page.status_code == 200
    assert "password1" in page.content.decode()


def test_a_club_with_an_address_that_is_taken_is_not_opened():
    factories.ClubFactory(slug="old-mill")
    with pytest.raises(CommandError):
        call_command("open_club", "Old Mill", "mila@example.org")
