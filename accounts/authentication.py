"""How a program proves who it is: a bearer token, or the browser's session."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework import authentication, exceptions
from rest_framework.permissions import SAFE_METHODS

from accounts.models import ApiToken

# Writing the hour of last use at every call would turn every read into a write.
USE_NOTED_EVERY = timedelta(hours=1)


class TokenAuthentication(authentication.BaseAuthentication):
    keyword = "Bearer"

    def authenticate(self, request: Any) -> tuple[Any, ApiToken] | None:
        scheme, _space, secret = request.headers.get("Authorization", "").partition(" ")
        if scheme.lower() != self.keyword.lower():
            return None
        now = timezone.now()
        token = (
            ApiToken.objects.alive(now).filter(digest=ApiToken.digest_of(secret.strip())).select_related("user").first()
        )
        if token is None:
            raise exceptions.AuthenticationFailed(_("This token is not known, has expired or was revoked."))
        if not token.may_write and request.method not in SAFE_METHODS:
            raise exceptions.PermissionDenied(_("This token may only read."))
        if token.used_at is None or now - token.used_at > USE_NOTED_EVERY:
            ApiToken.objects.filter(pk=token.pk).update(used_at=now)
        return token.user, token

    def authenticate_header(self, request: Any) -> str:  # noqa: ARG002 - the framework's signature
        return self.keyword


class SessionAuthentication(authentication.SessionAuthentication):
    def authenticate_header(self, request: Any) -> str:  # noqa: ARG002 - the framework's signature
        return TokenAuthentication.keyword


class TokenScheme(OpenApiAuthenticationExtension):
    target_class = TokenAuthentication
    name = "token"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:  # noqa: ARG002 - the framework's
        return {"type": "http", "scheme": "bearer"}


class SessionScheme(OpenApiAuthenticationExtension):
    target_class = SessionAuthentication
    name = "session"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:  # noqa: ARG002 - the framework's
        return {"type": "apiKey", "in": "cookie", "name": "session"}
