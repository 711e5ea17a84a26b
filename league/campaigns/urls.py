"""Addresses of campaigns under a club."""

from __future__ import annotations

from django.urls import path

from league.campaigns.views import chronicle, desk, drawing_up, enlisting, maps, play

DRAFT = "campaigns/drafts/<int:pk>/"

urlpatterns = [
    path("campaigns/", play.CampaignsPage.as_view(), name="campaigns"),
    path("campaigns/<int:pk>/", play.CampaignPage.as_view(), name="campaign"),
    path("campaigns/<int:pk>/orders/", play.Orders.as_view(), name="campaign-orders"),
    path("campaigns/<int:pk>/reveal-due/", play.RevealDue.as_view(), name="campaign-reveal-due"),
    path("campaigns/<int:pk>/turns/<int:turn>/", chronicle.TurnPage.as_view(), name="campaign-turn"),
    path("campaigns/<int:pk>/lines/", chronicle.PlotsPage.as_view(), name="campaign-plots"),
    path("campaigns/<int:pk>/dice/", chronicle.DicePage.as_view(), name="campaign-dice"),
    path("campaigns/<int:pk>/turns/<int:turn>/stories/new/", chronicle.StoryNew.as_view(), name="story-new"),
    path("campaigns/<int:pk>/stories/<int:story>/hide/", chronicle.StoryHide.as_view(), name="story-hide"),
    path("campaigns/<int:pk>/feed/", chronicle.Feed.as_view(), name="campaign-feed"),
    path("campaigns/new/", drawing_up.CampaignNew.as_view(), name="campaign-new"),
    path("campaigns/import/", drawing_up.CampaignImport.as_view(), name="campaign-import"),
    path(DRAFT, drawing_up.DraftDesk.as_view(), name="campaign-draft"),
    path(f"{DRAFT}about/", drawing_up.AboutEdit.as_view(), name="draft-about"),
    path(f"{DRAFT}factions/", drawing_up.FactionsEdit.as_view(), name="draft-factions"),
    path(f"{DRAFT}start/", drawing_up.StartEdit.as_view(), name="draft-start"),
    path(f"{DRAFT}rules/", drawing_up.RulesEdit.as_view(), name="draft-rules"),
    path(f"{DRAFT}begin/", drawing_up.Begin.as_view(), name="campaign-begin"),
    path(f"{DRAFT}forces/", enlisting.ForcesPage.as_view(), name="draft-forces"),
    path(f"{DRAFT}new-force/", enlisting.ForceNew.as_view(), name="force-new"),
    path(f"{DRAFT}forces/<str:force>/", enlisting.ForceEdit.as_view(), name="force-edit"),
    path(f"{DRAFT}forces/<str:force>/remove/", enlisting.ForceRemove.as_view(), name="force-remove"),
    path(f"{DRAFT}map/", maps.MapEditor.as_view(), name="draft-map"),
    path(f"{DRAFT}map/file/", maps.MapFile.as_view(), name="draft-map-file"),
    path(f"{DRAFT}map/new-region/", maps.RegionNew.as_view(), name="region-new"),
    path(f"{DRAFT}map/regions/<str:region>/", maps.RegionEdit.as_view(), name="region-edit"),
    path(f"{DRAFT}map/regions/<str:region>/remove/", maps.RegionRemove.as_view(), name="region-remove"),
    path(f"{DRAFT}map/new-road/", maps.RoadNew.as_view(), name="road-new"),
    path(f"{DRAFT}map/roads/<str:road>/", maps.RoadEdit.as_view(), name="road-edit"),
    path(f"{DRAFT}map/roads/<str:road>/remove/", maps.RoadRemove.as_view(), name="road-remove"),
    path("campaigns/<int:pk>/seats/", enlisting.SeatsPage.as_view(), name="seats"),
    path("campaigns/<int:pk>/seats/<int:chair>/leave/", enlisting.SeatLeave.as_view(), name="seat-leave"),
    path("campaigns/<int:pk>/map.json", maps.MapJson.as_view(), name="campaign-map-json"),
    path("campaigns/<int:pk>/map.graphml", maps.MapGraphml.as_view(), name="campaign-map-graphml"),
    path("campaigns/<int:pk>/map/edit/", maps.MapEdit.as_view(), name="map-edit"),
    path("campaigns/<int:pk>/desk/", desk.DeskPage.as_view(), name="campaign-desk"),
    path("campaigns/<int:pk>/desk/deadline/", desk.DeadlineSet.as_view(), name="campaign-deadline"),
    path("campaigns/<int:pk>/desk/reveal/", desk.OrdersReveal.as_view(), name="campaign-reveal"),
    path("campaigns/<int:pk>/desk/close/", desk.TurnClose.as_view(), name="campaign-close"),
    path("campaigns/<int:pk>/desk/end/", desk.WarEnd.as_view(), name="campaign-end"),
    path("campaigns/<int:pk>/desk/dice/draw/", desk.DiceDraw.as_view(), name="campaign-dice-draw"),
    path("campaigns/<int:pk>/desk/dice/<int:place>/", desk.DiceEnter.as_view(), name="campaign-dice-enter"),
    path("campaigns/<int:pk>/desk/battles/<str:battle>/book/", desk.BattleBook.as_view(), name="battle-book"),
    path(
        "campaigns/<int:pk>/desk/battles/<str:battle>/put-off/", desk.BattlePostpone.as_view(), name="battle-postpone"
    ),
    path("campaigns/<int:pk>/desk/battles/<str:battle>/concede/", desk.BattleConcede.as_view(), name="battle-concede"),
    path("campaigns/<int:pk>/desk/battles/<str:battle>/tell/", desk.BattleTell.as_view(), name="battle-tell"),
    path("campaigns/<int:pk>/desk/battles/<str:battle>/reckon/", desk.BattleSimulate.as_view(), name="battle-simulate"),
    path("campaigns/<int:pk>/desk/forces/new/", desk.ForceRaise.as_view(), name="force-raise"),
    path("campaigns/<int:pk>/desk/rulings/new/", desk.RulingNew.as_view(), name="ruling-new"),
    path("campaigns/<int:pk>/desk/corrections/<int:fact>/", desk.CorrectionPage.as_view(), name="correction"),
    path(
        "campaigns/<int:pk>/desk/corrections/<int:fact>/settle/",
        desk.CorrectionSettle.as_view(),
        name="correction-settle",
    ),
    path("campaigns/<int:pk>/desk/outlook/", desk.OutlookPage.as_view(), name="campaign-outlook"),
]
