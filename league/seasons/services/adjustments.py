"""Points given or taken by an organiser."""

from __future__ import annotations

from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.log import log_act
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines.standings.table import written
from league.errors import Violation
from league.seasons.models import Adjustment, Entrant, Season
from league.seasons.services.seasons import SeasonRefused, faults_of_reason, open_season

__all__ = ["adjust"]

MOST_X2 = 2000


@transaction.atomic
def adjust(
    season: Season,
    *,
    entrant: Entrant,
    points_x2: int,
    reason: str,
    after_round: int = 0,
    submission: UUID,
    by: Member,
) -> Adjustment:
    """Give (or, negative, take) half-points. It counts in every look back to `after_round` or later, 0: in all.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
        SubmissionReused: the submission's name came earlier with another adjustment.
    """
    reason = reason.strip()
    digest = digest_of([season.pk, by.pk, entrant.pk, points_x2, reason, after_round])
    if again := earlier(Adjustment, submission, digest):
        return again
    season = open_season(season, by=by)
    faults = [*faults_of_reason(reason)]
    if entrant.season_id != season.pk:
        faults.append(Violation(_("They are not in this season."), "entrant", "not_of_season"))
    if not points_x2:
        faults.append(Violation(_("No points, no adjustment."), "points_x2", "nothing"))
    elif abs(points_x2) > MOST_X2:
        faults.append(Violation(_("That is more than a season has."), "points_x2", "range"))
    if after_round and not season.rounds.filter(number=after_round).exists():
        words = _("There is no round %(number)s.") % {"number": after_round}
        faults.append(Violation(words, "after_round", "unknown"))
    if faults:
        raise SeasonRefused(faults)
    now = timezone.now()
    made, is_new = write_once(
        Adjustment,
        submission,
        digest,
        season=season,
        entrant=entrant,
        points_x2=points_x2,
        after_round=after_round,
        reason=reason,
        by=by,
        on=timezone.localdate(now, season.club.zone),
        at=now,
    )
    if not is_new:
        return made
    log_act(
        season.club,
        "points_adjusted",
        season,
        by=by,
        at=now,
        entrant=entrant.pk,
        name=entrant.name,
        points=written(points_x2, 2),
        reason=reason,
    )
    return made
