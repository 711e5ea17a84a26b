from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from league.clubs.models import Invitation, Member
from league.clubs.queries import invitations_of
from league.clubs.services.invitations import (
    InvitationClosed,
    InvitationRefused,
    InvitationUnknown,
    invite,
    join_by,
    revoke_invitation,
    spend,
)
from league.clubs.services.members import leave_club
from tests import factories


def state(club):
    return [each.state for each in invitations_of(club, timezone.now())]


def test_only_the_digest_of_the_secret_is_kept(club, organiser):
    invitation, secret = invite(club, by=organiser)
    row = Invitation.objects.filter(pk=invitation.pk).values().get()
    assert secret not in str(row)


def test_a_secret_has_256_random_bits_in_43_characters(club, organiser):
    assert len(invite(club, by=organiser)[1]) == 43


def test_joining_makes_a_member_with_the_offices_of_the_link(club, organiser, stranger):
    _, secret = invite(club, makes_umpire=True, by=organiser)
    member = join_by(secret, user=stranger, name="Isolde")
    assert (member.club, member.name, member.is_umpire, member.is_organiser) == (club, "Isolde", True, False)


def test_joining_twice_is_the_same_membership_and_one_use(club, organiser, stranger):
    invitation, secret = invite(club, uses_allowed=5, by=organiser)
    first = join_by(secret, user=stranger, name="Isolde")
    assert join_by(secret, user=stranger, name="Isolde") == first
    invitation.refresh_from_db()
    assert invitation.uses == 1


def test_a_member_who_opens_a_used_up_link_is_still_a_member(club, organiser, stranger):
    _, secret = invite(club, by=organiser)
    first = join_by(secret, user=stranger, name="Isolde")
    assert join_by(secret, user=stranger, name="") == first


def test_an_unknown_link_is_refused(db, stranger):
    with pytest.raises(InvitationUnknown):
        join_by("nothing", user=stranger, name="Isolde")


def test_a_used_up_link_is_refused(club, organiser, stranger):
    _, secret = invite(club, by=organiser)
    join_by(secret, user=factories.UserFactory(), name="First")
    with pytest.raises(InvitationClosed, match="used up"):
        join_by(secret, user=stranger, name="Isolde")


def test_an_expired_link_is_refused(club, organiser, stranger):
    invitation, secret = invite(club, by=organiser)
    Invitation.objects.filter(pk=invitation.pk).update(expires_at=timezone.now() - timedelta(seconds=1))
    with pytest.raises(InvitationClosed, match="expired"):
        join_by(secret, user=stranger, name="Isolde")


def test_a_revoked_link_is_refused(club, organiser, stranger):
    invitation, secret = invite(club, by=organiser)
    revoke_invitation(invitation, by=organiser)
    with pytest.raises(InvitationClosed, match="revoked"):
        join_by(secret, user=stranger, name="Isolde")


def test_of_two_who_read_the_last_use_as_free_only_one_joins(club, organiser, stranger):
    """The second acts on what it read before the first spent the use; the statement itself must refuse it."""
    invitation, secret = invite(club, by=organiser)
    stale = Invitation.objects.select_related("club", "guest").get(pk=invitation.pk)
    join_by(secret, user=factories.UserFactory(), name="First")
    with pytest.raises(InvitationClosed, match="used up"):
        spend(stale, None, user=stranger, name="Isolde", now=timezone.now())
    assert not Member.objects.filter(user=stranger).exists()


def test_everything_wrong_with_an_invitation_is_said_at_once(club, organiser, outsider):
    foreign = factories.GuestFactory(club=outsider.club)
    with pytest.raises(InvitationRefused) as refusal:
        invite(club, uses_allowed=2, days=0, makes_umpire=True, guest=foreign, by=organiser)
    assert [each.code for each in refusal.value.violations] == ["range", "office", "guest", "unknown"]


def test_a_link_for_a_guest_makes_that_very_row_a_member(club, organiser, guest, stranger):
    _, secret = invite(club, guest=guest, by=organiser)
    member = join_by(secret, user=stranger, name="")
    assert (member.pk, member.user, member.name) == (guest.pk, stranger, "Gorran")


def test_whoever_left_comes_back_to_the_same_row(club, organiser, member):
    leave_club(member, by=member)
    _, secret = invite(club, by=organiser)
    back = join_by(secret, user=member.user, name="Brannoc")
    assert (back.pk, back.left_at) == (member.pk, None)


def test_a_refused_name_spends_no_use(club, organiser, stranger):
    invitation, secret = invite(club, by=organiser)
    with pytest.raises(InvitationRefused, match="name"):
        join_by(secret, user=stranger, name=" ")
    invitation.refresh_from_db()
    assert invitation.uses == 0


def test_the_list_says_what_each_link_still_does(club, organiser, stranger):
    now = timezone.now()
    invite(club, by=organiser)
    join_by(invite(club, by=organiser)[1], user=stranger, name="Isolde")
    expired, _ = invite(club, by=organiser)
    Invitation.objects.filter(pk=expired.pk).update(expires_at=now)
    revoke_invitation(invite(club, by=organiser)[0], by=organiser)
    assert state(club) == ["revoked", "expired", "used", "open"]


def test_revoking_twice_keeps_the_first_hour(club, organiser):
    invitation, _ = invite(club, by=organiser)
    first = revoke_invitation(invitation, by=organiser).revoked_at
    assert revoke_invitation(invitation, by=organiser).revoked_at == first


def test_the_link_is_shown_once(club, organiser, browse):
    browser = browse(organiser)
    browser.post("/clubs/weir-street/invitations/new/", {"uses_allowed": 1, "days": 14})
    assert "http://testserver/join/" in browser.get("/clubs/weir-street/invitations/").content.decode()
    assert "/join/" not in browser.get("/clubs/weir-street/invitations/").content.decode()


def test_a_button_revokes_an_invitation(club, organiser, browse):
    invitation, _ = invite(club, by=organiser)
    response = browse(organiser).post(f"/clubs/weir-street/invitations/{invitation.pk}/revoke/")
    assert response.url == "/clubs/weir-street/invitations/"
    assert state(club) == ["revoked"]


def test_a_link_of_another_club_cannot_be_revoked(organiser, outsider, browse):
    foreign, _ = invite(outsider.club, by=outsider)
    assert browse(organiser).post(f"/clubs/weir-street/invitations/{foreign.pk}/revoke/").status_code == 404
