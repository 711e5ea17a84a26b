"""Which club a request is about, and as which member the person acts in it.

Pages and API resolve both here, so that another club's address answers 404 everywhere in the same way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode

from accounts.models import User
from league.clubs.models import Club, Member

__all__ = ["InClub", "InClubApi", "Scope", "scope_of"]


@dataclass(frozen=True, slots=True)
class Scope:
    club: Club
    member: Member | None  # None: a visitor who sees the public pages only


def scope_of(user: User, slug: str, *, visitors: bool = True) -> Scope:
    """The club at this address, as this person sees it; `visitors` lets others than members into public clubs.

    Raises:
        Http404: there is no such club, or none that this person may see.
    """
    club = Club.objects.filter(slug=slug).first()
    if club is None:
        raise Http404
    member = Member.objects.present().filter(club=club, user=user.pk).first() if user.is_authenticated else None
    if member is None and not (visitors and club.is_public):
        raise Http404
    return Scope(club, member)


class InClub:
    """For pages under /clubs/<club>/: gives `self.club` and `self.member`.

    Members only, unless `is_open` lets visitors of a public club in. `allows` is the predicate of permissions.py
    that the page stands under.
    """

    is_open = False
    club: Club
    member: Member | None

    def allows(self) -> bool:
        return True

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            scope = scope_of(request.user, kwargs["club"], visitors=self.is_open)
        except Http404:
            if request.user.is_authenticated:
                raise
            # Signed out, a private club and no club at all look the same.
            return redirect(f"{reverse('account_login')}?{urlencode({'next': request.get_full_path()})}")
        self.club, self.member = scope.club, scope.member
        timezone.activate(self.club.zone)
        if not self.allows():
            raise PermissionDenied
        return super().dispatch(request, *args, **kwargs)  # type: ignore[misc,no-any-return]

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        # After super(): the address's own `club`, a bare word, is among what it returns.
        return {**super().get_context_data(**context), "club": self.club, "me": self.member}  # type: ignore[misc]


class InClubApi:
    """For endpoints under /api/v1/clubs/<club>/: gives `self.club` and `self.member`; strangers get 404."""

    club: Club
    member: Member

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)  # type: ignore[misc]
        scope = scope_of(request.user, kwargs["club"])
        if scope.member is None:
            raise Http404
        self.club, self.member = scope.club, scope.member
        timezone.activate(self.club.zone)

    def require(self, allowed: bool) -> None:  # noqa: FBT001 - the answer of a predicate
        """Refuse with 403 unless the predicate said yes."""
        if not allowed:
            raise PermissionDenied
