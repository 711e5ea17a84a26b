"""What may still come of a season, kept until something it hangs on changes.

A forecast is reckoned from the season's document and the ratings of its players; the same inputs are the same forecast,
so it is kept under their digest and a page that is looked at again draws no season anew.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final, cast

from django.core.cache import cache

from league.engines.documents.season import SeasonDocument, dump
from league.engines.documents.season_forecast import expectation_by, ratings_in
from league.engines.documents.season_foretold import Foretold, foretell, needs_in
from league.engines.forecast import BadForecast, Needs
from league.engines.ratings import Rating
from league.seasons.models import Season
from league.seasons.queries.documents import document_of
from league.seasons.queries.ratings import club_history

__all__ = ["Forecast", "divisions_in", "forecast_of", "needs_from", "ratings_for"]

# Names the way of reckoning: with another one, what was kept before is not looked at.
KIND: Final = "drumhead forecast 1"
KEPT_FOR: Final = 24 * 60 * 60


@dataclass(frozen=True, kw_only=True, slots=True)
class Forecast:
    """A season with what is foretold of it: `told`, or the `reasons` why nothing is."""

    season: Season
    document: SeasonDocument
    told: Foretold | None
    reasons: tuple[str, ...] = ()


def forecast_of(season: Season, *, today: date, division: str | None = None) -> Forecast:
    """The forecast of a season, or one division of it, as things stand; `division` None: the first one.

    The queries of the document, of the club's ratings and of the players, and those of the cache.
    """
    document = document_of(season)
    division = first_division(document) if division is None else division
    closed = season.closed_at is not None
    ratings = ratings_for(season, document, today=today)
    key = digest_of(document, ratings, division=division, closed=closed)

    def reckon() -> Foretold:
        return foretell(document, expected=expectation_by(ratings), division=division, closed=closed)

    try:
        told = cast("Foretold", cache.get_or_set(key, reckon, KEPT_FOR))
    except BadForecast as failure:
        return Forecast(season=season, document=document, told=None, reasons=failure.violations)
    return Forecast(season=season, document=document, told=told)


def needs_from(forecast: Forecast, entrant: str) -> tuple[Needs, ...]:
    """What an entrant needs from the next game, for each aim still open; kept like the forecast.

    Raises:
        KeyError: the forecast has no such entrant.
    """
    told = forecast.told
    if told is None or entrant not in told.ids:
        raise KeyError(entrant)
    verdicts = [[aim.name, *aim.verdicts] for aim in told.aims]
    key = digest_of(forecast.document, {}, division=told.division, entrant=entrant, verdicts=verdicts)
    found = cache.get_or_set(key, lambda: needs_in(forecast.document, told, entrant), KEPT_FOR)
    return cast("tuple[Needs, ...]", found)


def divisions_in(document: SeasonDocument) -> list[tuple[str, str]]:
    """The divisions anybody is in, from the top, by id and name; none where the season is of one piece."""
    used = {each.division for each in document.entrants}
    return [
        (each.id, each.name)
        for each in sorted(document.divisions, key=lambda division: division.level)
        if each.id in used
    ]


def first_division(document: SeasonDocument) -> str:
    """The highest division anybody is in; empty where there are none."""
    found = divisions_in(document)
    return found[0][0] if found else ""


def ratings_for(season: Season, document: SeasonDocument, *, today: date) -> dict[str, Rating]:
    """Entrants' ratings by key: a single player's own, from all games of the club; a team's from this season's games."""
    history = club_history(season.club, today=today)
    players: dict[str, list[int]] = {}
    for key, member_id in season.players.order_by("pk").values_list("entrant__key", "member_id"):
        players.setdefault(key, []).append(member_id)
    ratings = ratings_in(document)
    for key, members in players.items():
        own = history.rating(members[0]) if len(members) == 1 else None
        if own is not None:
            ratings[key] = own
    return ratings


def digest_of(document: SeasonDocument, ratings: Mapping[str, Rating], **asked: Any) -> str:
    """The name under which a forecast is kept: the same inputs, the same name."""
    inputs = json.dumps(
        [KIND, {key: [each.rating, each.deviation] for key, each in sorted(ratings.items())}, asked], sort_keys=True
    )
    # A full cache throws out the first third by name: before the sign-in limits, which are kept in it too.
    return f"0-forecast-{hashlib.sha256(dump(document) + inputs.encode()).hexdigest()}"
