"""How strong the entrants of a season are by the club's ratings, for the seeding and for the care of newcomers."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from league.seasons.models import Entrant, Season
from league.seasons.queries.ratings import club_history

__all__ = ["SeedLine", "seeding_of", "strengths_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SeedLine:
    """An entrant with its rating, None while nobody of it is rated."""

    entrant: Entrant
    rating: int | None


def strengths_of(season: Season, *, today: date) -> dict[str, int]:
    """Ratings by entrant's key, a team's the mean of its rated players; who has no rated player is not in it. Six queries at most."""
    told = club_history(season.club, today=today)
    rated: defaultdict[str, list[float]] = defaultdict(list)
    for key, member_id in season.players.order_by("pk").values_list("entrant__key", "member_id"):
        if (rating := told.rating(member_id)) is not None:
            rated[key].append(rating.rating)
    return {key: round(sum(each) / len(each)) for key, each in rated.items()}


def seeding_of(season: Season, *, today: date) -> tuple[SeedLine, ...]:
    """Who takes part, the strongest first; then those without a rating, by name. Seven queries at most."""
    strengths = strengths_of(season, today=today)
    rows = season.entrants.filter(left_at=None).order_by("name", "pk")
    lines = [SeedLine(entrant=row, rating=strengths.get(row.key)) for row in rows]
    return tuple(sorted(lines, key=lambda line: -line.rating if line.rating is not None else 1))
