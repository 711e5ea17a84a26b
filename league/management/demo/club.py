"""The people, the hall and the nights of the demo."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from accounts.services import open_account
from league.clubs.models import Club, Member
from league.clubs.services.clubs import change_club, found_club
from league.clubs.services.invitations import invite, join_by
from league.clubs.services.members import add_guest, change_offices, change_privacy, mark_junior
from league.management.demo import forces, league, seasons, stores, war
from league.management.demo.evenings import plan_evenings
from league.management.demo.playing import Cast
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset

__all__ = ["PEOPLE", "build_demo", "is_built"]

SLUG = "weir-street"


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who signs in; `offices` are those held besides being a member."""

    name: str
    email: str
    offices: tuple[str, ...] = ()


PEOPLE = (
    Person("Odalys Fenn", "odalys@weir-street.example", ("is_organiser",)),
    Person("Ulmar Penrick", "ulmar@weir-street.example", ("is_umpire",)),
    Person("Quenna Marsh", "quenna@weir-street.example", ("is_quartermaster",)),
    Person("Brannoc Tull", "brannoc@weir-street.example"),
    Person("Ceriden Voss", "ceriden@weir-street.example"),
    Person("Tamsin Oake", "tamsin@weir-street.example"),
    Person("Jory Halloran", "jory@weir-street.example"),
    Person("Pell Wicken", "pell@weir-street.example"),
)
GUESTS = ("Gorran", "Hesper", "Ivo", "Merrit", "Nessa")
NEIGHBOUR = Person("Wystan Ives", "wystan@upper-lock.example", ("is_organiser",))


def is_built() -> bool:
    return Club.objects.filter(slug=SLUG).exists()


@transaction.atomic
def build_demo(*, today: date, passwords: Mapping[str, str]) -> Club:
    """Make the demo clubs. `passwords` by e-mail address, for everyone in PEOPLE and the neighbour."""
    club = found_people(passwords)
    people = {member.name.split()[0]: member for member in club.members.all()}
    rulesets = {
        name: create_ruleset(club, document=document, by=people["Odalys"])
        for name, document in shipped_documents().items()
    }
    evenings = plan_evenings(club, people, today)
    rosters = forces.muster(club, people, rulesets)
    ferry_skirmish = rulesets["ferry_skirmish"]
    cast = Cast(club=club, people=people, ruleset=ferry_skirmish, rosters=rosters, evenings=evenings)
    seasons.play_earlier_seasons(cast)
    league.play_season(club, people, ferry_skirmish, rosters, evenings)
    seasons.play_later_seasons(cast)
    league.plan_friendly_games(club, people, rulesets, rosters, evenings)
    stores.fill_stores(club, people, evenings, today=today)
    war.fight_war(cast, today=today)
    found_neighbour(passwords)
    return club


def found_people(passwords: Mapping[str, str]) -> Club:
    first, *others = PEOPLE
    organiser_user = open_account(email=first.email, name=first.name, password=passwords[first.email])
    club = found_club(organiser_user, name="Weir Street Irregulars", slug=SLUG, member_name=first.name)
    organiser = club.members.get()
    change_club(
        club,
        name=club.name,
        about="We meet on Thursdays in the old boat shed by the weir. Newcomers are welcome: we lend figures, dice and advice.",
        time_zone=club.time_zone,
        is_public=True,
        by=organiser,
    )
    _invitation, secret = invite(club, note="Everyone at the boat shed", uses_allowed=len(others), by=organiser)
    for person in others:
        user = open_account(email=person.email, name=person.name, password=passwords[person.email])
        member = join_by(secret, user=user, name=person.name)
        if person.offices:
            held = {office: office in person.offices for office in ("is_organiser", "is_umpire", "is_quartermaster")}
            change_offices(member, **held, by=organiser)
    for name in GUESTS:
        add_guest(club, name=name, by=organiser)
    care_for(club, organiser)
    return club


def care_for(club: Club, organiser: Member) -> None:
    """Some show their page, one is under 18 and stays private whatever happens."""
    for name in ("Brannoc Tull", "Ceriden Voss"):
        member = club.members.get(name=name)
        change_privacy(member, shows_page=True, shows_results=True, shows_rosters=name == "Brannoc Tull", by=member)
    mark_junior(
        club.members.get(name="Pell Wicken"),
        is_junior=True,
        guardian_contact="Marl Wicken, at the lock house",
        by=organiser,
    )


def found_neighbour(passwords: Mapping[str, str]) -> Club:
    """A second club on the same site, to show that neither sees the other's rows."""
    user = open_account(email=NEIGHBOUR.email, name=NEIGHBOUR.name, password=passwords[NEIGHBOUR.email])
    club = found_club(user, name="Upper Lock Circle", slug="upper-lock", member_name=NEIGHBOUR.name)
    for document in shipped_documents().values():
        create_ruleset(club, document=document, by=club.members.get())
    return club
