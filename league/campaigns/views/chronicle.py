"""The chronicle: turns as they are told, lines over time, the dice, members' stories, and a feed."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.feedgenerator import Atom1Feed
from django.utils.translation import get_language
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView, View

from league.campaigns import permissions
from league.campaigns.forms.stories import StoryForm
from league.campaigns.models import Fact, Story
from league.campaigns.queries.chronicle_page import page_of, plots_of, told_of_turn
from league.campaigns.queries.dice_page import dice_of
from league.campaigns.queries.seen import Seen
from league.campaigns.queries.war import SPECTATOR
from league.campaigns.services.stories import hide_story, tell_story
from league.campaigns.views.rows import CampaignForm, OnWar

__all__ = ["DicePage", "Feed", "PlotsPage", "StoryHide", "StoryNew", "TurnPage"]


class TurnPage(OnWar, TemplateView):
    """One turn of the chronicle."""

    template_name = "campaigns/turn.html"
    is_open = True

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        turn = self.kwargs["turn"]
        page = page_of(self.seen, turn, self.request.user)
        if page is None:
            raise Http404
        force = self.request.GET.get("force", "")
        return super().get_context_data(
            page=page,
            drawing=self.seen.drawing(page.view, force=force),
            force=page.view.forces.get(force),
            can_tell=permissions.can_tell(self.member, self.campaign) and page.view.phase == "closed" and turn > 0,
            hideable={story.pk for story, _who in page.stories if permissions.can_hide(self.member, story)},
            title=_now("Turn %(turn)s") % {"turn": turn} if turn else _now("The beginning"),
            **{**context, "turn": turn},
        )


class PlotsPage(OnWar, TemplateView):
    template_name = "campaigns/plots.html"
    is_open = True

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(plots=plots_of(self.seen), title=_now("The war in lines"), **context)


class DicePage(OnWar, TemplateView):
    template_name = "campaigns/dice.html"
    is_open = True

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(page=dice_of(self.seen), title=_now("Dice"), **context)


class StoryNew(CampaignForm):
    form_class = StoryForm
    button = _("Tell it")
    done_message = _("Your story stands in the chronicle.")

    def allows(self) -> bool:
        return permissions.can_tell(self.member, self.campaign)

    def get_success_url(self) -> str:
        return self.path_to("campaign-turn", turn=self.kwargs["turn"])

    def serve(self, form: Any) -> Story:
        told = form.cleaned_data
        return tell_story(
            self.campaign,
            turn=self.kwargs["turn"],
            title=told["story_title"],
            text=told["text"],
            submission=told["submission"],
            by=self.member,  # type: ignore[arg-type]  # `allows` has seen a member
        )

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        title = _now("A story of turn %(turn)s") % {"turn": self.kwargs["turn"]}
        return super().get_context_data(title=title, **context)


class StoryHide(CampaignForm):
    form_class = Form
    template_name = "confirm.html"
    title = _("Take this story off the chronicle?")
    button = _("Take it off")
    done_message = _("The story is off the chronicle.")
    extra_context = {"question": _("It stays on file, but nobody reads it there any more.")}

    @cached_property
    def story(self) -> Story:
        rows = Story.objects.shown().filter(campaign=self.campaign).select_related("campaign", "by")
        return get_object_or_404(rows, pk=self.kwargs["story"])

    def allows(self) -> bool:
        return permissions.can_hide(self.member, self.story)

    def get_success_url(self) -> str:
        return self.path_to("campaign-turn", turn=self.story.turn)

    def serve(self, form: Any) -> Story:
        return hide_story(self.story, by=self.member)  # type: ignore[arg-type]  # `allows` has seen a member


class Feed(OnWar, View):
    """An Atom feed (RFC 4287) of closed turns, as spectators may see them, whoever asks: a feed reader shows it on."""

    is_open = True

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        seen = Seen(war=self.seen.war, viewer=SPECTATOR)
        closed = {row.turn: row.at for row in seen.war.rows if row.kind == Fact.Kind.CLOSED}
        feed = Atom1Feed(
            title=self.campaign.name,
            link=request.build_absolute_uri(self.path_to("campaign")),
            feed_url=request.build_absolute_uri(self.path_to("campaign-feed")),
            description=self.campaign.about,
            language=get_language(),
        )
        for view in reversed(seen.views()):
            if view.turn not in closed:
                continue
            link = request.build_absolute_uri(self.path_to("campaign-turn", turn=view.turn))
            words = [sentence for _heading, told in told_of_turn(seen, view) for sentence in told]
            feed.add_item(
                title=_now("Turn %(turn)s") % {"turn": view.turn},
                link=link,
                unique_id=link,
                description=" ".join(words) or _now("All was quiet."),
                updateddate=closed[view.turn],
                pubdate=closed[view.turn],
            )
        return HttpResponse(feed.writeString("utf-8"), content_type="application/atom+xml; charset=utf-8")
