"""What nobody, or hardly anybody, may read: looked for in every answer of the site, and in its log."""

from __future__ import annotations

import logging

import pytest
from django.db import connection
from django.utils import timezone

from accounts.services import issue_token
from league.battles.models import Game
from league.clubs.models import Invitation, Member
from league.clubs.services.invitations import invite, revoke_invitation
from league.clubs.services.members import mark_junior
from league.logs import Line
from tests.security.places import path_of, places

CONTACT = "Aunt Perpetua, 0555 010 020"
AS_FILE = "?format=csv"


def seen_by(who, world, ask):
    """Everything the site answers to one person, pages and files and API, by address."""
    shown = {}
    for address in places():
        path = path_of(address, world)
        for query in ("",) if address.is_api else ("", AS_FILE):
            shown[address.name + query] = ask(who, path + query)[1]
    return shown


def showing(text, shown):
    return [name for name, answer in shown.items() if text in answer]


@pytest.fixture
def spoken():
    """The log as it is written: every line of the root's handler, through the site's own formatter."""
    lines = []

    class Listener(logging.Handler):
        def emit(self, record):
            lines.append(self.format(record))

    listener = Listener()
    listener.setFormatter(Line("{levelname} {name}: {message}", style="{"))
    root = logging.getLogger()
    root.addHandler(listener)
    yield lines
    root.removeHandler(listener)


@pytest.mark.parametrize("role", ["umpire", "quartermaster", "member", "opponent", "stranger", "visitor"])
def test_a_guardians_contact_is_for_organisers_alone(role, world, cast, ask, spoken):
    mark_junior(cast["opponent"], is_junior=True, guardian_contact=CONTACT, by=cast["organiser"])
    assert showing("Perpetua", seen_by(cast[role], world, ask)) == []
    assert "Perpetua" not in "\n".join(spoken)


def test_an_organiser_does_find_a_guardians_contact(world, cast, ask):
    mark_junior(cast["member"], is_junior=True, guardian_contact=CONTACT, by=cast["organiser"])
    assert set(showing("Perpetua", seen_by(cast["organiser"], world, ask))) >= {"member-junior", "api-member"}


def test_no_file_holds_a_guardians_contact_even_for_an_organiser(world, cast, ask):
    mark_junior(cast["member"], is_junior=True, guardian_contact=CONTACT, by=cast["organiser"])
    files = {name: text for name, text in seen_by(cast["organiser"], world, ask).items() if name.endswith(AS_FILE)}
    assert [name for name in showing("Perpetua", files) if not files[name].lstrip().startswith("<")] == []


@pytest.mark.parametrize("role", ["organiser", "umpire", "member", "visitor"])
def test_no_seed_is_shown_before_dice_are_drawn_from_it(role, world, cast, ask):
    seeds = list(Game.objects.values_list("seed", flat=True))
    shown = seen_by(cast[role], world, ask)
    assert len(seeds) > 1 and all(len(seed) == 64 for seed in seeds)
    assert [name for seed in seeds for name in showing(seed, shown)] == []


def test_the_hash_of_a_seed_is_shown_from_the_beginning(world, cast, ask):
    """So that the search above looks at the pages on which the seed would stand."""
    shown = seen_by(cast["member"], world, ask)
    hashes = Game.objects.values_list("seed_hash", flat=True)
    assert {name for each in hashes for name in showing(each, shown)} >= {"api-game", "api-report", "rolls"}


def test_a_seed_is_shown_once_dice_are_drawn(world, cast, call):
    report = f"/api/v1/clubs/weir-street/reports/{world.values['reports', 'pk']}/"
    before = call(cast["opponent"]).get(report).json()["seed"]
    call(cast["member"]).post(f"{report}draw/")
    game = Game.objects.get(reports=world.values["reports", "pk"])
    assert (before, call(cast["opponent"]).get(report).json()["seed"]) == ("", game.seed)


@pytest.mark.parametrize("role", ["organiser", "member"])
def test_the_secret_of_an_invitation_is_in_no_answer_but_its_own(role, world, cast, ask):
    """Its own page holds the address it was opened by."""
    shown = seen_by(cast[role], world, ask)
    assert set(showing(world.values["join", "secret"], shown)) <= {"join", "join-sign-up", f"join{AS_FILE}"}


def test_nothing_kept_gives_a_secret_back(world, cast):
    _, token = issue_token(cast["member"].user, name="program")
    with connection.cursor() as cursor:
        cursor.execute("select * from clubs_invitation")
        kept = repr(cursor.fetchall())
        cursor.execute("select * from accounts_apitoken")
        kept += repr(cursor.fetchall())
    assert world.values["join", "secret"] not in kept and token not in kept


@pytest.mark.parametrize("ending", ["revoked", "expired", "unknown", "refused"])
def test_no_secret_of_an_invitation_reaches_the_log(ending, club, organiser, stranger, client, spoken):
    invitation, secret = invite(club, by=organiser)
    if ending == "revoked":
        revoke_invitation(invitation, by=organiser)
    elif ending == "expired":
        Invitation.objects.filter(pk=invitation.pk).update(expires_at=timezone.now())
    elif ending == "unknown":
        secret = secret[::-1]
    else:
        client.force_login(stranger, backend="allauth.account.auth_backends.AuthenticationBackend")
    answer = client.post(f"/join/{secret}/", {"name": ""})
    assert answer.status_code in {404, 410, 422}
    assert any("/join/[secret]/" in line for line in spoken)
    assert secret not in "\n".join(spoken)


def test_what_somebody_typed_begins_no_line_of_the_log(db, client, spoken):
    client.get("/no/such%0d%0aCRITICAL%20all%20is%20lost/")
    assert len([line for line in spoken if "no/such" in line]) == 1
    assert not any("\n" in line or "\r" in line for line in spoken)


def test_a_name_with_a_line_feed_begins_no_line_of_the_log():
    record = logging.LogRecord("site", logging.WARNING, "", 0, "%s came", ("Wystan\r\nCRITICAL root: lost",), None)
    assert Line("{levelname} {message}", style="{").format(record) == r"WARNING Wystan\r\nCRITICAL root: lost came"


def test_a_person_under_18_has_no_public_page(world, cast, ask):
    Member.objects.filter(pk=cast["member"].pk).update(shows_page=True, shows_results=True, shows_rosters=True)
    mark_junior(cast["member"], is_junior=True, guardian_contact="", by=cast["organiser"])
    assert "Brannoc" not in ask(None, f"/clubs/weir-street/players/{cast['member'].pk}/")[1]
