from __future__ import annotations

from django.urls import path

from league.rulesets.endpoints import Editions, Rulesets

ROW = {"get": "retrieve", "put": "update"}

urlpatterns = [
    path("rulesets/", Rulesets.as_view({"get": "list", "post": "create"}), name="api-rulesets"),
    path("rulesets/<int:pk>/", Rulesets.as_view(ROW), name="api-ruleset"),
    path("rulesets/<int:pk>/retire/", Rulesets.as_view({"post": "retire"}), name="api-ruleset-retire"),
    path("rulesets/<int:pk>/bring-back/", Rulesets.as_view({"post": "bring_back"}), name="api-ruleset-bring-back"),
    path("rulesets/<int:ruleset>/editions/", Editions.as_view({"get": "list"}), name="api-editions"),
    path(
        "rulesets/<int:ruleset>/editions/<int:number>/",
        Editions.as_view({"get": "retrieve"}),
        name="api-edition",
    ),
]
