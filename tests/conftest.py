"""A small cast for every test: an organiser, two members, an umpire, a guest, and an outsider with a club of her own."""

from __future__ import annotations

import pytest
from django.test import Client
from rest_framework.test import APIClient

from tests import factories


@pytest.fixture(autouse=True)
def quick_and_quiet(settings, tmp_path):
    """Fast passwords, a cache of one process, photos in a folder of the test."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.CACHES = {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}}
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def club(db):
    return factories.ClubFactory(name="Weir Street Irregulars", slug="weir-street")


@pytest.fixture
def organiser(club):
    return factories.MemberFactory(club=club, name="Odalys", is_organiser=True)


@pytest.fixture
def umpire(club):
    return factories.MemberFactory(club=club, name="Ulmar", is_umpire=True)


@pytest.fixture
def quartermaster(club):
    return factories.MemberFactory(club=club, name="Quenna", is_quartermaster=True)


@pytest.fixture
def member(club):
    return factories.MemberFactory(club=club, name="Brannoc")


@pytest.fixture
def opponent(club):
    return factories.MemberFactory(club=club, name="Ceriden")


@pytest.fixture
def guest(club):
    return factories.GuestFactory(club=club, name="Gorran")


@pytest.fixture
def other_club(db):
    return factories.ClubFactory(name="Upper Lock Circle", slug="upper-lock")


@pytest.fixture
def outsider(other_club):
    """An organiser, but of another club."""
    return factories.MemberFactory(club=other_club, name="Wystan", is_organiser=True)


@pytest.fixture
def browse():
    """A Django test client signed in as a member: `browse(member).get(...)`; `browse(None)` is signed out."""

    def signed_in(member=None):
        client = Client()
        if member is not None:
            client.force_login(member.user, backend="allauth.account.auth_backends.AuthenticationBackend")
        return client

    return signed_in


@pytest.fixture
def call():
    """An API client acting as a member: `call(member).post(...)`; `call(None)` is signed out."""

    def acting(member=None):
        client = APIClient()
        if member is not None:
            client.force_authenticate(member.user)
        return client

    return acting
