"""A night that is over asks nobody any more."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(("days", "offers"), [(1, True), (0, True), (-1, False)])
def test_organisers_answer_for_others_until_the_night_is_over(browse, club, organiser, days, offers):
    night = factories.NightFactory(club=club, on=timezone.localdate() + timedelta(days=days))
    page = browse(organiser).get(reverse("night", kwargs={"club": club.slug, "pk": night.pk})).content.decode()
    assert ("Answer for them" in page) is offers
