from __future__ import annotations

from datetime import date

import pytest
from django.db import transaction
from django.test.utils import override_settings

from league.management.demo import build_demo
from league.management.demo.club import NEIGHBOUR, PEOPLE

QUICK = override_settings(PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"])


@pytest.fixture(scope="module")
def demo_of_module(django_db_setup, django_db_blocker):
    """The demo club, made once for a module inside a transaction that is undone at its end."""
    passwords = {person.email: f"password of {person.name}" for person in (*PEOPLE, NEIGHBOUR)}
    with django_db_blocker.unblock(), QUICK, transaction.atomic():
        yield build_demo(today=date(2026, 3, 18), passwords=passwords)
        transaction.set_rollback(True)


@pytest.fixture
def demo(demo_of_module, db):
    """The demo club for one test; `db` undoes what the test changes."""
    return demo_of_module
