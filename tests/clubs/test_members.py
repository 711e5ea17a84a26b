from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction

from league.clubs.models import LogEntry, Member
from league.clubs.services.members import (
    MemberRefused,
    add_guest,
    change_name,
    change_offices,
    change_privacy,
    leave_club,
    link_guest,
    mark_junior,
)
from tests import factories

NO_OFFICE = {"is_organiser": False, "is_umpire": False, "is_quartermaster": False}
SHOWS_ALL = {"shows_page": True, "shows_results": True, "shows_rosters": True}


def test_a_guest_is_a_name_without_account(club, organiser):
    guest = add_guest(club, name="Gorran", by=organiser)
    assert guest.is_guest and guest.name == "Gorran"


def test_the_same_guest_twice_is_one_guest(club, organiser):
    assert add_guest(club, name="Gorran", by=organiser) == add_guest(club, name=" gorran ", by=organiser)


def test_a_guest_may_not_bear_a_members_name(club, organiser, member):
    with pytest.raises(MemberRefused, match="Brannoc is a member already"):
        add_guest(club, name="Brannoc", by=organiser)


def test_an_organiser_gives_offices(organiser, member):
    change_offices(member, is_organiser=False, is_umpire=True, is_quartermaster=True, by=organiser)
    member.refresh_from_db()
    assert [str(role) for role in member.roles] == ["umpire", "quartermaster"]


def test_a_guest_holds_no_office(organiser, guest):
    with pytest.raises(MemberRefused, match="holds no office"):
        change_offices(guest, is_organiser=False, is_umpire=True, is_quartermaster=False, by=organiser)


def test_the_database_refuses_a_guest_in_office(guest):
    with pytest.raises(IntegrityError, match="guest_holds_no_office"), transaction.atomic():
        Member.objects.filter(pk=guest.pk).update(is_umpire=True)


def test_the_last_organiser_cannot_step_down(organiser):
    with pytest.raises(MemberRefused, match="last organiser"):
        change_offices(organiser, **NO_OFFICE, by=organiser)


def test_one_of_two_organisers_may_step_down(club, organiser):
    second = factories.MemberFactory(club=club, is_organiser=True)
    change_offices(organiser, **NO_OFFICE, by=second)
    organiser.refresh_from_db()
    assert not organiser.is_organiser


def test_two_organisers_who_step_down_at_once_leave_one(club, organiser):
    """Both pages were opened while there were two; the second act must look again, not trust what it read."""
    second = factories.MemberFactory(club=club, is_organiser=True)
    stale = Member.objects.get(pk=second.pk)
    change_offices(organiser, **NO_OFFICE, by=organiser)
    with pytest.raises(MemberRefused, match="last organiser"):
        change_offices(stale, **NO_OFFICE, by=stale)


def test_the_last_organiser_cannot_leave(organiser):
    with pytest.raises(MemberRefused, match="last organiser"):
        leave_club(organiser, by=organiser)


def test_an_organiser_of_another_club_does_not_count_as_a_second_one(organiser, outsider):
    with pytest.raises(MemberRefused, match="last organiser"):
        leave_club(organiser, by=organiser)


def test_who_leaves_loses_offices_and_public_page_and_the_guardians_contact(organiser, member):
    Member.objects.filter(pk=member.pk).update(is_umpire=True, shows_page=True, guardian_contact="aunt")
    member.refresh_from_db()
    leave_club(member, by=member)
    member.refresh_from_db()
    assert member.left_at is not None
    assert (member.is_umpire, member.shows_page, member.guardian_contact) == (False, False, "")


def test_leaving_twice_is_written_once(club, organiser, member):
    leave_club(member, by=member)
    leave_club(Member.objects.get(pk=member.pk), by=member)
    assert LogEntry.objects.filter(club=club, act="member_left").count() == 1


def test_whoever_left_holds_no_office_and_takes_no_name_all_reasons_at_once(organiser, member):
    leave_club(member, by=organiser)
    with pytest.raises(MemberRefused) as refusal:
        change_name(member, name="", by=organiser)
    assert len(refusal.value.violations) == 2


def test_marking_a_junior_closes_their_public_page(organiser, member):
    change_privacy(member, **SHOWS_ALL, by=member)
    mark_junior(member, is_junior=True, guardian_contact="Aunt Maud, 0000", by=organiser)
    member.refresh_from_db()
    assert (member.shows_page, member.shows_results, member.shows_rosters) == (False, False, False)


def test_a_junior_stays_private_and_is_told_why(organiser, member):
    mark_junior(member, is_junior=True, guardian_contact="", by=organiser)
    with pytest.raises(MemberRefused, match="under 18"):
        change_privacy(member, **SHOWS_ALL, by=member)


def test_a_junior_of_one_club_stays_private_in_every_club(organiser, member, other_club):
    elsewhere = factories.MemberFactory(club=other_club, user=member.user)
    mark_junior(member, is_junior=True, guardian_contact="", by=organiser)
    with pytest.raises(MemberRefused, match="under 18"):
        change_privacy(elsewhere, **SHOWS_ALL, by=elsewhere)


def test_the_guardians_contact_goes_when_the_junior_grows_up(organiser, member):
    mark_junior(member, is_junior=True, guardian_contact="Aunt Maud", by=organiser)
    mark_junior(member, is_junior=False, guardian_contact="Aunt Maud", by=organiser)
    member.refresh_from_db()
    assert member.guardian_contact == ""


def test_the_guardians_contact_never_enters_the_book(club, organiser, member):
    mark_junior(member, is_junior=True, guardian_contact="Aunt Maud", by=organiser)
    assert "Maud" not in str(list(LogEntry.objects.filter(club=club).values("details")))


def test_results_are_not_shown_without_the_page_they_stand_on(member):
    change_privacy(member, shows_page=False, shows_results=True, shows_rosters=True, by=member)
    member.refresh_from_db()
    assert not member.shows_results and not member.shows_rosters


def test_a_linked_guest_keeps_the_row_and_with_it_the_games(guest, stranger):
    assert link_guest(guest, user=stranger).pk == guest.pk


def test_of_two_who_claim_one_guest_the_second_is_refused(guest, stranger):
    stale = Member.objects.get(pk=guest.pk)
    link_guest(guest, user=stranger)
    with pytest.raises(MemberRefused, match="no guest any more"):
        link_guest(stale, user=factories.UserFactory())


def test_a_members_name_is_changed_and_both_names_are_in_the_book(club, organiser, member):
    change_name(member, name="Bran", by=member)
    assert LogEntry.objects.get(club=club).details == {"old": "Brannoc", "new": "Bran"}
