from __future__ import annotations

from django.urls import include, path

from league.clubs.views import clubs, invitations, members, nights, venues

in_club = [
    path("edit/", clubs.ClubEdit.as_view(), name="club-edit"),
    path("book/", clubs.BookPage.as_view(), name="book"),
    path("members/", members.MembersPage.as_view(), name="members"),
    path("members/guests/new/", members.GuestNew.as_view(), name="guest-new"),
    path("members/<int:pk>/edit/", members.MemberEdit.as_view(), name="member-edit"),
    path("members/<int:pk>/name/", members.MemberName.as_view(), name="member-name"),
    path("members/<int:pk>/junior/", members.MemberJunior.as_view(), name="member-junior"),
    path("members/<int:pk>/remove/", members.MemberRemove.as_view(), name="member-remove"),
    path("my-privacy/", members.MyPrivacy.as_view(), name="my-privacy"),
    path("leave/", members.LeaveClub.as_view(), name="leave-club"),
    path("invitations/", invitations.InvitationsPage.as_view(), name="invitations"),
    path("invitations/new/", invitations.Invite.as_view(), name="invite"),
    path("invitations/<int:pk>/revoke/", invitations.InvitationRevoke.as_view(), name="invitation-revoke"),
    path("venues/", venues.VenuesPage.as_view(), name="venues"),
    path("venues/new/", venues.VenueNew.as_view(), name="venue-new"),
    path("venues/<int:pk>/", venues.VenuePage.as_view(), name="venue"),
    path("venues/<int:pk>/edit/", venues.VenueEdit.as_view(), name="venue-edit"),
    path("venues/<int:venue>/tables/new/", venues.TableNew.as_view(), name="table-new"),
    path("venues/<int:venue>/tables/<int:pk>/edit/", venues.TableEdit.as_view(), name="table-edit"),
    path("nights/", nights.NightsPage.as_view(), name="nights"),
    path("nights/new/", nights.NightNew.as_view(), name="night-new"),
    path("nights/<int:pk>/", nights.NightPage.as_view(), name="night"),
    path("nights/<int:pk>/edit/", nights.NightEdit.as_view(), name="night-edit"),
    path("nights/<int:pk>/cancel/", nights.NightCancel.as_view(), name="night-cancel"),
    path("nights/<int:pk>/answer/", nights.NightAnswer.as_view(), name="night-answer"),
]

urlpatterns = [
    path("clubs/new/", clubs.ClubNew.as_view(), name="club-new"),
    path("join/<str:secret>/", invitations.JoinPage.as_view(), name="join"),
    path("join/<str:secret>/sign-up/", invitations.SignUpToJoin.as_view(), name="join-sign-up"),
    path("clubs/<slug:club>/", include(in_club)),
]
