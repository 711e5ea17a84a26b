"""What a visitor who is no member of the club may call a member."""

from __future__ import annotations

import pytest

from league.clubs.models import Club, Member
from league.clubs.queries import names_for, public_name
from league.clubs.services.members import leave_club, mark_junior
from tests import factories


@pytest.fixture
def shown(club):
    """A member who lets anyone see their page, in a club with public pages."""
    Club.objects.filter(pk=club.pk).update(is_public=True)
    club.refresh_from_db()
    return factories.MemberFactory(club=club, name="Sefton", shows_page=True)


def test_who_allows_it_is_called_by_name(shown):
    assert public_name(shown) == "Sefton"


def test_everyone_else_is_a_number(member):
    assert public_name(member) == f"Player {member.pk}"


def test_nobody_is_named_by_a_club_without_public_pages(shown):
    Club.objects.update(is_public=False)
    assert public_name(shown) == f"Player {shown.pk}"


def test_a_junior_is_never_named(shown, organiser):
    mark_junior(shown, is_junior=True, guardian_contact="", by=organiser)
    Member.objects.filter(pk=shown.pk).update(shows_page=True)
    assert public_name(shown) == f"Player {shown.pk}"


def test_a_junior_of_another_club_is_never_named_here(shown, other_club):
    factories.MemberFactory(club=other_club, user=shown.user, is_junior=True)
    assert public_name(shown) == f"Player {shown.pk}"


def test_whoever_left_is_not_named(shown, organiser):
    leave_club(shown, by=organiser)
    assert public_name(shown) == f"Player {shown.pk}"


def test_club_mates_know_each_other_by_name(member, opponent):
    assert names_for(member, [opponent]) == {opponent.pk: "Ceriden"}


def test_a_member_of_another_club_is_a_stranger(outsider, member):
    assert names_for(outsider, [member]) == {member.pk: f"Player {member.pk}"}


def test_whoever_left_the_club_is_a_stranger(organiser, member, opponent):
    leave_club(member, by=organiser)
    assert names_for(member, [opponent]) == {opponent.pk: f"Player {opponent.pk}"}


@pytest.mark.parametrize("number", [1, 3])
def test_names_of_any_number_take_one_query(club, number, django_assert_num_queries):
    people = factories.MemberFactory.create_batch(number, club=club)
    with django_assert_num_queries(1):
        names_for(None, people)
