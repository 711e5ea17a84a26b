from __future__ import annotations

from django.urls import path

from league.rosters.views.imports import RosterFromText, RosterImport
from league.rosters.views.reading import RosterCsv, RosterJson, RosterPage, RostersPage
from league.rosters.views.writing import (
    RosterBringBack,
    RosterCopy,
    RosterEdit,
    RosterNew,
    RosterRetire,
    UnitEdit,
    UnitNew,
    UnitRemove,
)

urlpatterns = [
    path("rosters/", RostersPage.as_view(), name="rosters"),
    path("rosters/new/", RosterNew.as_view(), name="roster-new"),
    path("rosters/new/from-text/", RosterFromText.as_view(), name="roster-from-text"),
    path("rosters/<int:pk>/", RosterPage.as_view(), name="roster"),
    path("rosters/<int:pk>/edit/", RosterEdit.as_view(), name="roster-edit"),
    path("rosters/<int:pk>/copy/", RosterCopy.as_view(), name="roster-copy"),
    path("rosters/<int:pk>/import/", RosterImport.as_view(), name="roster-import"),
    path("rosters/<int:pk>/retire/", RosterRetire.as_view(), name="roster-retire"),
    path("rosters/<int:pk>/bring-back/", RosterBringBack.as_view(), name="roster-bring-back"),
    path("rosters/<int:pk>/roster.csv", RosterCsv.as_view(), name="roster-csv"),
    path("rosters/<int:pk>/roster.json", RosterJson.as_view(), name="roster-json"),
    path("rosters/<int:pk>/units/new/", UnitNew.as_view(), name="unit-new"),
    path("rosters/<int:pk>/units/<int:unit>/edit/", UnitEdit.as_view(), name="unit-edit"),
    path("rosters/<int:pk>/units/<int:unit>/remove/", UnitRemove.as_view(), name="unit-remove"),
]
