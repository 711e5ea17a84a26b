from __future__ import annotations

from django.urls import URLPattern, path

from league.campaigns.endpoints import drawing_up, maps

WAR = "campaigns/<int:campaign>/"
DRAFT = "campaigns/drafts/<int:draft>/"

urlpatterns: list[URLPattern] = [
    path("campaigns/drafts/", drawing_up.Drafts.as_view(), name="api-drafts"),
    path("campaigns/drafts/document/", drawing_up.Imports.as_view(), name="api-draft-import"),
    path(DRAFT, drawing_up.OneDraft.as_view(), name="api-draft"),
    path(f"{DRAFT}map/", maps.DraftMap.as_view(), name="api-draft-map"),
    path(f"{DRAFT}map/graphml/", maps.DraftGraphml.as_view(), name="api-draft-graphml"),
    path(f"{DRAFT}factions/", drawing_up.Factions.as_view(), name="api-draft-factions"),
    path(f"{DRAFT}start/", drawing_up.Start.as_view(), name="api-draft-start"),
    path(f"{DRAFT}rules/", drawing_up.Rules.as_view(), name="api-draft-rules"),
    path(f"{DRAFT}forces/", drawing_up.Forces.as_view(), name="api-draft-forces"),
    path(f"{DRAFT}forces/<str:force>/", drawing_up.OneForce.as_view(), name="api-draft-force"),
    path(f"{DRAFT}begin/", drawing_up.Begin.as_view(), name="api-draft-begin"),
    path(f"{WAR}seats/", drawing_up.Seats.as_view(), name="api-seats"),
    path(f"{WAR}seats/<int:chair>/", drawing_up.OneSeat.as_view(), name="api-seat"),
    path(f"{WAR}map/", maps.CampaignMap.as_view(), name="api-war-map"),
    path(f"{WAR}map/graphml/", maps.CampaignGraphml.as_view(), name="api-war-graphml"),
]
