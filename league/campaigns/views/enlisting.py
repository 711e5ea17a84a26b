"""Which rosters fight in a campaign, and who leads its factions."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import Http404
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.campaigns import permissions
from league.campaigns.forms.drawing_up import BeginForm, ForceForm, NewForceForm, SeatForm
from league.campaigns.forms.maps import RemoveForm
from league.campaigns.models import Campaign, Enlisted, Seat
from league.campaigns.queries.drawing_up import drawn_of, rosters_for
from league.campaigns.services.enlisting import change_force, discharge, enlist
from league.campaigns.services.seats import leave_seat, take_seat
from league.campaigns.views.drawing_rows import DraftForm, OnDraft, Placed
from league.campaigns.views.rows import OnCampaign
from league.clubs.models import Member
from league.clubs.queries import members_of
from league.engines import war
from league.rosters.models import Roster

__all__ = ["ForceEdit", "ForceNew", "ForceRemove", "ForcesPage", "SeatLeave", "SeatsPage"]


class ForcesPage(OnDraft, TemplateView):
    template_name = "campaigns/draw_forces.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        enlisted = Enlisted.objects.filter(campaign=self.campaign).select_related("roster__owner")
        rosters = {row.force: row.roster for row in enlisted}
        parties = {each.key: each.name for each in self.began.factions}
        regions = {each.key: each.name for each in self.began.map.regions}
        forces = [
            (each, parties.get(each.faction, ""), regions.get(each.region, ""), rosters.get(each.key))
            for each in self.began.forces
        ]
        return super().get_context_data(title=_("Forces"), forces=forces, **context)


class OnForce(DraftForm):
    @cached_property
    def force(self) -> war.Force:
        found = next((each for each in self.began.forces if each.key == self.kwargs["force"]), None)
        if found is None:
            raise Http404
        return found

    def get_success_url(self) -> str:
        return self.path_to("draft-forces")


class ForceNew(OnForce):
    form_class = NewForceForm
    title = _("Enlist a roster")
    button = _("Enlist it")

    def get_form_kwargs(self) -> dict[str, Any]:
        rosters = rosters_for(self.campaign)
        return {**super().get_form_kwargs(), "began": self.began, "rosters": rosters}

    def serve(self, form: NewForceForm) -> Enlisted:
        roster: Roster = form.cleaned_data["roster"]
        facts = {name: value for name, value in form.facts().items() if name != "roster"}
        return enlist(self.campaign, roster=roster, **facts, version=form.version_seen(), by=self.member)


class ForceEdit(OnForce):
    form_class = ForceForm
    title = _("How a force begins")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "began": self.began}

    def get_initial(self) -> dict[str, Any]:
        force = self.force
        return {
            **super().get_initial(),
            "faction": force.faction,
            "region": force.region,
            "need": force.need,
            "pace": force.pace,
        }

    def serve(self, form: ForceForm) -> Campaign:
        facts = form.facts()
        return change_force(self.campaign, force=self.force.key, **facts, version=form.version_seen(), by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=self.force.name, **context)


class ForceRemove(OnForce):
    template_name = "confirm.html"
    form_class = RemoveForm
    title = _("Take a force out of the campaign")
    button = _("Take it out")

    def serve(self, form: RemoveForm) -> Campaign:
        return discharge(self.campaign, force=self.force.key, version=form.version_seen(), by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(question=self.force.name, **context)


class SeatsPage(OnCampaign, Placed):
    """Who leads whom, and a form to seat somebody; in a running war it is the umpire's."""

    template_name = "campaigns/draw_seats.html"
    form_class = SeatForm
    title = _("Who leads")
    button = _("Let them lead it")

    def allows(self) -> bool:
        return permissions.can_draw_up(self.member, self.campaign, self.seat)

    def get_form_kwargs(self) -> dict[str, Any]:
        seated = Seat.objects.filter(campaign=self.campaign, left_at=None).values("member")
        people = members_of(self.club, with_guests=False).exclude(pk__in=seated)
        return {**super().get_form_kwargs(), "factions": drawn_of(self.campaign).factions, "people": people}

    def serve(self, form: SeatForm) -> Seat:
        return take_seat(self.campaign, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.path_to("seats")

    def get_cancel_url(self) -> str:
        return self.path_to("campaign" if self.campaign.started_at else "campaign-draft")

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        rows = Seat.objects.filter(campaign=self.campaign, left_at=None).select_related("member").order_by("pk")
        seats = list(rows)
        parties = [
            (each, [seat for seat in seats if seat.faction == each.key]) for each in drawn_of(self.campaign).factions
        ]
        return super().get_context_data(parties=parties, **context)


class SeatLeave(OnCampaign, Placed):
    template_name = "confirm.html"
    form_class = BeginForm
    title = _("Free a seat")
    button = _("Free it")

    @cached_property
    def chair(self) -> Seat:
        rows = Seat.objects.filter(campaign=self.campaign).select_related("member", "campaign__club")
        found: Seat = get_object_or_404(rows, pk=self.kwargs["chair"])
        return found

    def allows(self) -> bool:
        own = self.member is not None and self.chair.member_id == self.member.pk
        return own or permissions.can_draw_up(self.member, self.campaign, self.seat)

    def serve(self, form: BeginForm) -> Seat:
        return leave_seat(self.chair, by=self.member)

    def get_success_url(self) -> str:
        may = permissions.can_draw_up(self.member, self.campaign, self.seat)
        if may and self.chair.member_id != getattr(self.member, "pk", None):
            return self.path_to("seats")
        return self.path_to("campaign") if self.campaign.started_at else self.path_of_list()

    def path_of_list(self) -> str:
        return reverse("campaigns", kwargs={"club": self.club.slug})

    def get_cancel_url(self) -> str:
        return self.get_success_url()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        member: Member = self.chair.member
        return super().get_context_data(question=member.name, **context)
