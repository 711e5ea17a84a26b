"""Who did not play: byes, forfeits, absence, by hand and after the round was made."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.log import log_act
from league.errors import Violation
from league.seasons.models import Entrant, Pairing, PairingSide, Season, Unplayed
from league.seasons.services.games import as_it_is, call_off, plan_for, seats_of
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["mark_unplayed"]

PAIR = 2
ALONE = frozenset({Unplayed.BYE, Unplayed.ABSENT, Unplayed.FORFEIT_WIN, Unplayed.FORFEIT_LOSS})
FORFEITS = frozenset({"", Unplayed.FORFEIT_WIN, Unplayed.FORFEIT_LOSS})


@transaction.atomic
def mark_unplayed(pairing: Pairing, *, seats: Mapping[int, str], by: Member) -> Pairing:
    """Say who did not play, by entrant id; an empty reason says that they do after all. Seats not named stay.

    When nobody is left to play, the game is cancelled; when others are, a game is planned for them alone.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
        PairingSettled: the game has a report that was not struck out.
    """
    season = open_season(pairing.round.season, by=by)
    pairing = as_it_is(pairing)
    rows = seats_of(pairing)
    before = {row.entrant_id: row.unplayed for row in rows}
    after = {**before, **{pk: reason for pk, reason in seats.items() if pk in before}}
    faults = faults_of_marks(after)
    if pairing.removed_at is not None:
        faults.append(Violation(_("This pairing was taken back."), code="removed"))
    if unknown := set(seats) - set(before):
        faults.append(Violation(_("They are not in this pairing."), f"seats.{min(unknown)}", "unknown"))
    if faults:
        raise SeasonRefused(faults)
    if len(rows) > 1:
        replan(season, pairing, [row.entrant for row in rows if not after[row.entrant_id]], by=by)
    for row in rows:
        row.unplayed = after[row.entrant_id]
    PairingSide.objects.bulk_update(rows, ["unplayed"])
    marks = ", ".join(
        f"{row.entrant.name}: {Unplayed(row.unplayed).label if row.unplayed else _('plays')}" for row in rows
    )
    log_act(season.club, "pairing_marked", season, by=by, pairing=pairing.pk, number=pairing.round.number, marks=marks)
    return pairing


def replan(season: Season, pairing: Pairing, playing: list[Entrant], *, by: Member) -> None:
    """Leave the pairing with the game of those who play, and no other."""
    old = pairing.game
    playing_before = [seat.entrant_id for seat in pairing.seats.filter(unplayed="").order_by("position")]
    if (
        old is not None
        and old.cancelled_at is None
        and playing
        and [entrant.pk for entrant in playing] == playing_before
    ):
        return
    call_off(old, by=by)
    if not playing or old is None:
        return
    pairing.game = plan_for(
        season,
        pairing.round,
        playing,
        edition=old.edition,
        on=pairing.on,
        table=old.table,
        scenario=old.scenario,
        submission=uuid5(pairing.submission, f"game after {old.pk}"),
        by=by,
    )
    pairing.save(update_fields=["game"])


def faults_of_marks(marks: Mapping[int, str]) -> list[Violation]:
    allowed = ALONE if len(marks) == 1 else FORFEITS
    faults = [
        Violation(_("This cannot be said of them here."), f"seats.{pk}", "unknown_mark")
        for pk, reason in marks.items()
        if reason not in allowed
    ]
    reasons = list(marks.values())
    if len(marks) > 1 and reasons.count("") == 1:
        words = _("Who is left without an opponent wins by forfeit: say so.")
        faults.append(Violation(words, code="alone"))
    if len(marks) == PAIR and reasons.count(Unplayed.FORFEIT_WIN) == PAIR:
        faults.append(Violation(_("Both cannot win by forfeit."), code="both_won"))
    return faults
