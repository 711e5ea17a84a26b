from __future__ import annotations

from django.urls import URLPattern, path

from league.seasons import urls as _pages  # noqa: F401 - makes the converter `key` known
from league.seasons.endpoints import drafts, forecast, formats, ratings
from league.seasons.endpoints import seasons as endpoints

SEASON = "seasons/<int:season>/"
PAIRING = f"{SEASON}rounds/<int:number>/pairings/"

urlpatterns: list[URLPattern] = [
    path("seasons/", endpoints.Seasons.as_view({"get": "list", "post": "create"}), name="api-seasons"),
    path("seasons/document/", endpoints.Documents.as_view(), name="api-season-import"),
    path(
        "seasons/<int:pk>/",
        endpoints.Seasons.as_view({"get": "retrieve", "patch": "partial_update"}),
        name="api-season",
    ),
    path(f"{SEASON}close/", endpoints.Close.as_view(), name="api-season-close"),
    path(f"{SEASON}format/", drafts.Format.as_view(), name="api-season-format"),
    path(f"{SEASON}ladder/", formats.Ladder.as_view(), name="api-ladder"),
    path(f"{SEASON}bracket/", formats.Bracket.as_view(), name="api-bracket"),
    path(f"{SEASON}divisions/", formats.Divisions.as_view(), name="api-divisions"),
    path(f"{SEASON}challenges/", formats.Challenges.as_view(), name="api-challenges"),
    path(f"{SEASON}draw-up/", drafts.DrawUp.as_view(), name="api-season-draw-up"),
    path(f"{SEASON}entrants/<key:entrant>/place/", drafts.Place.as_view(), name="api-entrant-place"),
    path(f"{SEASON}rounds/<int:number>/draft/", drafts.DraftOf.as_view(), name="api-round-draft"),
    path(f"{SEASON}rounds/<int:number>/publication/", drafts.Publication.as_view(), name="api-round-publish"),
    path(f"{SEASON}rounds/<int:number>/pins/", drafts.Pins.as_view(), name="api-pins"),
    path(f"{SEASON}rounds/<int:number>/pins/<int:pin>/", drafts.Unpin.as_view(), name="api-pin"),
    path(f"{PAIRING}<key:pairing>/postponement/", drafts.Postponement.as_view(), name="api-pairing-postpone"),
    path(f"{SEASON}document/", endpoints.OneDocument.as_view(), name="api-season-document"),
    path(f"{SEASON}entrants/", endpoints.Entrants.as_view({"get": "list", "post": "create"}), name="api-entrants"),
    path(
        f"{SEASON}entrants/<key:entrant>/withdraw/",
        endpoints.Entrants.as_view({"post": "withdraw"}),
        name="api-entrant-withdraw",
    ),
    path(
        f"{SEASON}entrants/<key:entrant>/readmit/",
        endpoints.Entrants.as_view({"post": "readmit"}),
        name="api-entrant-readmit",
    ),
    path(f"{SEASON}rounds/", endpoints.Rounds.as_view({"get": "list", "post": "create"}), name="api-rounds"),
    path(PAIRING, endpoints.Pairings.as_view({"get": "list", "post": "create"}), name="api-pairings"),
    path(f"{PAIRING}<key:pairing>/", endpoints.Pairings.as_view({"delete": "destroy"}), name="api-pairing"),
    path(f"{PAIRING}<key:pairing>/marks/", endpoints.Pairings.as_view({"post": "mark"}), name="api-pairing-marks"),
    path(
        f"{SEASON}adjustments/",
        endpoints.Adjustments.as_view({"get": "list", "post": "create"}),
        name="api-adjustments",
    ),
    path(f"{SEASON}forecast/", forecast.Forecast.as_view(), name="api-forecast"),
    path("ratings/", ratings.Ratings.as_view(), name="api-ratings"),
    path("ratings/<int:member>/", ratings.Curve.as_view(), name="api-rating"),
    path(f"{SEASON}standings/", endpoints.Standings.as_view(), name="api-standings"),
    path(
        f"{SEASON}standings/<key:entrant>/<str:column>/", endpoints.StandingsCell.as_view(), name="api-standings-cell"
    ),
]
