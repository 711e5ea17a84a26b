"""Addresses of games and reports under a club."""

from __future__ import annotations

from django.urls import path

from league.battles.views import balance, dice, games, photos, plans, reports

urlpatterns = [
    path("log/", reports.QuickLog.as_view(), name="log"),
    path("balance/", balance.BalancePage.as_view(), name="balance"),
    path("games/", games.GamesPage.as_view(), name="games"),
    path("games/new/", plans.GameNew.as_view(), name="game-new"),
    path("games/<int:pk>/", games.GamePage.as_view(), name="game"),
    path("games/<int:pk>/edit/", plans.GameEdit.as_view(), name="game-edit"),
    path("games/<int:pk>/start/", games.GameStart.as_view(), name="game-start"),
    path("games/<int:pk>/cancel/", games.GameCancel.as_view(), name="game-cancel"),
    path("games/<int:pk>/rosters/", games.GameRosters.as_view(), name="game-rosters"),
    path("games/<int:pk>/report/", reports.ReportNew.as_view(), name="report-new"),
    path("games/<int:pk>/photos/new/", photos.PhotoNew.as_view(), name="photo-new"),
    path("reports/<int:pk>/", reports.ReportPage.as_view(), name="report"),
    path("reports/<int:pk>/correct/", reports.ReportCorrect.as_view(), name="report-correct"),
    path("reports/<int:pk>/confirm/", reports.ReportConfirm.as_view(), name="report-confirm"),
    path("reports/<int:pk>/dispute/", reports.ReportDispute.as_view(), name="report-dispute"),
    path("reports/<int:pk>/settle/", reports.ReportSettle.as_view(), name="report-settle"),
    path("reports/<int:pk>/dice/", dice.DicePage.as_view(), name="rolls"),
    path("reports/<int:pk>/dice/draw/", dice.DiceDraw.as_view(), name="rolls-draw"),
    path("photos/<int:pk>/", photos.PhotoFile.as_view(), name="photo"),
    path("photos/<int:pk>/remove/", photos.PhotoRemove.as_view(), name="photo-remove"),
]
