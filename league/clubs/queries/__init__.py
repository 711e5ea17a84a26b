"""What the club room answers when asked; other rooms import from here."""

from league.clubs.queries.invitations import InvitationState, invitation_by, invitations_of
from league.clubs.queries.log import LogLine, entries_of, line_of, log_of, put_in_words, words_of
from league.clubs.queries.nights import AttendanceLine, attendance_of, next_night, nights_of, past_nights, upcoming
from league.clubs.queries.people import (
    a_club_may_be_opened_by,
    clubs_of,
    guests_of,
    is_junior_anywhere,
    members_of,
    membership_of,
    names_for,
    organisers_of,
    public_name,
)
from league.clubs.queries.venues import tables_of, venues_of

__all__ = [
    "AttendanceLine",
    "InvitationState",
    "LogLine",
    "a_club_may_be_opened_by",
    "attendance_of",
    "clubs_of",
    "entries_of",
    "guests_of",
    "invitation_by",
    "invitations_of",
    "is_junior_anywhere",
    "line_of",
    "log_of",
    "members_of",
    "membership_of",
    "names_for",
    "next_night",
    "nights_of",
    "organisers_of",
    "past_nights",
    "public_name",
    "put_in_words",
    "tables_of",
    "upcoming",
    "venues_of",
    "words_of",
]
