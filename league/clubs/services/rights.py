"""The one answer to who asks for what only organisers do."""

from __future__ import annotations

from django.utils.translation import gettext as _

from league.clubs.models import Club, Member
from league.clubs.permissions import can_run_club
from league.errors import NotYoursToDo

__all__ = ["refuse_unless_organiser"]


def refuse_unless_organiser(club: Club, by: Member) -> None:
    """Raises NotYoursToDo for everybody but an organiser of this very club."""
    if by.club_id != club.pk or not can_run_club(by):
        raise NotYoursToDo(_("Only the club's organisers do this."))
