"""A person's tokens over the API."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from accounts.models import ApiToken
from accounts.queries import tokens_of
from accounts.serializers import NewTokenSerializer, TokenSerializer, TokenWithSecretSerializer
from accounts.services import issue_token, revoke_token

__all__ = ["Tokens"]


@extend_schema_view(list=extend_schema(summary="List my tokens"))
class Tokens(mixins.ListModelMixin, GenericViewSet[ApiToken]):
    """The tokens of the person who asks, the latest first; secrets are never listed."""

    queryset = ApiToken.objects.none()
    serializer_class = TokenSerializer

    def get_queryset(self) -> QuerySet[ApiToken]:
        return tokens_of(self.request.user, timezone.now())

    @extend_schema(
        summary="Make a token (signed in by browser only)",
        request=NewTokenSerializer,
        responses={201: TokenWithSecretSerializer},
    )
    def create(self, request: Any) -> Response:
        """A program cannot prolong its own life: a token makes no tokens."""
        if request.auth is not None:
            raise PermissionDenied(_("A token makes no tokens. Sign in and make one on the page of your account."))
        wanted = NewTokenSerializer(data=request.data)
        wanted.is_valid(raise_exception=True)
        token, secret = issue_token(request.user, **wanted.validated_data)
        return Response({"id": token.pk, "secret": secret}, status=status.HTTP_201_CREATED)

    @extend_schema(summary="Revoke a token", request=None, responses={204: None})
    def destroy(self, request: Any, pk: int) -> Response:
        """The token stays in the list as revoked."""
        revoke_token(get_object_or_404(ApiToken.objects.visible_to(request.user), pk=pk))
        return Response(status=status.HTTP_204_NO_CONTENT)
