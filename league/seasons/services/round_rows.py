"""The rows of a whole round at once: as many statements for four entrants as for four hundred."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid5

from league.battles.services.games import plan_games
from league.clubs.models import Member, Table
from league.clubs.services.submissions import digest_of
from league.errors import Refused
from league.rulesets.queries import current_edition
from league.seasons.models import Entrant, Pairing, PairingSide, Round, Unplayed
from league.seasons.services.games import game_of
from league.seasons.services.seasons import SeasonRefused

__all__ = ["Drafted", "write_round"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Drafted:
    """One pairing of a drafted round, with its table and scenario; who is alone has the bye."""

    entrants: Sequence[Entrant]
    table: Table | None = None
    scenario: str = ""

    @property
    def is_bye(self) -> bool:
        return len(self.entrants) == 1


def write_round(
    in_round: Round, drafted: Sequence[Drafted], *, submission: UUID, at: datetime, by: Member
) -> list[Pairing]:
    """The pairings of a drafted round and their games. The round is new to the database: nothing of it was written
    before.

    Raises:
        SeasonRefused: a game cannot be planned; with what is wrong with any.
    """
    season = in_round.season
    edition = current_edition(season.ruleset)
    entrants = Entrant.objects.filter(season=season).prefetch_related("players").in_bulk()
    seated = [[entrants[entrant.pk] for entrant in each.entrants] for each in drafted]
    names = [uuid5(submission, str(place)) for place in range(len(drafted))]
    plans = {
        uuid5(name, "game"): game_of(
            season, in_round, who, edition=edition, table=each.table, scenario=each.scenario, has_roles=True
        )
        for name, who, each in zip(names, seated, drafted, strict=True)
        if not each.is_bye
    }
    try:
        games = dict(zip(plans, plan_games(season.club, plans=plans, at=at, by=by), strict=True))
    except Refused as refusal:
        raise SeasonRefused(refusal.violations) from None
    before = in_round.pairings.count()
    made = Pairing.objects.bulk_create(
        Pairing(
            submission=name,
            submission_digest=digest_of([in_round.pk, place]),
            round=in_round,
            key=key,
            position=before + place + 1,
            game=games.get(uuid5(name, "game")),
            created_at=at,
        )
        for place, (name, key) in enumerate(zip(names, free_keys(in_round, len(drafted)), strict=True))
    )
    PairingSide.objects.bulk_create(
        PairingSide(
            round=in_round,
            pairing=pairing,
            entrant=entrant,
            position=position,
            is_open=in_round.is_open_play,
            unplayed=Unplayed.BYE if each.is_bye else "",
        )
        for pairing, each in zip(made, drafted, strict=True)
        for position, entrant in enumerate(each.entrants, start=1)
    )
    return made


def free_keys(in_round: Round, count: int) -> list[str]:
    """Names of pairings that nothing in the season has yet, in order."""
    taken = set(Pairing.objects.filter(round__season=in_round.season_id).values_list("key", flat=True))
    free = (f"r{in_round.number}-{number}" for number in range(1, len(taken) + count + 1))
    return [key for key in free if key not in taken][:count]
