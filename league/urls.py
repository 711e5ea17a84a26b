"""Composition only: every room brings its own addresses."""

from __future__ import annotations

from django.urls import include, path, re_path
from drf_spectacular.views import SpectacularJSONAPIView, SpectacularSwaggerSplitView

from league.api import no_such_address
from league.home import endpoints
from league.seasons.endpoints.files import SeasonSchema

IN_CLUB = "clubs/<slug:club>/"

schemas = [
    path("season.json", SeasonSchema.as_view(), name="api-schema-season"),
]

api = [
    path("", endpoints.ApiRoot.as_view(), name="api-root"),
    path("openapi.json", SpectacularJSONAPIView.as_view(), name="schema"),
    path("docs/", SpectacularSwaggerSplitView.as_view(url_name="schema"), name="api-docs"),
    path("", include("accounts.api_urls")),
    path("", include("league.clubs.api_urls")),
    path(IN_CLUB, include("league.rulesets.api_urls")),
    path(IN_CLUB, include("league.rosters.api_urls")),
    path(IN_CLUB, include("league.battles.api_urls")),
    path(IN_CLUB, include("league.seasons.api_urls")),
    path(IN_CLUB, include("league.stores.api_urls")),
    path(IN_CLUB, include("league.campaigns.api_urls")),
    path("schemas/", include(schemas)),
    re_path(r"^(?P<path>.*)$", no_such_address, name="api-nowhere"),
]

urlpatterns = [
    path("account/", include("allauth.urls")),
    path("account/", include("accounts.urls")),
    path("", include("league.clubs.urls")),
    path("", include("league.home.urls")),
    path(IN_CLUB, include("league.rulesets.urls")),
    path(IN_CLUB, include("league.rosters.urls")),
    path(IN_CLUB, include("league.battles.urls")),
    path(IN_CLUB, include("league.seasons.urls")),
    path(IN_CLUB, include("league.stores.urls")),
    path(IN_CLUB, include("league.campaigns.urls")),
    path("api/v1/", include(api)),
]

handler400 = "league.api.problems.bad_request"
handler403 = "league.api.problems.not_allowed"
handler404 = "league.api.problems.not_found"
handler500 = "league.api.problems.broken"
