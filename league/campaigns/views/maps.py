"""The map: its editor, region by region and road by road, as files, and changed while the war is on."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.utils.text import slugify
from django.utils.translation import gettext_lazy as _
from django.views.generic import View

from league.campaigns import permissions
from league.campaigns.forms.maps import ChangedMapForm, MapFileForm, MapForm, RegionForm, RemoveForm, RoadForm
from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.drawing_up_edits import changes_of, effects_of, homeless_of, places_for
from league.campaigns.queries.drawing_up_files import graphml_of, json_of, map_text, read_any
from league.campaigns.queries.drawing_up_maps import beginning_drawn
from league.campaigns.queries.drawing_words import KINDS
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.drawing_up import write_map
from league.campaigns.services.map_edits import edit_map
from league.campaigns.services.map_parts import remove_region, remove_road, write_region, write_road
from league.campaigns.views.drawing_rows import DraftForm, Placed
from league.campaigns.views.rows import OnCampaign
from league.clubs.services.submissions import digest_of
from league.engines.documents.reading import BadDocument
from league.engines.maps import Map, Region, Road

__all__ = [
    "MapEdit",
    "MapEditor",
    "MapFile",
    "MapGraphml",
    "MapJson",
    "RegionEdit",
    "RegionNew",
    "RegionRemove",
    "RoadEdit",
    "RoadNew",
    "RoadRemove",
]


class OnMap(DraftForm):
    def get_success_url(self) -> str:
        return self.path_to("draft-map")


class MapEditor(OnMap):
    """The map as a drawing to work on, where scripts run; as lists of regions and roads everywhere."""

    template_name = "campaigns/map_editor.html"
    form_class = MapForm
    title = _("The map")
    button = _("Save the map")
    done_message = _("The map is saved.")

    def get_initial(self) -> dict[str, Any]:
        return {**super().get_initial(), "text": map_text(self.began.map)}

    def serve(self, form: MapForm) -> Campaign:
        read = form.read
        return write_map(self.campaign, of=read.map, holders=read.holders, version=form.version_seen(), by=self.member)

    def get_cancel_url(self) -> str:
        return self.path_to("campaign-draft")

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        of = self.began.map
        links = {each.key: self.path_to("region-edit", region=each.key) for each in of.regions}
        names = {each.key: each.name for each in of.regions}
        roads = [
            (each, names.get(each.a, each.a), names.get(each.b, each.b), KINDS.get(each.kind, each.kind))
            for each in of.roads
        ]
        return super().get_context_data(
            map=of,
            roads=roads,
            kinds=list(KINDS.items()),
            drawing=beginning_drawn(self.campaign, links) if of.regions else None,
            **context,
        )


class MapFile(OnMap):
    form_class = MapFileForm
    title = _("Map from a file")
    button = _("Take it in")
    extra_context = {
        "intro": _(
            "A map document (JSON) or GraphML of any tool. It takes the place of the map there is; regions of the same key keep who holds them."
        )
    }

    def serve(self, form: MapFileForm) -> Campaign:
        read = form.read
        made = write_map(self.campaign, of=read.map, holders=read.holders, version=form.version_seen(), by=self.member)
        for note in read.notes:
            messages.warning(self.request, note)
        return made


class RegionNew(OnMap):
    form_class = RegionForm
    title = _("New region")
    button = _("Put it on the map")

    def get_initial(self) -> dict[str, Any]:
        return {**super().get_initial(), "x": 500, "y": 500}

    def serve(self, form: RegionForm) -> Campaign:
        return write_region(self.campaign, region=form.region(), version=form.version_seen(), by=self.member)


class OnRegion(OnMap):
    @cached_property
    def region(self) -> Region:
        found = self.began.map.region(self.kwargs["region"])
        if found is None:
            raise Http404
        return found


class RegionEdit(OnRegion):
    form_class = RegionForm
    title = _("Change a region")

    def get_initial(self) -> dict[str, Any]:
        region = self.region
        names = ("name", "terrain", "x", "y", "worth", "produces", "stronghold", "port")
        return {**super().get_initial(), **{name: getattr(region, name) for name in names}}

    def serve(self, form: RegionForm) -> Campaign:
        region = form.region(self.region.key)
        return write_region(self.campaign, region=region, version=form.version_seen(), by=self.member)


class RegionRemove(OnRegion):
    template_name = "confirm.html"
    form_class = RemoveForm
    title = _("Take a region off the map")
    button = _("Take it off")

    def serve(self, form: RemoveForm) -> Campaign:
        return remove_region(self.campaign, region=self.region.key, version=form.version_seen(), by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        question = _("%(region)s, and every road that leads there.") % {"region": self.region.name}
        return super().get_context_data(question=question, **context)


class RoadNew(OnMap):
    form_class = RoadForm
    title = _("New road")
    button = _("Put it on the map")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "of": self.began.map}

    def serve(self, form: RoadForm) -> Campaign:
        return write_road(self.campaign, road=form.road(), version=form.version_seen(), by=self.member)


class OnRoad(OnMap):
    @cached_property
    def road(self) -> Road:
        found = self.began.map.road(self.kwargs["road"])
        if found is None:
            raise Http404
        return found


class RoadEdit(OnRoad):
    form_class = RoadForm
    title = _("Change a road")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "of": self.began.map}

    def get_initial(self) -> dict[str, Any]:
        names = ("a", "b", "kind", "capacity", "loss")
        return {**super().get_initial(), **{name: getattr(self.road, name) for name in names}}

    def serve(self, form: RoadForm) -> Campaign:
        return write_road(self.campaign, road=form.road(self.road.key), version=form.version_seen(), by=self.member)


class RoadRemove(OnRoad):
    template_name = "confirm.html"
    form_class = RemoveForm
    title = _("Take a road off the map")
    button = _("Take it off")

    def serve(self, form: RemoveForm) -> Campaign:
        return remove_road(self.campaign, road=self.road.key, version=form.version_seen(), by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        names = {each.key: each.name for each in self.began.map.regions}
        ends = {"one": names[self.road.a], "other": names[self.road.b]}
        return super().get_context_data(question=_("From %(one)s to %(other)s.") % ends, **context)


class MapJson(OnCampaign, View):
    """The map as a file. Regions and roads only: who holds what is not for everybody."""

    content_type = "application/json"
    ending = "json"

    def allows(self) -> bool:
        started = self.campaign.started_at is not None
        return started or permissions.can_draw_up(self.member, self.campaign, self.seat)

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        name = slugify(self.campaign.name) or f"campaign-{self.campaign.pk}"
        return HttpResponse(
            self.content(),
            content_type=self.content_type,
            headers={"Content-Disposition": f'attachment; filename="{name}-map.{self.ending}"'},
        )

    def content(self) -> bytes:
        return json_of(self.campaign)


class MapGraphml(MapJson):
    content_type = "application/graphml+xml"
    ending = "graphml"

    def content(self) -> bytes:
        return graphml_of(self.campaign)


class MapEdit(OnCampaign, Placed):
    """A map changed while the war is on: first the new map, then what changes and what becomes of what stands there."""

    template_name = "campaigns/map_edit.html"
    form_class = ChangedMapForm
    title = _("Change the map")
    done_message = _("The map is changed.")

    def allows(self) -> bool:
        return permissions.can_judge(self.member, self.campaign, self.seat)

    @cached_property
    def war(self) -> War:
        if self.campaign.started_at is None:
            raise Http404
        return war_of(self.campaign)

    @cached_property
    def new_map(self) -> Map | None:
        """The map that was sent, if it can be read and is not the one there is."""
        if self.request.method != "POST":
            return None
        try:
            read = read_any(self.request.POST.get("text", "").encode("utf-8", "surrogatepass"))
        except BadDocument:
            return None
        return None if read.map == self.war.now.map else read.map

    def get_initial(self) -> dict[str, Any]:
        return {"text": map_text(self.war.now.map), "turn": self.war.turn}

    def get_form(self, form_class: Any = None) -> ChangedMapForm:
        return self.asking(super().get_form(form_class))

    def asking(self, form: ChangedMapForm) -> ChangedMapForm:
        """With a question for each force and stock that loses its ground."""
        if self.new_map is not None:
            homeless = homeless_of(self.war, self.new_map)
            form.ask_about([(each, places_for(self.war, self.new_map, each)) for each in homeless])
        return form

    @property
    def has_looked(self) -> bool:
        """Whether this very map was shown with its changes before."""
        return self.new_map is not None and self.request.POST.get("looked") == digest_of(map_text(self.new_map))

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """A map that was not shown with its changes yet is shown with them first; nothing is written."""
        if self.new_map is None or self.has_looked:
            return super().post(request, *args, **kwargs)
        kept = {name: request.POST.get(name, "") for name in ("text", "reason", "submission", "turn")}
        form = ChangedMapForm(initial={**kept, "looked": digest_of(map_text(self.new_map))})
        return self.render_to_response(self.get_context_data(form=self.asking(form)))

    def serve(self, form: ChangedMapForm) -> Fact:
        homeless = homeless_of(self.war, form.read.map)
        told = form.cleaned_data
        return edit_map(
            self.campaign,
            of=form.read.map,
            effects=effects_of(homeless, form.choices_for(homeless)),
            reason=told["reason"],
            turn=told["turn"],
            submission=told["submission"],
            by=self.member,
        )

    def get_success_url(self) -> str:
        return self.path_to("campaign")

    def get_cancel_url(self) -> str:
        return self.get_success_url()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        found = changes_of(self.war, self.new_map) if self.new_map is not None else []
        return super().get_context_data(changes=found, kinds=list(KINDS.items()), **context)
