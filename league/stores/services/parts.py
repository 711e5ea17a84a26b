"""Taking on one's part of a night's plan: every line of the packing list becomes a promise, all or none."""

from __future__ import annotations

from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from league.clubs.models import Member, Night
from league.errors import NotYoursToDo
from league.stores.models import Promise
from league.stores.queries.lists import packing_lists
from league.stores.queries.plan import plan_for
from league.stores.services.promises import promise_to_bring

__all__ = ["take_on_part"]


@transaction.atomic
def take_on_part(night: Night, *, submission: UUID, by: Member) -> list[Promise]:
    """Promise what the plan asks of me now. What is packed already stays as it is; a second arrival changes nothing.

    Raises:
        NotYoursToDo: not a member of the club.
        PromiseRefused: the night is over or cancelled, or something was promised or lent meanwhile.
    """
    if by.club_id != night.club_id or by.left_at is not None:
        raise NotYoursToDo(_("Only members of the club bring its kit."))
    mine = next((each for each in packing_lists(plan_for(night)) if each.member == by.pk), None)
    promises = []
    for line in mine.lines if mine else ():
        if line.at_hand is None or not line.count or line.is_packed:
            continue
        # Each line has a name of its own, made from the act's: sent twice, each is promised once.
        name = uuid5(submission, line.at_hand.key)
        holding = line.at_hand.holding
        promises.append(
            promise_to_bring(holding, night=night, count=line.count, games=line.games, submission=name, by=by)
        )
    return promises
