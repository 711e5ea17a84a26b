from __future__ import annotations

from django import forms
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from accounts.models import User

__all__ = ["NameForm", "SignUpForm", "TokenForm"]


class SignUpForm(forms.Form):
    """What sign-up asks besides e-mail and password."""

    name = forms.CharField(
        label=_("Name"), max_length=80, help_text=_("As your club mates call you; a nickname will do.")
    )

    def signup(self, request: HttpRequest, user: User) -> None:  # noqa: ARG002 - allauth's signature
        """Called by allauth inside its own sign-up, with the unsaved rest of the person."""
        user.name = self.cleaned_data["name"]
        user.save(update_fields=["name"])


class NameForm(forms.Form):
    name = forms.CharField(
        label=_("Name"),
        max_length=80,
        help_text=_("A nickname will do. Your name in a club is changed in the club."),
        error_messages={"required": _("Enter a name.")},
    )


class TokenForm(forms.Form):
    name = forms.CharField(
        label=_("What it is for"),
        max_length=80,
        help_text=_("So that you know later which one to revoke."),
        error_messages={"required": _("Say what the token is for.")},
    )
    days = forms.IntegerField(label=_("Good for how many days"), initial=365, min_value=1, max_value=730)
    may_write = forms.BooleanField(
        label=_("May write"), required=False, help_text=_("Without this, a program can only read what you can read.")
    )
