"""Who may do what with a game and its reports. Predicates only: they neither raise nor read lists.

`game.players` is read through its prefetch where there is one.
"""

from __future__ import annotations

from league.battles.models import Game, GameState, Photo, Report
from league.clubs.models import Member
from league.clubs.permissions import can_run_club, can_umpire

__all__ = [
    "can_answer",
    "can_change_game",
    "can_correct",
    "can_file",
    "can_handle_dice",
    "can_remove_photo",
    "can_settle",
    "plays_in",
]


def plays_in(member: Member, game: Game) -> bool:
    return any(player.member_id == member.pk for player in game.players.all())


def side_of(member_id: int, game: Game) -> int | None:
    """The side a member is on, by its row's number; None for somebody who does not play."""
    return next((player.side_id for player in game.players.all() if player.member_id == member_id), None)


def of_club(member: Member | None, game: Game) -> bool:
    return member is not None and member.left_at is None and member.club_id == game.club_id


def can_change_game(member: Member | None, game: Game) -> bool:
    """Change the plan, start or cancel: those who play, who planned it, and organisers."""
    if member is None or not of_club(member, game):
        return False
    return can_run_club(member) or game.created_by_id == member.pk or plays_in(member, game)


def can_file(member: Member | None, game: Game) -> bool:
    """Players of the game file its report; organisers and umpires do it for those without a phone."""
    if member is None or not of_club(member, game):
        return False
    return plays_in(member, game) or can_run_club(member) or can_umpire(member)


def can_answer(member: Member | None, game: Game, report: Report) -> bool:
    """Confirm or dispute: a player of a side other than the filer's; any player when the filer did not play."""
    if member is None or not of_club(member, game):
        return False
    mine = side_of(member.pk, game)
    return mine is not None and mine != side_of(report.filed_by_id, game)


def can_correct(member: Member | None, game: Game, report: Report, state: str) -> bool:
    """Organisers and umpires always; the filer until the umpire has spoken; other players until it is confirmed."""
    if member is None or not of_club(member, game):
        return False
    if can_run_club(member) or can_umpire(member):
        return True
    if state in {GameState.SETTLED, GameState.VOID}:
        return False
    return report.filed_by_id == member.pk or (plays_in(member, game) and state != GameState.CONFIRMED)


def can_settle(member: Member | None, game: Game, *, is_only_umpire: bool) -> bool:
    """Umpires, but not over their own game unless the club has no other."""
    if member is None or not of_club(member, game) or not can_umpire(member):
        return False
    return is_only_umpire or not plays_in(member, game)


def can_handle_dice(member: Member | None, game: Game) -> bool:
    """Enter dice thrown on the table, or have the site draw them: whoever may file."""
    return can_file(member, game)


def can_add_photo(member: Member | None, game: Game) -> bool:
    return can_file(member, game)


def can_remove_photo(member: Member | None, game: Game, photo: Photo) -> bool:
    """Whoever added it, everyone who may be in it, and organisers."""
    if member is None or not of_club(member, game):
        return False
    return photo.by_id == member.pk or plays_in(member, game) or can_run_club(member)
