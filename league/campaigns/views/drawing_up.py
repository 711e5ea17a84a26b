"""Founding a campaign and drawing it up: its checklist, and a page for each part but the map."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.campaigns import permissions
from league.campaigns.forms.drawing_up import (
    AboutForm,
    BeginForm,
    FactionsForm,
    FoundForm,
    ImportForm,
    StartForm,
)
from league.campaigns.forms.drawing_up_rules import RulesForm
from league.campaigns.models import Campaign
from league.campaigns.queries.drawing_up import steps_of
from league.campaigns.queries.drawing_up_maps import beginning_drawn
from league.campaigns.services.drawing_up import (
    change_about,
    found_campaign,
    import_campaign,
    set_factions,
    set_rules,
    set_start,
)
from league.campaigns.services.starting import start_campaign
from league.campaigns.views.drawing_rows import DraftForm, OnDraft, Placed
from league.clubs.scope import InClub
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition, rulesets_of

__all__ = [
    "AboutEdit",
    "Begin",
    "CampaignImport",
    "CampaignNew",
    "DraftDesk",
    "FactionsEdit",
    "RulesEdit",
    "StartEdit",
]


class NewCampaign(InClub, Placed):
    def allows(self) -> bool:
        return permissions.can_found(self.member)

    @cached_property
    def rulesets(self) -> QuerySet[Ruleset]:
        return rulesets_of(self.club, with_retired=False)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "rulesets": self.rulesets}

    def get_success_url(self) -> str:
        return reverse("campaign-draft", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_cancel_url(self) -> str:
        return reverse("campaigns", kwargs={"club": self.club.slug})


class CampaignNew(NewCampaign):
    template_name = "campaigns/found.html"
    form_class = FoundForm
    title = _("New campaign")
    button = _("Begin to draw it up")

    def serve(self, form: FoundForm) -> Campaign:
        facts = dict(form.cleaned_data)
        return found_campaign(self.club, edition=current_edition(facts.pop("ruleset")), **facts, by=self.member)


class CampaignImport(NewCampaign):
    form_class = ImportForm
    title = _("Campaign from a file")
    button = _("Take it in")
    extra_context = {
        "intro": _("Its map, factions, start and rules are taken over. Rosters enlist anew; no turn is taken over.")
    }

    def serve(self, form: ImportForm) -> Campaign:
        told = form.cleaned_data
        return import_campaign(
            self.club,
            edition=current_edition(told["ruleset"]),
            document=told["file"],
            submission=told["submission"],
            by=self.member,
        )


class DraftDesk(OnDraft, TemplateView):
    """What there is, what is missing, and the way to each part."""

    template_name = "campaigns/draw_desk.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        pages = {
            "map": "draft-map",
            "factions": "draft-factions",
            "start": "draft-start",
            "forces": "draft-forces",
            "seats": "seats",
            "rules": "draft-rules",
        }
        steps = steps_of(self.campaign)
        return super().get_context_data(
            title=self.campaign.name,
            steps=[(step, self.path_to(pages[step.key])) for step in steps],
            is_ready=not any(step.wanting for step in steps),
            drawing=beginning_drawn(self.campaign) if self.began.map.regions else None,
            **context,
        )


class AboutEdit(DraftForm):
    form_class = AboutForm
    title = _("About the campaign")

    def get_initial(self) -> dict[str, Any]:
        row = self.campaign
        return {"name": row.name, "about": row.about, "is_public": row.is_public}

    def serve(self, form: AboutForm) -> Campaign:
        return change_about(self.campaign, **form.cleaned_data, by=self.member)


class FactionsEdit(DraftForm):
    template_name = "campaigns/draw_factions.html"
    form_class = FactionsForm
    title = _("Factions")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "factions": self.began.factions}

    def serve(self, form: FactionsForm) -> Campaign:
        return set_factions(self.campaign, factions=form.factions(), version=form.version_seen(), by=self.member)


class StartEdit(DraftForm):
    template_name = "campaigns/draw_start.html"
    form_class = StartForm
    title = _("Who holds what")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "began": self.began}

    def serve(self, form: StartForm) -> Campaign:
        return set_start(self.campaign, **form.start(), version=form.version_seen(), by=self.member)


class RulesEdit(DraftForm):
    template_name = "campaigns/draw_rules.html"
    form_class = RulesForm
    title = _("Rules of the war")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "began": self.began}

    def serve(self, form: RulesForm) -> Campaign:
        return set_rules(self.campaign, rules=form.rules(), version=form.version_seen(), by=self.member)


class Begin(DraftForm):
    template_name = "confirm.html"
    form_class = BeginForm
    title = _("Start the campaign")
    button = _("Start it")
    done_message = _("The war has begun. Orders for turn 1 can be given.")
    extra_context = {
        "question": _(
            "From now on the map, the factions, the start and the rules stand as they are, and so do the rosters."
        )
    }

    def serve(self, form: BeginForm) -> Campaign:
        return start_campaign(self.campaign, by=self.member)

    def get_success_url(self) -> str:
        return self.path_to("campaign")

    def get_cancel_url(self) -> str:
        return self.path_to("campaign-draft")
