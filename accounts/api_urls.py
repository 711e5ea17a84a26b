from __future__ import annotations

from django.urls import path

from accounts.endpoints import Tokens

urlpatterns = [
    path("tokens/", Tokens.as_view({"get": "list", "post": "create"}), name="api-tokens"),
    path("tokens/<int:pk>/", Tokens.as_view({"delete": "destroy"}), name="api-token"),
]
