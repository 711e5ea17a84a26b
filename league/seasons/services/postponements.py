"""Games put off to a later day."""

from __future__ import annotations

from datetime import date

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.battles.queries.reports import current_report
from league.clubs.models import Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.errors import Violation
from league.seasons.models import Pairing
from league.seasons.services.games import PairingSettled, as_it_is
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["postpone"]

put_in_words({"pairing_postponed": gettext_lazy("postponed a game of round %(number)s until %(until)s at the latest")})


@transaction.atomic
def postpone(pairing: Pairing, *, until: date, by: Member) -> Pairing:
    """Give the players of a pairing until a day, that day included, to play. The next round can be paired meanwhile:
    the two count as having met, and their points follow when they have played.

    Raises:
        NotYoursToDo, SeasonClosed
        PairingSettled: there is a report of the game.
        SeasonRefused: with everything that is wrong.
    """
    season = open_season(pairing.round.season, by=by)
    pairing = as_it_is(pairing)
    faults = []
    if pairing.removed_at is not None or pairing.game is None or pairing.game.cancelled_at is not None:
        faults.append(Violation(_("There is no game to postpone."), code="no_game"))
    elif current_report(pairing.game) is not None:
        raise PairingSettled(_("There is a report of this game already."))
    if until < (pairing.on or pairing.round.on or season.starts_on):
        faults.append(Violation(_("This day is before the round."), "until", "early"))
    if faults:
        raise SeasonRefused(faults)
    pairing.postponed_until = until
    pairing.save(update_fields=["postponed_until"])
    log_act(
        season.club,
        "pairing_postponed",
        season,
        by=by,
        pairing=pairing.pk,
        number=pairing.round.number,
        until=until.isoformat(),
    )
    return pairing
