from __future__ import annotations

from django.urls import path

from league.home import views

urlpatterns = [
    path("", views.Home.as_view(), name="home"),
    path("healthz", views.alive, name="healthz"),
    path("clubs/", views.Clubs.as_view(), name="clubs"),
    path("clubs/<slug:club>/", views.ClubFront.as_view(), name="club"),
    path("clubs/<slug:club>/players/<int:pk>/", views.Player.as_view(), name="player"),
    path("clubs/<slug:club>/desk/", views.DeskPage.as_view(), name="desk"),
]
