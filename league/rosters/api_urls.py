from __future__ import annotations

from django.urls import path

from league.rosters.endpoints import Rosters, Units

LIST = {"get": "list", "post": "create"}
UNIT = {"get": "retrieve", "patch": "partial_update", "delete": "destroy"}

urlpatterns = [
    path("rosters/", Rosters.as_view(LIST), name="api-rosters"),
    path("rosters/<int:pk>/", Rosters.as_view({"get": "retrieve", "patch": "partial_update"}), name="api-roster"),
    path("rosters/<int:pk>/copy/", Rosters.as_view({"post": "copy"}), name="api-roster-copy"),
    path("rosters/<int:pk>/import/", Rosters.as_view({"post": "import_text"}), name="api-roster-import"),
    path("rosters/<int:pk>/retire/", Rosters.as_view({"post": "retire"}), name="api-roster-retire"),
    path("rosters/<int:pk>/bring-back/", Rosters.as_view({"post": "bring_back"}), name="api-roster-bring-back"),
    path("rosters/<int:pk>/strength/", Rosters.as_view({"get": "strength"}), name="api-roster-strength"),
    path("rosters/<int:roster>/units/", Units.as_view(LIST), name="api-units"),
    path("rosters/<int:roster>/units/<int:pk>/", Units.as_view(UNIT), name="api-unit"),
]
