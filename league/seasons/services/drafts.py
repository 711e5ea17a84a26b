"""Publishing a drafted round: at once for all, exactly once."""

from __future__ import annotations

from uuid import NAMESPACE_OID, uuid5

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.errors import Refused, Violation
from league.seasons.models import Round
from league.seasons.queries.drafts import RoundDraft, draft_of
from league.seasons.services.pins import RoundPublished, already_published
from league.seasons.services.round_rows import Drafted, write_round
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["DraftChanged", "publish_round"]

put_in_words({"round_published": gettext_lazy("published round %(number)s: %(count)s pairings")})


class DraftChanged(Refused):
    """Results, entrants or pins are not what they were when the draft was looked at."""

    status = 409

    def __init__(self, draft: RoundDraft) -> None:
        self.draft = draft
        words = _("The draft has changed since you looked at it. Nothing was published. Look at the new one.")
        super().__init__(Violation(words, code="draft_changed"))


@transaction.atomic
def publish_round(in_round: Round, *, seen: str, by: Member) -> Round:
    """Make the draft of a round its pairings, visible to all. `seen` is the digest of the draft that was looked at.

    The same organiser sending the same draft twice publishes it once.

    Raises:
        NotYoursToDo, SeasonClosed
        RoundPublished: somebody was quicker; says who, and when.
        DraftChanged: the draft is another one by now, and comes with the refusal.
        SeasonRefused: there is no such round, and why.
    """
    season = open_season(in_round.season, by=by)
    current = as_it_is(in_round)
    if current.published_at is not None:
        if seen and current.published_digest == seen and current.published_by_id == by.pk:
            return current
        raise RoundPublished(already_published(current))
    draft = draft_of(current)
    if draft.refusal:
        raise SeasonRefused(draft.refusal)
    if draft.digest != seen:
        raise DraftChanged(draft)
    now = timezone.now()
    published = Round.objects.filter(pk=current.pk, published_at=None).update(
        published_at=now, published_by=by, published_digest=seen, paired_from=dict(draft.paired_from)
    )
    if not published:
        current.refresh_from_db()
        raise RoundPublished(already_published(current))
    write_round(
        current,
        [
            Drafted(entrants=line.entrants, table=line.table, scenario=line.scenario.key if line.scenario else "")
            for line in draft.lines
        ],
        submission=uuid5(NAMESPACE_OID, f"drumhead round {current.pk}"),
        at=now,
        by=by,
    )
    count = len(draft.lines)
    log_act(season.club, "round_published", season, by=by, at=now, number=current.number, count=count)
    return as_it_is(current)


def as_it_is(in_round: Round) -> Round:
    """The round with everything a draft asks of it."""
    rounds = Round.objects.select_related("season__club", "season__ruleset", "published_by")
    current: Round = rounds.get(pk=in_round.pk)
    return current
