"""What the club's book says of a campaign's acts. The whole club reads it, so it says nothing that fog would hide."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act

__all__ = ["log_act"]

put_in_words(
    {
        "campaign_founded": _("began to draw up the campaign %(name)s"),
        "campaign_imported": _("began to draw up the campaign %(name)s from a file"),
        "campaign_described": _("changed what is said about the campaign"),
        "map_drawn": _("changed the map of the campaign"),
        "factions_set": _("changed the factions of the campaign"),
        "start_set": _("changed who holds what when the campaign begins"),
        "war_rules_set": _("changed the rules of the campaign"),
        "roster_enlisted": _("enlisted %(name)s"),
        "force_raised": _("let %(name)s enter the war"),
        "force_changed": _("changed how %(name)s enters the campaign"),
        "force_discharged": _("took %(name)s out of the campaign"),
        "seat_taken": _("let %(name)s lead %(faction)s"),
        "seat_left": _("freed the seat of %(name)s, who led %(faction)s"),
        "campaign_started": _("started the campaign %(name)s"),
        "map_edited": _("changed the map in turn %(turn)s"),
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
