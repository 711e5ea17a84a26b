from __future__ import annotations

from django.urls import URLPattern, path

from league.seasons import urls as _pages  # noqa: F401 - makes the converter `key` known
from league.seasons.endpoints import (
    divisions,
    drafts,
    entrants,
    files,
    fixtures,
    forecast,
    formats,
    ratings,
    rounds,
    seasons,
    standings,
)

SEASON = "seasons/<int:season>/"
PAIRING = f"{SEASON}rounds/<int:number>/pairings/"

urlpatterns: list[URLPattern] = [
    path("seasons/", seasons.Seasons.as_view({"get": "list", "post": "create"}), name="api-seasons"),
    path("seasons/document/", files.Documents.as_view(), name="api-season-import"),
    path(
        "seasons/<int:pk>/",
        seasons.Seasons.as_view({"get": "retrieve", "patch": "partial_update"}),
        name="api-season",
    ),
    path(f"{SEASON}close/", seasons.Close.as_view(), name="api-season-close"),
    path(f"{SEASON}format/", drafts.Format.as_view(), name="api-season-format"),
    path(f"{SEASON}seeding/", entrants.Seeding.as_view(), name="api-seeding"),
    path(f"{SEASON}ladder/", formats.Ladder.as_view(), name="api-ladder"),
    path(f"{SEASON}bracket/", formats.Bracket.as_view(), name="api-bracket"),
    path(f"{SEASON}divisions/", divisions.Divisions.as_view(), name="api-divisions"),
    path(f"{SEASON}divisions/<key:division>/", divisions.OneDivision.as_view(), name="api-division"),
    path(f"{SEASON}next-season/", divisions.NextSeason.as_view(), name="api-next-season"),
    path(f"{SEASON}fixtures/", fixtures.Fixtures.as_view(), name="api-fixtures"),
    path(f"{SEASON}challenges/", formats.Challenges.as_view(), name="api-challenges"),
    path(f"{SEASON}draw-up/", drafts.DrawUp.as_view(), name="api-season-draw-up"),
    path(f"{SEASON}entrants/<key:entrant>/place/", entrants.Place.as_view(), name="api-entrant-place"),
    path(f"{SEASON}rounds/<int:number>/draft/", drafts.DraftOf.as_view(), name="api-round-draft"),
    path(f"{SEASON}rounds/<int:number>/publication/", drafts.Publication.as_view(), name="api-round-publish"),
    path(f"{SEASON}rounds/<int:number>/pins/", drafts.Pins.as_view(), name="api-pins"),
    path(f"{SEASON}rounds/<int:number>/pins/<int:pin>/", drafts.Unpin.as_view(), name="api-pin"),
    path(f"{PAIRING}<key:pairing>/postponement/", rounds.Postponement.as_view(), name="api-pairing-postpone"),
    path(f"{SEASON}document/", files.OneDocument.as_view(), name="api-season-document"),
    path(f"{SEASON}entrants/", entrants.Entrants.as_view({"get": "list", "post": "create"}), name="api-entrants"),
    path(
        f"{SEASON}entrants/<key:entrant>/withdraw/",
        entrants.Entrants.as_view({"post": "withdraw"}),
        name="api-entrant-withdraw",
    ),
    path(
        f"{SEASON}entrants/<key:entrant>/readmit/",
        entrants.Entrants.as_view({"post": "readmit"}),
        name="api-entrant-readmit",
    ),
    path(f"{SEASON}rounds/", rounds.Rounds.as_view({"get": "list", "post": "create"}), name="api-rounds"),
    path(PAIRING, rounds.Pairings.as_view({"get": "list", "post": "create"}), name="api-pairings"),
    path(f"{PAIRING}<key:pairing>/", rounds.Pairings.as_view({"delete": "destroy"}), name="api-pairing"),
    path(f"{PAIRING}<key:pairing>/marks/", rounds.Pairings.as_view({"post": "mark"}), name="api-pairing-marks"),
    path(
        f"{SEASON}adjustments/",
        standings.Adjustments.as_view({"get": "list", "post": "create"}),
        name="api-adjustments",
    ),
    path(f"{SEASON}forecast/", forecast.Forecast.as_view(), name="api-forecast"),
    path("ratings/", ratings.Ratings.as_view(), name="api-ratings"),
    path("ratings/<int:member>/", ratings.Curve.as_view(), name="api-rating"),
    path(f"{SEASON}standings/", standings.Standings.as_view(), name="api-standings"),
    path(
        f"{SEASON}standings/<key:entrant>/<str:column>/", standings.StandingsCell.as_view(), name="api-standings-cell"
    ),
]
