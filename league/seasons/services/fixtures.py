"""Pairings out of a list that somebody typed."""

from __future__ import annotations

from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.errors import Violation
from league.seasons.models import Pairing, Round, Season
from league.seasons.queries.fixtures import read_fixtures
from league.seasons.services.pairings import pair
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["import_fixtures"]

put_in_words({"fixtures_imported": gettext_lazy("took in a list of %(count)s pairings")})


@transaction.atomic
def import_fixtures(season: Season, *, text: str, submission: UUID, by: Member) -> list[Pairing]:
    """Make every pairing of the list, and the rounds it needs; all or none. The same list arriving twice is one.

    Raises:
        NotYoursToDo, SeasonClosed
        SeasonRefused: with every line that is wrong, by its number, and why.
    """
    season = open_season(season, by=by)
    if again := list(Pairing.objects.filter(submission=uuid5(submission, "1"), round__season=season)):
        return again
    lines = read_fixtures(season, text)
    faults = [
        Violation(_("Line %(number)s: %(fault)s") % {"number": line.number, "fault": fault}, "text", "line")
        for line in lines
        for fault in line.faults
    ]
    if not lines:
        faults.append(Violation(_("The list is empty."), "text", "empty"))
    if faults:
        raise SeasonRefused(faults)
    rounds = {row.number: row for row in season.rounds.select_related("season__club")}
    made = []
    for place, line in enumerate(lines, start=1):
        if line.round not in rounds:
            rounds[line.round] = Round.objects.create(season=season, number=line.round)
        made.append(
            pair(
                rounds[line.round],
                entrant_ids=[entrant.pk for entrant in line.entrants],
                on=line.on,
                submission=uuid5(submission, str(place)),
                by=by,
            )
        )
    log_act(season.club, "fixtures_imported", season, by=by, count=len(made))
    return made
