"""Addresses of campaigns under a club."""

from __future__ import annotations

from django.urls import path

from league.campaigns.views import chronicle, play

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
]
