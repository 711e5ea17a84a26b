"""Everything a game's page shows."""

from __future__ import annotations

from dataclasses import dataclass

from league.battles import permissions
from league.battles.models import Game, GameState, Photo
from league.battles.queries.dice import seed_is_open
from league.battles.queries.games import GameLine, line_of
from league.battles.queries.versions import acts_of
from league.clubs.models import Member
from league.clubs.queries import LogLine
from league.engines.rulesets import Scenario
from league.rosters.models import Roster
from league.rulesets.queries import rules_of

__all__ = ["GamePage", "game_page", "photos_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class GamePage:
    """`rosters` are by position; `can_*` tell which buttons the reader gets; `seed` is empty while it is closed."""

    line: GameLine
    scenario: Scenario | None
    rosters: dict[int, Roster]
    photos: tuple[Photo, ...]
    acts: tuple[LogLine, ...]
    seed: str
    seed_hash: str
    can_change: bool
    can_start: bool
    can_report: bool
    can_cancel: bool
    can_add_photo: bool

    @property
    def title(self) -> str:
        return self.line.title


def game_page(game: Game, member: Member | None) -> GamePage:
    """A game fetched by `game_to_show`, for this member."""
    line = line_of(game)
    mine = permissions.can_change_game(member, game)
    may_file = permissions.can_file(member, game)
    is_open = line.state in {GameState.PLANNED, GameState.STARTED}
    return GamePage(
        line=line,
        scenario=rules_of(game.edition).scenario(game.scenario) if game.scenario else None,
        rosters={side.position: side.roster for side in game.sides.all() if side.roster is not None},
        photos=tuple(photos_of(game)),
        acts=tuple(acts_of(game)),
        seed=game.seed if seed_is_open(game) else "",
        seed_hash=game.seed_hash,
        can_change=mine and line.state == GameState.PLANNED,
        can_start=(mine or may_file) and line.state == GameState.PLANNED,
        can_report=may_file and is_open,
        can_cancel=mine and is_open,
        can_add_photo=permissions.can_add_photo(member, game) and line.state != GameState.CANCELLED,
    )


def photos_of(game: Game) -> list[Photo]:
    return list(Photo.objects.filter(game=game, removed_at=None).select_related("by").order_by("pk"))
