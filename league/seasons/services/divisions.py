"""Divisions, and the season after this one with everybody who goes up and down."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.errors import Violation
from league.seasons.models import Division, Entrant, Season
from league.seasons.queries.divisions import moves_of
from league.seasons.services.entrants import key_for, seat_players
from league.seasons.services.seasons import NAME_MOST, SeasonRefused, create_season, lock_season, open_season

__all__ = ["add_division", "change_division", "start_next_season"]

LEVELS_MOST = 50
MOVES_MOST = 100

put_in_words(
    {
        "division_added": gettext_lazy("added the division %(name)s"),
        "division_changed": gettext_lazy("changed the division %(name)s"),
        "season_followed": gettext_lazy("made the season %(name)s out of the divisions of this one"),
    }
)


@transaction.atomic
def add_division(
    season: Season, *, name: str, level: int, promotes: int = 0, relegates: int = 0, by: Member
) -> Division:
    """Add a division; `level` 1 is the highest.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
    """
    season = open_season(season, by=by)
    name = name.strip()
    if faults := faults_of_division(season, name, level, promotes, relegates):
        raise SeasonRefused(faults)
    taken = set(season.divisions.values_list("key", flat=True))
    made = Division.objects.create(
        season=season, key=key_for(name, taken), name=name, level=level, promotes=promotes, relegates=relegates
    )
    log_act(season.club, "division_added", season, by=by, division=made.pk, name=name)
    return made


@transaction.atomic
def change_division(
    division: Division, *, name: str, level: int, promotes: int, relegates: int, by: Member
) -> Division:
    """Change a division's name, its level, or how many go up and down from it.

    Raises: as `add_division`.
    """
    season = open_season(division.season, by=by)
    name = name.strip()
    if faults := faults_of_division(season, name, level, promotes, relegates, but=division):
        raise SeasonRefused(faults)
    division.name, division.level, division.promotes, division.relegates = name, level, promotes, relegates
    division.save(update_fields=["name", "level", "promotes", "relegates"])
    log_act(season.club, "division_changed", season, by=by, division=division.pk, name=name)
    return division


@transaction.atomic
def start_next_season(season: Season, *, name: str, starts_on: date, submission: UUID, by: Member) -> Season:
    """Make a season like this one, with the same divisions and everybody still in it, up or down as its tables say.

    The table as of now decides; the new season's entrants can be moved by hand afterwards.

    Raises:
        NotYoursToDo, SeasonRefused: with everything that is wrong.
        SubmissionReused: the submission's name came earlier with another season.
    """
    season = lock_season(season, by=by)
    if not season.divisions.exists():
        raise SeasonRefused(Violation(_("This season has no divisions."), code="no_divisions"))
    made = create_season(
        season.club,
        ruleset=season.ruleset,
        name=name,
        starts_on=starts_on,
        rules=season.rules,
        counts=season.counts,
        submission=submission,
        by=by,
    )
    if made.divisions.exists():
        return made
    made.format, made.pairing = season.format, season.pairing
    made.save(update_fields=["format", "pairing"])
    divisions = {
        row.level: Division.objects.create(
            season=made, key=row.key, name=row.name, level=row.level, promotes=row.promotes, relegates=row.relegates
        )
        for row in season.divisions.order_by("level")
    }
    for move in moves_of(season):
        old = move.entrant
        entrant = Entrant.objects.create(
            season=made,
            key=old.key,
            name=old.name,
            entered_at=made.created_at,
            division=divisions[move.level],
            party=old.party,
        )
        seat_players(entrant, old.players.filter(member__left_at=None).values_list("member_id", flat=True))
    log_act(season.club, "season_followed", season, by=by, season=made.pk, name=made.name)
    return made


def faults_of_division(
    season: Season, name: str, level: int, promotes: int, relegates: int, *, but: Division | None = None
) -> list[Violation]:
    others = season.divisions.exclude(pk=but.pk) if but else season.divisions.all()
    faults = []
    if not name:
        faults.append(Violation(_("A division needs a name."), "name", "required"))
    elif len(name) > NAME_MOST:
        faults.append(Violation(_("Keep the name under %(most)s characters.") % {"most": NAME_MOST}, "name", "long"))
    elif others.filter(name=name).exists():
        faults.append(Violation(_("There is a division of this name already."), "name", "taken"))
    if not 1 <= level <= LEVELS_MOST:
        faults.append(Violation(_("Levels count from 1 to %(most)s.") % {"most": LEVELS_MOST}, "level", "range"))
    elif others.filter(level=level).exists():
        faults.append(Violation(_("There is a division at this level already."), "level", "taken"))
    faults += [
        Violation(_("Between 0 and %(most)s go up or down.") % {"most": MOVES_MOST}, field, "range")
        for field, count in (("promotes", promotes), ("relegates", relegates))
        if not 0 <= count <= MOVES_MOST
    ]
    return faults
