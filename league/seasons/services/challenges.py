"""Games that players arrange themselves: in an open season whom they like, on a ladder whom they may challenge."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.log import log_act
from league.clubs.services.submissions import digest_of, earlier
from league.errors import NotYoursToDo, Violation
from league.rulesets.queries import current_edition
from league.seasons import permissions
from league.seasons.models import Entrant, Pairing, Round, Season
from league.seasons.queries.ladders import ladder_in
from league.seasons.services.games import named
from league.seasons.services.pairings import faults_of_seats, free_key, write_pairing
from league.seasons.services.seasons import SeasonClosed, SeasonRefused

__all__ = ["arrange_game"]

PAIR = 2


@transaction.atomic
def arrange_game(season: Season, *, entrant_ids: list[int], on: date, submission: UUID, by: Member) -> Pairing:
    """Plan a game of the season outside rounds; on a ladder the first challenges the second.

    Raises:
        NotYoursToDo: neither an organiser nor a player of one of them.
        SeasonClosed, SeasonRefused: with everything that is wrong.
        SubmissionReused: the submission's name came earlier with another game.
    """
    rows = Season.objects.select_for_update(of=("self",), no_key=True).select_related("club", "ruleset")
    season = rows.get(pk=season.pk)
    digest = digest_of([season.pk, by.pk, list(entrant_ids), on])
    if again := earlier(Pairing, submission, digest):
        return again
    found = Entrant.objects.filter(season=season).prefetch_related("players").in_bulk(set(entrant_ids))
    if not permissions.can_arrange(by, season, found.values()):
        raise NotYoursToDo(_("Only its players and organisers arrange a game."))
    if season.closed_at is not None:
        raise SeasonClosed(_("%(name)s is closed.") % {"name": season.name})
    open_round, _is_new = Round.objects.get_or_create(season=season, number=0)
    faults = [
        *faults_of_seats(open_round, entrant_ids, found, absent=False),
        *faults_of_challenge(season, entrant_ids, found),
    ]
    if faults:
        raise SeasonRefused(faults)
    now = timezone.now()
    entrants = [found[pk] for pk in entrant_ids]
    made = write_pairing(
        season,
        open_round,
        entrants,
        edition=current_edition(season.ruleset),
        key=free_key(season, open_round),
        on=on,
        submission=submission,
        digest=digest,
        at=now,
        by=by,
    )
    log_act(season.club, "pairing_made", season, by=by, at=now, pairing=made.pk, number=0, names=named(entrants))
    return made


def faults_of_challenge(season: Season, entrant_ids: list[int], found: dict[int, Entrant]) -> list[Violation]:
    if season.format not in permissions.ARRANGED:
        return [Violation(_("The organisers pair this season."), code="paired")]
    if len(entrant_ids) < PAIR:
        return [Violation(_("Say who meets whom."), "entrant_ids", "two")]
    if season.format != Season.Format.LADDER or any(pk not in found for pk in entrant_ids):
        return []
    if len(entrant_ids) != PAIR:
        return [Violation(_("A challenge is between two."), "entrant_ids", "two")]
    challenger, other = (found[pk] for pk in entrant_ids)
    ladder = ladder_in(season)
    if ladder.may_challenge(challenger.key, other.key):
        return []
    words = _("%(name)s may challenge only those up to %(reach)s rungs above, and %(other)s is not.")
    told = {"name": challenger.name, "reach": ladder.reach, "other": other.name}
    return [Violation(words % told, "entrant_ids", "out_of_reach")]
