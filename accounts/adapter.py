"""Who may open an account: whoever holds an invitation, or anyone where the site says so."""

from __future__ import annotations

from allauth.account.adapter import DefaultAccountAdapter
from django.conf import settings
from django.http import HttpRequest

# The page an invitation link opens puts its club's address here, and the sign-up page then lets its bearer in.
INVITED = "invited"


class Adapter(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return settings.SIGNUP_IS_OPEN or INVITED in request.session
