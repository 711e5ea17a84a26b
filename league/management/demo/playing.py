"""How the demo's games come out: by invented strengths and the demo's own dice, the same each time."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from league.battles.models import Game, Report
from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import SidePlan, change_game
from league.battles.services.reports import confirm_report, file_report
from league.clubs.models import Club, Member
from league.management.demo.evenings import Evenings
from league.management.demo.forces import submission
from league.rosters.models import Roster
from league.rulesets.models import Ruleset
from league.seasons.models import Pairing, Round

__all__ = ["Cast", "arrange_table", "play", "play_round"]

# On the scale of ratings: 400 more win ten times in eleven.
STRENGTHS = {
    "Odalys": 1750,
    "Ulmar": 1620,
    "Quenna": 1480,
    "Brannoc": 1900,
    "Ceriden": 1800,
    "Tamsin": 1300,
    "Jory": 1380,
    "Pell": 1150,
    "Gorran": 1050,
    "Hesper": 1550,
    "Ivo": 1300,
    "Merrit": 1450,
    "Nessa": 1680,
}
# What a scenario is worth to the side that stands first; nobody in the club knows it yet.
LEANINGS = {"ferry_stage": -480, "cut_reeds": 60, "chance_meeting": 0}
ROLES = {
    "ferry_stage": ("attacker", "defender"),
    "cut_reeds": ("foragers", "raiders"),
    "chance_meeting": ("first", "second"),
    "three_banks": ("north_bank", "south_bank", "island"),
}
LEAST_MARGIN = 3
MOST_DRAWN = 0.1


@dataclass(frozen=True, kw_only=True, slots=True)
class Cast:
    """Everybody and everything that plays in the demo; people and rosters by first name."""

    club: Club
    people: Mapping[str, Member]
    ruleset: Ruleset
    rosters: Mapping[str, Roster]
    evenings: Evenings

    @property
    def organiser(self) -> Member:
        return self.people["Odalys"]

    def players(self, game: Game) -> list[Member]:
        """Whoever stands first on each side, in the order of the sides."""
        by_pk = {member.pk: member for member in self.people.values()}
        firsts: dict[int, Member] = {}
        for side_id, member_id in game.players.order_by("side__position", "pk").values_list("side_id", "member_id"):
            firsts.setdefault(side_id, by_pk[member_id])
        return list(firsts.values())


def first_name(member: Member) -> str:
    return member.name.split()[0]


def arrange_table(cast: Cast, game: Game, *, scenario: str, table: int | None, with_rosters: bool = True) -> Game:
    """Settle what the players of a game agreed on: scenario, table, and what they field."""
    sides = []
    for role, player in zip(ROLES[scenario], cast.players(game), strict=True):
        roster = cast.rosters.get(first_name(player)) if with_rosters else None
        sides.append(SidePlan(role=role, member_ids=[player.pk], roster_id=roster.pk if roster else None))
    place = cast.evenings.tables[table] if table is not None else game.table
    return change_game(
        game, scenario=scenario, on=game.on, sides=sides, night=game.night, table=place, by=cast.organiser
    )


def play_round(cast: Cast, in_round: Round, dice: random.Random, *, but: int = 0) -> None:
    """Every game of a round, except the last `but`."""
    games = in_round.pairings.filter(removed_at=None, game__cancelled_at=None, game__isnull=False)
    rows = list(games.select_related("game", "round").order_by("position"))
    for pairing in rows[: len(rows) - but]:
        play(cast, pairing, dice)


def play(cast: Cast, pairing: Pairing, dice: random.Random, *, on: date | None = None) -> Report:
    """One game of a pairing, filed and confirmed by whoever can."""
    game = pairing.game
    if game is None:
        raise ValueError("This pairing has no game.")
    players = cast.players(game)
    scores = (
        two_scores(game.scenario, players, dice)
        if len(players) == len(ROLES["chance_meeting"])
        else [dice.randint(2, 9) for _player in players]
    )
    claim = ReportClaim(
        fought_on=on or game.on,
        sides=[SideClaim(position=position, score=score) for position, score in enumerate(scores, 1)],
    )
    writer, answer = writer_and_answer(cast, players)
    report = file_report(game, claim=claim, submission=submission("played", pairing.submission), by=writer)
    if answer is not None:
        confirm_report(report, by=answer)
    return report


def two_scores(scenario: str, players: Sequence[Member], dice: random.Random) -> list[int]:
    first, second = (STRENGTHS[first_name(player)] for player in players)
    chance = 1 / (1 + 10 ** ((second - first - LEANINGS.get(scenario, 0)) / 400))
    lower = dice.randint(1, 5)
    if dice.random() < MOST_DRAWN:
        return [lower, lower]
    higher = lower + LEAST_MARGIN + dice.randint(0, 2)
    return [higher, lower] if dice.random() < chance else [lower, higher]


def writer_and_answer(cast: Cast, players: Sequence[Member]) -> tuple[Member, Member | None]:
    """A player files and another confirms; where only one of them signs in, an organiser or the umpire files."""
    signed_in = [player for player in players if player.user_id is not None]
    if len(signed_in) > 1:
        return signed_in[0], signed_in[1]
    outside = next(each for each in (cast.organiser, cast.people["Ulmar"]) if each not in players)
    return outside, signed_in[0] if signed_in else None
