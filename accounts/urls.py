from __future__ import annotations

from django.urls import path

from accounts import views

urlpatterns = [
    path("", views.AccountPage.as_view(), name="account"),
    path("name/", views.NameEdit.as_view(), name="account-name"),
    path("tokens/", views.TokensPage.as_view(), name="tokens"),
    path("tokens/new/", views.TokenNew.as_view(), name="token-new"),
    path("tokens/<int:pk>/revoke/", views.TokenRevoke.as_view(), name="token-revoke"),
]
