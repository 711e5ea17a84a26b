"""Letting people in: the organiser's list of links, and the page a link opens."""

from __future__ import annotations

from typing import Any

from allauth.account.views import SignupView
from django import forms
from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.decorators import method_decorator
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache

from accounts.adapter import INVITED, keep_invitation
from league.clubs.filters import InvitationFilter
from league.clubs.forms import InviteForm, JoinForm
from league.clubs.models import Invitation, Member
from league.clubs.permissions import can_run_club
from league.clubs.queries import InvitationState, invitation_by, invitations_of, membership_of
from league.clubs.queries.invitations import state_of
from league.clubs.scope import InClub
from league.clubs.services.invitations import invite, join_by, revoke_invitation
from league.clubs.tables import InvitationTable
from league.clubs.views.clubs import OrganiserForm
from league.errors import Refused
from league.web import ServiceFormView, TablePage

__all__ = ["InvitationRevoke", "InvitationsPage", "Invite", "JoinPage", "SignUpToJoin"]

# The secret of a new invitation waits here for the one page that shows it.
FRESH = "fresh_invitation"


class InvitationsPage(InClub, TablePage):
    table_class = InvitationTable
    template_name = "clubs/invitations.html"
    title = gettext_lazy("Invitations")
    csv_name = "invitations"

    def allows(self) -> bool:
        return can_run_club(self.member)

    def get_table_data(self) -> QuerySet[Invitation]:
        self.filterset = InvitationFilter(self.request.GET, invitations_of(self.club, timezone.now()))
        return self.filterset.qs

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(**context)
        fresh = self.request.session.get(FRESH)
        if fresh and fresh["club"] == self.club.pk:
            del self.request.session[FRESH]
            link = self.request.build_absolute_uri(reverse("join", kwargs={"secret": fresh["secret"]}))
            context["link"] = link
        return {**context, "filter": self.filterset}


class Invite(OrganiserForm):
    form_class = InviteForm
    title = gettext_lazy("Invite somebody")
    button = gettext_lazy("Make the link")
    extra_context = {
        "intro": gettext_lazy("The link is shown once, on the next page. Send it only to those it is meant for.")
    }

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"club": self.club, **super().get_form_kwargs()}

    def get_initial(self) -> dict[str, Any]:
        return {"guest": self.request.GET.get("guest")}

    def act(self, form: forms.BaseForm) -> Invitation:
        invitation, secret = invite(self.club, **form.cleaned_data, by=self.member)
        self.request.session[FRESH] = {"club": self.club.pk, "secret": secret}
        return invitation

    def get_success_url(self) -> str:
        return self.address("invitations")


class InvitationRevoke(OrganiserForm):
    form_class = forms.Form
    template_name = "confirm.html"
    title = gettext_lazy("Revoke this invitation?")
    button = gettext_lazy("Revoke")
    done_message = gettext_lazy("The invitation is revoked. Whoever joined by it stays.")

    def allows(self) -> bool:
        self.row = get_object_or_404(
            Invitation.objects.visible_to(self.request.user), club=self.club, pk=self.kwargs["pk"]
        )
        return super().allows()

    def act(self, form: forms.BaseForm) -> Invitation:
        return revoke_invitation(self.row, by=self.member)

    def get_success_url(self) -> str:
        return self.address("invitations")


class ByLink:
    """For pages an invitation's link opens: gives `self.invitation`, or says why the link opens nothing."""

    invitation: Invitation

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        invitation = invitation_by(kwargs["secret"])
        if invitation is None:
            return render(request, "clubs/join_closed.html", {"title": _("This link is not known")}, status=404)
        if is_present(request, invitation):
            return redirect("club", club=invitation.club.slug)
        state = state_of(invitation, timezone.now())
        if state != InvitationState.OPEN:
            title = {
                InvitationState.USED: _("This link is used up"),
                InvitationState.EXPIRED: _("This link has expired"),
                InvitationState.REVOKED: _("This link was revoked"),
            }[state]
            return render(request, "clubs/join_closed.html", {"title": title}, status=410)
        self.invitation = invitation
        return super().dispatch(request, *args, **kwargs)  # type: ignore[misc]

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {
            "invitation": self.invitation,
            "inviting": self.invitation.club,
            "secret": self.kwargs["secret"],  # type: ignore[attr-defined]
            **super().get_context_data(**context),  # type: ignore[misc]
        }


@method_decorator(never_cache, name="dispatch")  # the address itself is a secret
class JoinPage(ByLink, ServiceFormView):
    """One button for who is signed in; for others the ways to sign up or in."""

    form_class = JoinForm
    template_name = "clubs/join.html"

    @property
    def title(self) -> str:
        return _("Join %(club)s") % {"club": self.invitation.club.name}

    @property
    def button(self) -> str:
        return self.title

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            keep_invitation(request, path=request.path, until=self.invitation.expires_at.timestamp())
        return super().get(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            return redirect(f"{reverse('account_login')}?{urlencode({'next': request.path})}")
        return super().post(request, *args, **kwargs)

    def get_initial(self) -> dict[str, Any]:
        guest = self.invitation.guest
        return {"name": guest.name if guest else getattr(self.request.user, "name", "")}

    def act(self, form: forms.BaseForm) -> Member:
        member = join_by(self.kwargs["secret"], user=self.request.user, name=form.cleaned_data["name"])
        self.request.session.pop(INVITED, None)
        return member

    def get_success_url(self) -> str:
        return reverse("club", kwargs={"club": self.invitation.club.slug})


@method_decorator(never_cache, name="dispatch")
class SignUpToJoin(ByLink, SignupView):
    """Open an account and be a member in the same breath."""

    template_name = "clubs/join_sign_up.html"

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        path = reverse("join", kwargs={"secret": kwargs["secret"]})
        if request.user.is_authenticated:
            return redirect(path)
        invitation = invitation_by(kwargs["secret"])
        if invitation is not None:
            keep_invitation(request, path=path, until=invitation.expires_at.timestamp())
        return super().dispatch(request, *args, **kwargs)

    def form_valid(self, form: forms.BaseForm) -> HttpResponse:
        response = super().form_valid(form)
        if not self.request.user.is_authenticated:
            return response
        try:
            join_by(self.kwargs["secret"], user=self.request.user, name=form.cleaned_data["name"])
        except Refused as refusal:
            # The last use went to somebody else meanwhile: the account stands, the page of the link says the rest.
            messages.error(self.request, str(refusal))
            return redirect("join", secret=self.kwargs["secret"])
        self.request.session.pop(INVITED, None)
        return redirect("club", club=self.invitation.club.slug)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        title = _("Join %(club)s") % {"club": self.invitation.club.name}
        return {"title": title, **super().get_context_data(**context)}


def is_present(request: HttpRequest, invitation: Invitation) -> bool:
    if not request.user.is_authenticated:
        return False
    membership = membership_of(request.user, invitation.club)
    return membership is not None and membership.left_at is None
