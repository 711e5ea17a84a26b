"""The rounds of a season."""

from __future__ import annotations

from datetime import date

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.log import log_act
from league.errors import Violation
from league.seasons.models import Round, Season
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["add_round", "change_round", "open_play"]

MOST_ROUNDS = 1000
NOTE_MOST = 200


@transaction.atomic
def add_round(
    season: Season, *, number: int | None = None, on: date | None = None, note: str = "", by: Member
) -> Round:
    """Add a round; None: the next number.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused
    """
    season = open_season(season, by=by)
    note = note.strip()
    last = season.rounds.aggregate(last=Max("number"))["last"] or 0
    number = last + 1 if number is None else number
    faults = [*faults_of_note(note)]
    if not 1 <= number <= MOST_ROUNDS:
        faults.append(Violation(_("Rounds count from 1 to %(most)s.") % {"most": MOST_ROUNDS}, "number", "range"))
    elif season.rounds.filter(number=number).exists():
        faults.append(Violation(_("There is a round %(number)s already.") % {"number": number}, "number", "taken"))
    if faults:
        raise SeasonRefused(faults)
    made = Round.objects.create(season=season, number=number, on=on, note=note)
    log_act(season.club, "round_added", season, by=by, round=made.pk, number=number)
    return made


@transaction.atomic
def change_round(changed: Round, *, on: date | None, note: str, by: Member) -> Round:
    """Change a round's day and note. Games already planned keep their own day."""
    season = open_season(changed.season, by=by)
    note = note.strip()
    if faults := faults_of_note(note):
        raise SeasonRefused(faults)
    changed.on, changed.note = on, note
    changed.save(update_fields=["on", "note"])
    log_act(season.club, "round_changed", season, by=by, round=changed.pk, number=changed.number)
    return changed


@transaction.atomic
def open_play(season: Season, *, by: Member) -> Round:
    """The place of games outside the rounds, where an entrant may play any number of them."""
    season = open_season(season, by=by)
    made, is_new = Round.objects.get_or_create(season=season, number=0)
    if is_new:
        log_act(season.club, "open_play_allowed", season, by=by, round=made.pk)
    return made


def faults_of_note(note: str) -> list[Violation]:
    if len(note) > NOTE_MOST:
        return [Violation(_("Keep the note under %(most)s characters.") % {"most": NOTE_MOST}, "note", "long")]
    return []
