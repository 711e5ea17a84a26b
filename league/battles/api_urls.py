"""Addresses of games and reports under a club of the API."""

from __future__ import annotations

from django.urls import path

from league.battles.endpoints.balance import Balance
from league.battles.endpoints.games import Games, Log
from league.battles.endpoints.photos import GamePhotos, Photos
from league.battles.endpoints.reports import GameReports, Reports

urlpatterns = [
    path("balance/", Balance.as_view(), name="api-balance"),
    path("games/", Games.as_view({"get": "list", "post": "create"}), name="api-games"),
    path("games/<int:pk>/", Games.as_view({"get": "retrieve"}), name="api-game"),
    path("games/<int:pk>/start/", Games.as_view({"post": "start"}), name="api-game-start"),
    path("games/<int:pk>/cancel/", Games.as_view({"post": "cancel"}), name="api-game-cancel"),
    path("games/<int:pk>/rosters/", Games.as_view({"post": "rosters"}), name="api-game-rosters"),
    path("games/<int:game>/reports/", GameReports.as_view({"post": "create"}), name="api-game-reports"),
    path("games/<int:game>/photos/", GamePhotos.as_view({"get": "list", "post": "create"}), name="api-game-photos"),
    path("game-log/", Log.as_view({"post": "create"}), name="api-game-log"),
    path("reports/", Reports.as_view({"get": "list"}), name="api-reports"),
    path("reports/<int:pk>/", Reports.as_view({"get": "retrieve"}), name="api-report"),
    path("reports/<int:pk>/corrections/", Reports.as_view({"post": "correct"}), name="api-report-corrections"),
    path("reports/<int:pk>/confirm/", Reports.as_view({"post": "confirm"}), name="api-report-confirm"),
    path("reports/<int:pk>/dispute/", Reports.as_view({"post": "dispute"}), name="api-report-dispute"),
    path("reports/<int:pk>/settle/", Reports.as_view({"post": "settle"}), name="api-report-settle"),
    path("reports/<int:pk>/rolls/", Reports.as_view({"post": "rolls"}), name="api-report-rolls"),
    path("reports/<int:pk>/draw/", Reports.as_view({"post": "draw"}), name="api-report-draw"),
    path("photos/<int:pk>/", Photos.as_view({"get": "retrieve", "delete": "destroy"}), name="api-photo"),
]
