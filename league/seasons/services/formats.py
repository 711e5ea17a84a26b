"""How the rounds of a season come about: choosing the format, and drawing up all rounds of a round robin."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.engines.documents.reading import BadDocument
from league.engines.documents.season import read_pairing, write_pairing
from league.engines.documents.season_draft import ROBINS, rounds_planned
from league.errors import Violation
from league.seasons.models import Round, Season
from league.seasons.queries.documents import document_of
from league.seasons.queries.drafts import draft_of
from league.seasons.services.drafts import as_it_is, publish_round
from league.seasons.services.seasons import SeasonRefused, open_season, violation_of

__all__ = ["choose_format", "draw_up_rounds"]

put_in_words({"format_chosen": gettext_lazy("chose how rounds come about: %(format)s")})


@transaction.atomic
def choose_format(season: Season, *, pairing: Mapping[str, Any], by: Member) -> Season:
    """Say how the rounds of the season come about: the `pairing` of a season document.

    Options of the format can change at any time and hold from the next round on; the format itself only while no round
    is published.

    Raises:
        NotYoursToDo, SeasonClosed
        SeasonRefused: with everything that is wrong.
    """
    season = open_season(season, by=by)
    faults: list[Violation] = []
    told: dict[str, Any] = {}
    try:
        told = write_pairing(read_pairing(dict(pairing)))
    except BadDocument as failure:
        faults += [violation_of(fault, "pairing") for fault in failure.faults]
    changes = bool(told) and told["format"] != season.format
    if changes and season.rounds.filter(published_at__isnull=False).exists():
        words = _("A round is published already; the format stays as it is.")
        faults.append(Violation(words, "pairing.format", "under_way"))
    if told and told["format"] in {"knockout", "groups_knockout"} and under_way_with_other(season, told):
        words = _("The knock-out was drawn up already; only a new season can change it.")
        faults.append(Violation(words, "pairing", "under_way"))
    if faults:
        raise SeasonRefused(faults)
    season.format = told.pop("format")
    season.pairing = told
    season.save(update_fields=["format", "pairing"])
    log_act(season.club, "format_chosen", season, by=by, format=str(Season.Format(season.format).label))
    return season


@transaction.atomic
def draw_up_rounds(season: Season, *, by: Member) -> list[Round]:
    """Make and publish every round of a round robin that is not published yet. Doing it twice is doing it once.

    Raises:
        NotYoursToDo, SeasonClosed
        SeasonRefused: the season is no round robin, or has fewer than two entrants.
    """
    season = open_season(season, by=by)
    if season.format not in ROBINS:
        raise SeasonRefused(Violation(_("Only a round robin is drawn up all at once."), code="not_a_round_robin"))
    planned = rounds_planned(document_of(season))
    if not planned:
        raise SeasonRefused(Violation(_("A round robin needs two entrants at least."), code="too_few"))
    have = {row.number: row for row in season.rounds.filter(number__gte=1)}
    published = []
    for number in range(1, planned + 1):
        row = have.get(number) or Round.objects.create(season=season, number=number)
        if row.published_at is None:
            draft = draft_of(as_it_is(row))
            published.append(publish_round(row, seen=draft.digest, by=by))
    return published


def under_way_with_other(season: Season, told: Mapping[str, Any]) -> bool:
    """Whether a knock-out would change under its players: places in a bracket follow from its options."""
    options = {name: value for name, value in told.items() if name != "format"}
    started = season.rounds.filter(published_at__isnull=False).exists()
    return started and told["format"] == season.format and options != season.pairing
