"""The list of games, one game, and what a button does with it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.forms import Form
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.generic import TemplateView

from league.battles import permissions
from league.battles.filters import GameFilter
from league.battles.forms.small import RostersForm
from league.battles.models import Game
from league.battles.queries.choices import rosters_for
from league.battles.queries.game_page import game_page
from league.battles.queries.games import with_lines
from league.battles.services.forces import name_rosters
from league.battles.services.games import cancel_game, start_game
from league.battles.tables import GameTable
from league.battles.views.rows import Act, OnGame, placed
from league.clubs.scope import InClub
from league.web import ServiceFormView, TablePage

__all__ = ["GameCancel", "GamePage", "GameRosters", "GameStart", "GamesPage"]


class GamesPage(InClub, TablePage):
    table_class = GameTable
    template_name = "battles/games.html"
    csv_name = "games"
    title = gettext_lazy("Games")

    @cached_property
    def filter(self) -> GameFilter:
        games = Game.objects.visible_to(self.request.user).filter(club=self.club).with_state()
        return GameFilter(self.request.GET, queryset=games, request=self.request)

    def get_table_data(self) -> Any:
        return with_lines(self.filter.qs)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club.slug}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            filter=self.filter,
            new_url=reverse("game-new", kwargs={"club": self.club.slug}),
            new_words=_("Plan a game"),
            **context,
        )


class GamePage(OnGame, TemplateView):
    template_name = "battles/game.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        page = game_page(self.game, self.member)
        return super().get_context_data(title=page.title, page=page, **context)


class GameStart(OnGame, Act):
    done_message = gettext_lazy("The game has begun. The rosters are kept as they stood.")

    def act(self) -> Game:
        return start_game(self.game, by=self.member)


class GameCancel(OnGame, ServiceFormView):
    template_name = "confirm.html"
    form_class = Form
    title = gettext_lazy("Cancel the game?")
    question = gettext_lazy("The game stays in the list as cancelled. A new one can be planned at any time.")
    button = gettext_lazy("Cancel the game")
    done_message = gettext_lazy("The game is cancelled.")

    def allows(self) -> bool:
        return permissions.can_change_game(self.member, self.game)

    def act(self, form: Form) -> Game:
        return cancel_game(self.game, by=self.member)

    def get_success_url(self) -> str:
        return self.address()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(question=self.question, **context)

    def get_cancel_url(self) -> str:
        return self.address()


class GameRosters(OnGame, ServiceFormView):
    """Which rosters were on the table, for a game that was logged by its score alone."""

    template_name = "form_page.html"
    form_class = RostersForm
    title = gettext_lazy("Which rosters were on the table?")
    button = gettext_lazy("Save and tell the casualties")

    def allows(self) -> bool:
        return permissions.can_file(self.member, self.game)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "sides": rosters_for(self.game)}

    def act(self, form: RostersForm) -> Game:
        return placed(lambda: name_rosters(self.game, rosters=form.rosters(), by=self.member), str)

    def get_success_url(self) -> str:
        report_id = self.game.report_id
        name, pk = ("report-correct", report_id) if report_id else ("report-new", self.game.pk)
        more = "?details=1" if report_id else ""
        return reverse(name, kwargs={"club": self.club.slug, "pk": pk}) + more

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            intro=_("Only rosters that a player of the side leads can be chosen."), **context
        )

    def get_cancel_url(self) -> str:
        return self.address()
