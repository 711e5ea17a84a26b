"""What the club's book says of this room's acts; whoever writes one here has taught the book its words.

The book is read by the whole club, so an act on a private holding names neither what it is nor how many.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.utils.translation import gettext_lazy as _

from league.clubs.models import LogEntry, Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.stores.models import Holding

__all__ = ["log_act", "log_holding"]

put_in_words(
    {
        "kind_added": _("added %(name)s to the kinds of kit"),
        "kind_changed": _("described %(name)s anew among the kinds of kit"),
        "kind_retired": _("took %(name)s off the kinds of kit"),
        "kind_brought_back": _("put %(name)s back among the kinds of kit"),
        "pack_offered": _("noted a pack of %(pieces)s %(name)s"),
        "pack_offer_withdrawn": _("struck out a pack of %(pieces)s %(name)s"),
        "holding_added": _("wrote down kit: %(count)s × %(kind)s"),
        "holding_changed": _("described kit anew: %(kind)s"),
        "holding_retired": _("put kit away: %(kind)s"),
        "holding_brought_back": _("took kit out again: %(kind)s"),
        "holding_photographed": _("added a picture of kit: %(kind)s"),
        "holding_photo_removed": _("took away a picture of kit: %(kind)s"),
        "kit_moved": _("booked %(change)s × %(kind)s: %(what)s"),
        "loan_asked": _("asked to borrow %(count)s × %(kind)s"),
        "loan_agreed": _("agreed to lend %(count)s × %(kind)s"),
        "loan_handed_over": _("handed over %(count)s × %(kind)s"),
        "loan_came_back": _("took back %(count)s × %(kind)s"),
        "loan_lost": _("booked %(count)s lent × %(kind)s: %(what)s"),
        "loan_refused": _("did not lend %(count)s × %(kind)s"),
        "loan_withdrawn": _("called off the loan of %(count)s × %(kind)s"),
        "loan_reminded": _("reminded of %(count)s × %(kind)s"),
        "shelf_counted": _("counted a shelf: %(holdings)s holdings, %(differences)s differences"),
        "kit_promised": _("promised to bring %(count)s × %(kind)s to the night of %(on)s"),
        "kit_promise_withdrawn": _("took back the promise to bring %(count)s × %(kind)s to the night of %(on)s"),
        "kit_packed": _("packed %(count)s × %(kind)s for the night of %(on)s"),
        "kit_unpacked": _("unpacked %(count)s × %(kind)s"),
        "packing_reminded": _("sent %(count)s people what they bring"),
        "holdings_imported": _("wrote down %(count)s holdings from a list"),
    }
)


def log_holding(
    holding: Holding, act: str, *, by: Member, at: datetime | None = None, **details: Any
) -> LogEntry | None:
    """A line about a holding, unless its owner keeps it to themselves: the movements remember those."""
    if holding.is_private:
        return None
    return log_act(holding.club, act, holding, by=by, at=at, kind=holding.kind.name, **details)
