"""Every address of the site x every role x every method it answers, in one's own club and from outside.

The addresses are read from the URL configuration, so a new one cannot escape: it fails here until
`addresses.RIGHTS` says who may open it.
"""

from __future__ import annotations

import re

import pytest
from django.db import transaction
from django.test import Client, override_settings

from league.clubs.models import Club
from tests import factories
from tests.rights.addresses import ANYONE, CLUB, ELSEWHERE, RIGHTS, STRANGER, VISITOR
from tests.rights.bodies import body_for
from tests.rights.walk import Address, addresses
from tests.rights.world import build

pytestmark = pytest.mark.django_db

ADDRESSES = [address for address in addresses() if address.name not in ELSEWHERE]
PROBES = [(address, method) for address in ADDRESSES for method in sorted(address.methods)]
INSIDE = [address for address in ADDRESSES if ("clubs", "club") in address.segments]
OF_A_ROW = [address for address in INSIDE if len(address.segments) > 1]
REFUSED = {401, 403, 404}
PARAMETER = re.compile(r"<\w+:(\w+)>")


def named(probe):
    address, *method = probe if isinstance(probe, tuple) else (probe,)
    return " ".join([address.name, *method])


@pytest.fixture(scope="module")
def made_once(django_db_setup, django_db_blocker, tmp_path_factory):
    """The world and its cast, made once for all the probes, inside a transaction that is undone at the end."""
    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=tmp_path_factory.getbasetemp()),
        transaction.atomic(),
    ):
        club = factories.ClubFactory(name="Weir Street Irregulars", slug="weir-street")
        cast = {
            "organiser": factories.MemberFactory(club=club, name="Odalys", is_organiser=True),
            "umpire": factories.MemberFactory(club=club, name="Ulmar", is_umpire=True),
            "quartermaster": factories.MemberFactory(club=club, name="Quenna", is_quartermaster=True),
            "member": factories.MemberFactory(club=club, name="Brannoc"),
            STRANGER: factories.MemberFactory(club__slug="upper-lock", name="Wystan", is_organiser=True),
            VISITOR: None,
        }
        opponent = factories.MemberFactory(club=club, name="Ceriden")
        yield build(club, organiser=cast["organiser"], member=cast["member"], opponent=opponent), cast
        transaction.set_rollback(True)


@pytest.fixture
def world(made_once, db, settings, tmp_path_factory):
    settings.MEDIA_ROOT = tmp_path_factory.getbasetemp()
    return made_once[0]


@pytest.fixture
def cast(made_once, db):
    return made_once[1]


def path_of(address: Address, world, *, club: str | None = None) -> str:
    values = {parameter: world.values[before, parameter] for before, parameter in address.segments}
    if club is not None:
        values["club"] = club
    return "/" + PARAMETER.sub(lambda found: str(values[found[1]]), address.route)


def ask(who, address: Address, method: str, path: str, world=None):
    client = Client(raise_request_exception=False)
    if who is not None:
        client.force_login(who.user, backend="allauth.account.auth_backends.AuthenticationBackend")
    if method == "GET":
        return client.get(path)
    body = body_for(address, world)
    if address.is_api and not hasattr(body.get("file"), "read"):
        return getattr(client, method.lower())(path, body, content_type="application/json")
    return getattr(client, method.lower())(path, body)


def was_let_in(answer) -> bool:
    sent_to_sign_in = answer.status_code == 302 and "/account/login/" in answer.headers["Location"]
    assert answer.status_code < 500, f"the site broke: {answer.status_code}"
    return answer.status_code not in REFUSED and not sent_to_sign_in


def test_every_address_has_its_line_in_the_table():
    assert {address.name for address in ADDRESSES} - set(RIGHTS) == set()


def test_the_table_has_no_line_for_an_address_that_is_gone():
    assert set(RIGHTS) - {address.name for address in ADDRESSES} == set()


@pytest.mark.parametrize("probe", PROBES, ids=named)
def test_each_role_is_let_in_or_kept_out(probe, world, cast):
    """In a club with public pages; what was written by one role is undone before the next one asks."""
    address, method = probe
    Club.objects.filter(pk=world.club.pk).update(is_public=True)
    allowed = RIGHTS[address.name][method != "GET"]
    let_in = set()
    for role, who in cast.items():
        with undone():
            if was_let_in(ask(who, address, method, path_of(address, world), world)):
                let_in.add(role)
    assert let_in == allowed


@pytest.mark.parametrize("address", INSIDE, ids=named)
def test_a_private_club_is_not_there_for_anybody_else(address, world, cast):
    path = path_of(address, world)
    method = "GET" if "GET" in address.methods else min(address.methods)
    stranger = ask(cast[STRANGER], address, method, path, world)
    visitor = ask(None, address, method, path, world)
    assert (stranger.status_code, was_let_in(visitor)) == (404, False)


@pytest.mark.parametrize("probe", [each for each in PROBES if each[0] in OF_A_ROW], ids=named)
def test_rows_of_another_club_answer_404_under_ones_own(probe, world, cast):
    """An organiser, who may do everything in her own club, puts the other club's numbers behind her own address."""
    address, method = probe
    path = path_of(address, world, club=cast[STRANGER].club.slug)
    assert ask(cast[STRANGER], address, method, path, world).status_code == 404


def test_the_roles_of_the_table_are_the_roles_of_the_cast(cast):
    assert set(cast) == ANYONE
    assert {who.club.slug for role, who in cast.items() if role in CLUB} == {"weir-street"}


class undone:  # noqa: N801 - reads as a word in the test
    """Undo what happens inside, as if it had not been."""

    def __enter__(self):
        self.point = transaction.savepoint()

    def __exit__(self, *failure):
        transaction.savepoint_rollback(self.point)
