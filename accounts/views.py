"""A person's own account: name, tokens, and the way to password, e-mail and second factor."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.contrib.auth.mixins import LoginRequiredMixin
from django.shortcuts import get_object_or_404
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from accounts.forms import NameForm, TokenForm
from accounts.models import ApiToken
from accounts.queries import tokens_of
from accounts.services import change_name, issue_token, revoke_token
from accounts.tables import TokenTable
from league.web import ServiceFormView, TablePage

__all__ = ["AccountPage", "NameEdit", "TokenNew", "TokenRevoke", "TokensPage"]

# The secret of a new token waits here for the one page that shows it.
FRESH = "fresh_token"


class AccountPage(LoginRequiredMixin, TemplateView):
    template_name = "accounts/account.html"
    extra_context = {"title": _("Your account")}


class NameEdit(LoginRequiredMixin, ServiceFormView):
    template_name = "form_page.html"
    form_class = NameForm
    title = _("Change your name")
    success_url = reverse_lazy("account")
    done_message = _("Your name is changed.")

    def get_initial(self) -> dict[str, Any]:
        return {"name": self.request.user.name}

    def act(self, form: forms.BaseForm) -> Any:
        return change_name(self.request.user, **form.cleaned_data)


class TokensPage(LoginRequiredMixin, TablePage):
    table_class = TokenTable
    template_name = "accounts/tokens.html"
    title = _("Tokens for programs")
    csv_name = "tokens"

    def get_table_data(self) -> Iterable[ApiToken]:
        return tokens_of(self.request.user, timezone.now())

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {"fresh": self.request.session.pop(FRESH, None), **super().get_context_data(**context)}


class TokenNew(LoginRequiredMixin, ServiceFormView):
    template_name = "form_page.html"
    form_class = TokenForm
    title = _("Make a token")
    button = _("Make the token")
    success_url = reverse_lazy("tokens")
    extra_context = {
        "intro": _("A token lets a program act for you. Give it to nobody; it is as good as your password.")
    }

    def act(self, form: forms.BaseForm) -> Any:
        token, secret = issue_token(self.request.user, **form.cleaned_data)
        self.request.session[FRESH] = {"name": token.name, "secret": secret}
        return token


class TokenRevoke(LoginRequiredMixin, ServiceFormView):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Revoke this token?")
    button = _("Revoke")
    extra_context = {"intro": _("Programs that use it can no longer act for you. This cannot be undone.")}
    done_message = _("The token is revoked.")

    def act(self, form: forms.BaseForm) -> Any:
        return revoke_token(self.token())

    def token(self) -> ApiToken:
        return get_object_or_404(ApiToken.objects.visible_to(self.request.user), pk=self.kwargs["pk"])

    def get(self, request: Any, *args: Any, **kwargs: Any) -> Any:
        self.token()
        return super().get(request, *args, **kwargs)

    def get_success_url(self) -> str:
        return reverse("tokens")
