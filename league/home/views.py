from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.views.generic import TemplateView

from league.clubs.models import Member
from league.clubs.permissions import can_run_club, can_umpire
from league.clubs.scope import InClub
from league.home.queries import PlayerPage, club_board, clubs_for, desk_of, player_page
from league.home.tables import ResultTable
from league.web import TablePage

__all__ = ["ClubFront", "Clubs", "DeskPage", "Home", "Player", "alive"]


class Home(TemplateView):
    """Straight to one's club; to choose among several; or, signed out, what this is and which clubs are open."""

    template_name = "home/home.html"

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        mine, _others = self.clubs
        if len(mine) == 1:
            return redirect("club", club=mine[0].slug)
        return super().get(request, *args, **kwargs)

    @cached_property
    def clubs(self) -> tuple[list[Any], list[Any]]:
        return clubs_for(self.request.user)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        mine, others = self.clubs
        return {"mine": mine, "others": others, **super().get_context_data(**context)}


class Clubs(Home):
    """The choice itself, also for those with one club."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        return TemplateView.get(self, request, *args, **kwargs)


class ClubFront(InClub, TemplateView):
    template_name = "home/club.html"
    is_open = True

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        board = club_board(self.club, self.member, today=timezone.localdate())
        return {"board": board, **super().get_context_data(**context)}


class Player(InClub, TablePage):
    """A member's page; strangers see what the member allows, and 404 where that is nothing."""

    template_name = "home/player.html"
    table_class = ResultTable
    csv_name = "results"
    is_open = True

    @cached_property
    def page(self) -> PlayerPage:
        member = Member.objects.visible_to(self.request.user).filter(club=self.club, pk=self.kwargs["pk"]).first()
        if member is None:
            raise Http404
        return player_page(member, viewer=self.member, user=self.request.user, today=timezone.localdate())

    def get_table_data(self) -> Any:
        return self.page.results or ()

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club.slug, "linked": self.member is not None}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(page=self.page, title=self.page.name, **context)


class DeskPage(InClub, TemplateView):
    """What wants an organiser's or an umpire's eye."""

    template_name = "home/desk.html"

    def allows(self) -> bool:
        return can_run_club(self.member) or can_umpire(self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        desk = desk_of(self.club, now=timezone.now(), today=timezone.localdate())
        return {"desk": desk, "title": _("The desk"), **super().get_context_data(**context)}


def alive(_request: HttpRequest) -> HttpResponse:
    """For whoever watches the server: it answers, without touching the store."""
    return HttpResponse("alive", content_type="text/plain; charset=utf-8")
