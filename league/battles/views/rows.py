"""How the pages of this room reach their rows, and the two kinds of act a page can do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.generic import View
from rest_framework import status

from league.battles.models import Game, Photo, Report
from league.battles.queries.pages import game_to_show, photo_to_show, report_to_show
from league.clubs.scope import InClub
from league.errors import Refused

__all__ = ["Act", "OnGame", "OnPhoto", "OnReport", "placed"]


class OnGame(InClub):
    """A page about the game at `pk`."""

    kwargs: dict[str, Any]
    request: HttpRequest

    @cached_property
    def game(self) -> Game:
        return found(game_to_show(self.request.user, self.club, self.kwargs["pk"]))

    def address(self) -> str:
        return reverse("game", kwargs={"club": self.club.slug, "pk": self.game.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"game": self.game, **context})


class OnReport(InClub):
    """A page about the report at `pk`; `self.report.state` is its state, `self.game` its game."""

    kwargs: dict[str, Any]
    request: HttpRequest

    @cached_property
    def report(self) -> Report:
        return found(report_to_show(self.request.user, self.club, self.kwargs["pk"]))

    @property
    def game(self) -> Game:
        return self.report.game

    def address(self) -> str:
        return reverse("report", kwargs={"club": self.club.slug, "pk": self.report.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"report": self.report, "game": self.game, **context})


class OnPhoto(InClub):
    kwargs: dict[str, Any]
    request: HttpRequest

    @cached_property
    def photo(self) -> Photo:
        return found(photo_to_show(self.request.user, self.club, self.kwargs["pk"]))

    @property
    def game(self) -> Game:
        return self.photo.game


def found(row: Any) -> Any:
    if row is None:
        raise Http404
    return row


class Act(View):
    """A button: one POST, one service call, back to the page. A refusal is shown there."""

    http_method_names = ["post"]
    done_message = ""

    def act(self) -> Any:
        """Call the one service; its result is kept as `self.result`."""
        raise NotImplementedError

    def address(self) -> str:
        raise NotImplementedError

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            self.result = self.act()
        except Refused as refusal:
            if refusal.status == status.HTTP_403_FORBIDDEN:
                raise PermissionDenied from refusal
            for each in refusal.violations:
                messages.error(request, each.message)
        else:
            if self.done_message:
                messages.success(request, self.done_message)
        return redirect(self.address())


def placed(act: Callable[[], Any], place_of: Callable[[str], str]) -> Any:
    """Call the service; a refusal's fields are renamed to those of the form."""
    try:
        return act()
    except Refused as refusal:
        if refusal.status == status.HTTP_403_FORBIDDEN:
            raise PermissionDenied from refusal
        raise Refused([replace(each, field=place_of(each.field)) for each in refusal.violations]) from refusal
