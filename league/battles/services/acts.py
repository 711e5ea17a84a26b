"""What the club's book says of this room's acts; whoever writes one here has taught the book its words."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act, log_acts

__all__ = ["log_act", "log_acts"]

put_in_words(
    {
        "game_planned": _("planned the game"),
        "game_changed": _("changed the plan of the game"),
        "game_started": _("started the game"),
        "game_cancelled": _("cancelled the game"),
        "rosters_named": _("said which rosters were on the table"),
        "report_filed": _("filed the report"),
        "report_corrected": _("corrected the report: %(reason)s"),
        "report_confirmed": _("confirmed the report"),
        "report_disputed": _("disputed the report: %(text)s"),
        "report_settled": _("settled the report: %(text)s"),
        "dice_entered": _("entered the dice of %(unit)s: %(results)s"),
        "dice_drawn": _("had the site draw the dice of the game"),
        "photo_added": _("added a photo"),
        "photo_removed": _("took a photo away"),
    }
)
