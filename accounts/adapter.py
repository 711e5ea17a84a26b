"""Who may open an account: whoever holds an invitation, or anyone where the site says so."""

from __future__ import annotations

from allauth.account.adapter import DefaultAccountAdapter
from django.conf import settings
from django.http import HttpRequest
from django.utils import timezone

__all__ = ["INVITED", "Adapter", "invited_to", "keep_invitation"]

# The page an invitation link opens keeps its own address here, and the sign-up page then lets its bearer in.
INVITED = "invited"


def keep_invitation(request: HttpRequest, *, path: str, until: float) -> None:
    """Remember for this browser that an invitation at `path` is good until the POSIX time `until`."""
    request.session[INVITED] = {"path": path, "until": until}


def invited_to(request: HttpRequest) -> str | None:
    """The page of the invitation this browser holds, while it is good."""
    held = request.session.get(INVITED)
    if not isinstance(held, dict) or held.get("until", 0) <= timezone.now().timestamp():
        return None
    return str(held["path"])


class Adapter(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return settings.SIGNUP_IS_OPEN or invited_to(request) is not None

    def get_signup_redirect_url(self, request: HttpRequest) -> str:
        return invited_to(request) or super().get_signup_redirect_url(request)
