"""The services of a club refuse by themselves, whatever page, endpoint or command they are called from."""

from __future__ import annotations

from datetime import date, time

import pytest

from league.clubs.models import LogEntry
from league.clubs.services.clubs import ClubRefused, change_club
from league.clubs.services.invitations import InvitationRefused, invite, revoke_invitation
from league.clubs.services.members import (
    MemberRefused,
    add_guest,
    change_name,
    change_offices,
    change_privacy,
    leave_club,
    mark_junior,
)
from league.clubs.services.nights import NightRefused, answer_night, cancel_night, change_night, plan_night
from league.clubs.services.venues import (
    TableRefused,
    VenueRefused,
    add_table,
    add_venue,
    change_table,
    change_venue,
)
from league.errors import NotYoursToDo
from tests import factories

pytestmark = pytest.mark.django_db

OFFICES = {"is_organiser": True, "is_umpire": False, "is_quartermaster": False}
PRIVACY = {"shows_page": True, "shows_results": True, "shows_rosters": True}
SIZE = {"width_mm": 1800, "depth_mm": 1200}
NIGHT = {"on": date(2026, 4, 2), "starts_at": time(19), "ends_at": None, "title": "", "note": ""}

# What each act is tried on: the club, its venue, its table, its night, a link to it, another member.
ACTS = {
    "describe the club": lambda on, by: change_club(
        on.club, name="Ours now", about="", time_zone="Europe/London", is_public=True, by=by
    ),
    "write down a guest": lambda on, by: add_guest(on.club, name="Hewe", by=by),
    "rename somebody": lambda on, by: change_name(on.other, name="Somebody", by=by),
    "give an office": lambda on, by: change_offices(on.other, **OFFICES, by=by),
    "mark a junior": lambda on, by: mark_junior(on.other, is_junior=True, guardian_contact="", by=by),
    "open somebody's page": lambda on, by: change_privacy(on.other, **PRIVACY, by=by),
    "take somebody off the list": lambda on, by: leave_club(on.other, by=by),
    "make a link": lambda on, by: invite(on.club, by=by),
    "close a link": lambda on, by: revoke_invitation(on.link, by=by),
    "add a venue": lambda on, by: add_venue(on.club, name="Net loft", by=by),
    "close a venue": lambda on, by: change_venue(on.venue, name="Shut", address="", note="", is_closed=True, by=by),
    "put up a table": lambda on, by: add_table(on.venue, number=9, **SIZE, by=by),
    "measure a table": lambda on, by: change_table(on.table, number=9, **SIZE, note="", by=by),
    "plan a night": lambda on, by: plan_night(on.club, venue=on.venue, **NIGHT, by=by),
    "move a night": lambda on, by: change_night(on.night, venue=on.venue, **NIGHT, by=by),
    "call a night off": lambda on, by: cancel_night(on.night, by=by),
    "answer for somebody": lambda on, by: answer_night(on.night, member=on.other, answer="coming", by=by),
}
NOT_EVEN_ORGANISERS = {"open somebody's page"}


class Ours:
    def __init__(self, club, night, organiser, other):
        self.club, self.night, self.venue, self.other = club, night, night.venue, other
        self.table = factories.TableFactory(venue=night.venue)
        self.link = invite(club, by=organiser)[0]


@pytest.fixture
def ours(club, night, organiser, opponent):
    return Ours(club, night, organiser, opponent)


@pytest.mark.parametrize("who", ["member", "umpire", "quartermaster", "guest", "outsider"])
@pytest.mark.parametrize("act", ACTS)
def test_only_organisers_of_the_club(act, who, ours, request):
    by = request.getfixturevalue(who)
    lines = LogEntry.objects.count()
    with pytest.raises(NotYoursToDo):
        ACTS[act](ours, by)
    assert LogEntry.objects.count() == lines


@pytest.mark.parametrize("act", sorted(set(ACTS) - NOT_EVEN_ORGANISERS))
def test_an_organiser_may(act, ours, organiser):
    lines = LogEntry.objects.count()
    ACTS[act](ours, organiser)
    assert LogEntry.objects.count() == lines + 1


def test_what_strangers_see_of_a_person_not_even_an_organiser_says(ours, organiser):
    with pytest.raises(NotYoursToDo):
        ACTS["open somebody's page"](ours, organiser)


LONG = "o" * 2001
TOO_LONG = {
    "the club's name": (ClubRefused, lambda on, by: change_club(on.club, name=LONG, **DESCRIBED, by=by)),
    "a guest's name": (MemberRefused, lambda on, by: add_guest(on.club, name=LONG, by=by)),
    "a member's name": (MemberRefused, lambda on, by: change_name(on.other, name=LONG, by=by)),
    "a guardian's contact": (
        MemberRefused,
        lambda on, by: mark_junior(on.other, is_junior=True, guardian_contact=LONG, by=by),
    ),
    "the note on a link": (InvitationRefused, lambda on, by: invite(on.club, note=LONG, by=by)),
    "a venue's address": (VenueRefused, lambda on, by: add_venue(on.club, name="Loft", address=LONG, by=by)),
    "the note on a table": (TableRefused, lambda on, by: add_table(on.venue, number=9, **SIZE, note=LONG, by=by)),
    "a night's title": (
        NightRefused,
        lambda on, by: plan_night(on.club, venue=on.venue, **{**NIGHT, "title": LONG}, by=by),
    ),
}
DESCRIBED = {"about": "", "time_zone": "Europe/London", "is_public": False}


@pytest.mark.parametrize("text", TOO_LONG)
def test_a_text_longer_than_its_column_is_refused_in_words(text, ours, organiser):
    refusal, act = TOO_LONG[text]
    with pytest.raises(refusal, match="Keep this under"):
        act(ours, organiser)
