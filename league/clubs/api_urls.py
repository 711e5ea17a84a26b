from __future__ import annotations

from django.urls import include, path

from league.clubs.endpoints.clubs import Book, Me, MyClubs, OneClub
from league.clubs.endpoints.invitations import Invitations
from league.clubs.endpoints.members import Members
from league.clubs.endpoints.nights import NightAttendance, Nights
from league.clubs.endpoints.venues import Tables, Venues

LIST, ROW = {"get": "list", "post": "create"}, {"get": "retrieve", "patch": "partial_update"}

in_club = [
    path("", OneClub.as_view(), name="api-club"),
    path("members/", Members.as_view(LIST), name="api-members"),
    path("members/<int:pk>/", Members.as_view({"get": "retrieve"}), name="api-member"),
    path("members/<int:pk>/name/", Members.as_view({"patch": "rename"}), name="api-member-name"),
    path("members/<int:pk>/offices/", Members.as_view({"patch": "offices"}), name="api-member-offices"),
    path("members/<int:pk>/junior/", Members.as_view({"patch": "junior"}), name="api-member-junior"),
    path("members/<int:pk>/privacy/", Members.as_view({"patch": "privacy"}), name="api-member-privacy"),
    path("members/<int:pk>/leave/", Members.as_view({"post": "leave"}), name="api-member-leave"),
    path("invitations/", Invitations.as_view(LIST), name="api-invitations"),
    path("invitations/<int:pk>/", Invitations.as_view({"delete": "destroy"}), name="api-invitation"),
    path("venues/", Venues.as_view(LIST), name="api-venues"),
    path("venues/<int:pk>/", Venues.as_view(ROW), name="api-venue"),
    path("venues/<int:venue>/tables/", Tables.as_view(LIST), name="api-tables"),
    path("venues/<int:venue>/tables/<int:pk>/", Tables.as_view({"patch": "partial_update"}), name="api-table"),
    path("nights/", Nights.as_view(LIST), name="api-nights"),
    path("nights/<int:pk>/", Nights.as_view(ROW), name="api-night"),
    path("nights/<int:pk>/cancel/", Nights.as_view({"post": "cancel"}), name="api-night-cancel"),
    path("nights/<int:night>/attendance/", NightAttendance.as_view(LIST), name="api-attendance"),
    path("log/", Book.as_view({"get": "list"}), name="api-log"),
]

urlpatterns = [
    path("me/", Me.as_view(), name="api-me"),
    path("clubs/", MyClubs.as_view(LIST), name="api-clubs"),
    path("clubs/<slug:club>/", include(in_club)),
]
