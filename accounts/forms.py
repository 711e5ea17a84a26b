from __future__ import annotations

from django import forms
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from accounts.models import User


class SignUpForm(forms.Form):
    """What sign-up asks besides e-mail and password."""

    name = forms.CharField(
        label=_("Name"), max_length=80, help_text=_("As your club mates call you; a nickname will do.")
    )

    def signup(self, request: HttpRequest, user: User) -> None:
        """Called by allauth inside its own sign-up, with the unsaved rest of the person."""
        user.name = self.cleaned_data["name"]
        user.save(update_fields=["name"])
