from __future__ import annotations

import pytest
from django.core.cache import cache

from accounts.models import User

PASSWORD = "five quiet lanterns"


@pytest.fixture(autouse=True)
def fresh_limits():
    """Every test begins with nobody having tried anything."""
    cache.clear()


@pytest.fixture
def person(db):
    return User.objects.create_user("isolde@example.org", PASSWORD, name="Isolde")


@pytest.fixture
def sign_in(client):
    """Sign in as a browser does, by the form; gives the answer."""

    def attempt(email="isolde@example.org", password=PASSWORD, **more):
        return client.post("/account/login/", {"login": email, "password": password, **more})

    return attempt
