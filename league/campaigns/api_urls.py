from __future__ import annotations

from django.urls import URLPattern, path

from league.campaigns.endpoints import desk, drawing_up, maps, play

WAR = "campaigns/<int:campaign>/"
DRAFT = "campaigns/drafts/<int:draft>/"
BATTLE = f"{WAR}battles/<str:battle>/"

urlpatterns: list[URLPattern] = [
    path("campaigns/", play.Campaigns.as_view({"get": "list"}), name="api-campaigns"),
    path("campaigns/<int:pk>/", play.Campaigns.as_view({"get": "retrieve"}), name="api-campaign"),
    path(f"{WAR}now/", play.Now.as_view(), name="api-war-now"),
    path(f"{WAR}turns/<int:turn>/", play.Turn.as_view(), name="api-war-turn"),
    path(f"{WAR}orders/", play.Orders.as_view(), name="api-war-orders"),
    path(f"{WAR}reveal-due/", play.Due.as_view(), name="api-war-due"),
    path(f"{WAR}dice/", play.Dice.as_view(), name="api-war-dice"),
    path(f"{WAR}document/", play.Document.as_view(), name="api-war-document"),
    path(f"{WAR}stories/", play.Stories.as_view({"get": "list", "post": "create"}), name="api-stories"),
    path(f"{WAR}stories/<int:story>/", play.StoryHide.as_view({"delete": "destroy"}), name="api-story"),
    path(f"{WAR}desk/", desk.Desk.as_view(), name="api-war-desk"),
    path(f"{WAR}deadline/", desk.Deadline.as_view(), name="api-war-deadline"),
    path(f"{WAR}reveal/", desk.Reveal.as_view(), name="api-war-reveal"),
    path(f"{WAR}close/", desk.Close.as_view(), name="api-war-close"),
    path(f"{WAR}rolls/", desk.Rolls.as_view(), name="api-war-rolls"),
    path(f"{WAR}rolls/draw/", desk.DrawRolls.as_view(), name="api-war-rolls-draw"),
    path(f"{BATTLE}game/", desk.BattleBook.as_view(), name="api-battle-book"),
    path(f"{BATTLE}put-off/", desk.BattlePostpone.as_view(), name="api-battle-postpone"),
    path(f"{BATTLE}concede/", desk.BattleConcede.as_view(), name="api-battle-concede"),
    path(f"{BATTLE}tell/", desk.BattleTell.as_view(), name="api-battle-tell"),
    path(f"{BATTLE}simulation/", desk.BattleSimulation.as_view(), name="api-battle-simulation"),
    path(f"{WAR}reinforcements/", desk.Reinforcements.as_view(), name="api-force-raise"),
    path(f"{WAR}rulings/", desk.Rulings.as_view(), name="api-rulings"),
    path(f"{WAR}corrections/", desk.Corrections.as_view(), name="api-corrections"),
    path(f"{WAR}corrections/<int:fact>/accept/", desk.CorrectionAccept.as_view(), name="api-correction-accept"),
    path(f"{WAR}corrections/<int:fact>/settle/", desk.CorrectionSettle.as_view(), name="api-correction-settle"),
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
