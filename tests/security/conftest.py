"""The club of the rights matrix, and everybody who may look at it."""

from __future__ import annotations

import pytest
from django.test import Client

from league.clubs.models import Club
from tests import factories
from tests.rights.world import build


@pytest.fixture
def world(club, organiser, member, opponent):
    """One row of everything, in a club with public pages."""
    made = build(club, organiser=organiser, member=member, opponent=opponent)
    Club.objects.filter(pk=club.pk).update(is_public=True)
    return made


@pytest.fixture
def cast(organiser, umpire, quartermaster, member, opponent, outsider):
    return {
        "organiser": organiser,
        "umpire": umpire,
        "quartermaster": quartermaster,
        "member": member,
        "opponent": opponent,
        "stranger": outsider,
        "visitor": None,
    }


@pytest.fixture
def ask(browse):
    """GET an address as somebody, following nothing, with an error page instead of an error."""
    clients: dict[object, Client] = {}

    def asked(who, path):
        if who not in clients:
            clients[who] = browse(who)
            clients[who].raise_request_exception = False
        answer = clients[who].get(path)
        content = b"".join(answer.streaming_content) if answer.streaming else answer.content
        return answer, content.decode(errors="replace")

    return asked


@pytest.fixture
def stranger():
    return factories.UserFactory(name="Nuala")
