"""What the club's book says of a campaign's acts. The whole club reads it, so it says nothing that fog would hide."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act

__all__ = ["log_act"]

put_in_words(
    {
        "orders_due": _("set when the orders of turn %(turn)s are due"),
        "orders_revealed": _("revealed the orders of turn %(turn)s"),
        "turn_closed": _("closed turn %(turn)s"),
        "campaign_ended": _("ended the campaign"),
        "battle_booked": _("booked a game for a battle of turn %(turn)s"),
        "battle_postponed": _("put off a battle of turn %(turn)s"),
        "battle_conceded": _("booked a battle of turn %(turn)s as conceded"),
        "battle_simulated": _("accepted a simulated battle of turn %(turn)s"),
        "battle_told": _("told how a battle of turn %(turn)s ended"),
        "war_ruled": _("gave a ruling in turn %(turn)s"),
        "war_replayed": _("reckoned the war anew from turn %(turn)s"),
        "war_settled": _("booked a settlement for a battle of turn %(turn)s"),
        "story_told": _("told a story of turn %(turn)s"),
        "story_hidden": _("took a story of turn %(turn)s off the chronicle"),
    }
)
