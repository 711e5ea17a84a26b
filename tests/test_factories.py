from __future__ import annotations

import pytest

from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("name", factories.__all__)
def test_every_factory_makes_its_model(name):
    assert getattr(factories, name)().pk is not None
