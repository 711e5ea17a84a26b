from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Count, F, Q

from league.battles.models import Game, Side, SidePlayer
from league.clubs.models import Attendance, Club, Invitation, Night
from league.rosters.models import Engagement, Roster, Snapshot
from league.seasons.models import EntrantPlayer, Pairing, Season

__all__ = ["invitations", "organisers", "within_clubs"]

# For each table: the paths that must lead to one and the same club.
SAME_CLUB = (
    (Night, "club", "venue__club"),
    (Attendance, "night__club", "member__club"),
    (Roster, "club", "owner__club"),
    (Roster, "club", "ruleset__club"),
    (Snapshot, "roster__club", "edition__ruleset__club"),
    (Game, "club", "edition__ruleset__club"),
    (Game, "club", "night__club"),
    (Game, "club", "table__venue__club"),
    (Side, "game__club", "roster__club"),
    (SidePlayer, "game__club", "member__club"),
    (Season, "club", "ruleset__club"),
    (EntrantPlayer, "season__club", "member__club"),
    (Pairing, "round__season__club", "game__club"),
    (Engagement, "roster__club", "result__report__game__club"),
)


def within_clubs() -> Iterator[str]:
    for model, one, other in SAME_CLUB:
        strays = model.objects.filter(Q(**{f"{other}__isnull": False}) & ~Q(**{one: F(other)}))
        for pk in strays.values_list("pk", flat=True):
            yield f"{model._meta.verbose_name} {pk}: {one} and {other} are two clubs"  # noqa: SLF001 - documented API


def invitations() -> Iterator[str]:
    for each in Invitation.objects.annotate(came=Count("members")).exclude(uses=F("came")):
        yield f"invitation {each.pk} counts {each.uses} uses, but {each.came} members came by it"


def organisers() -> Iterator[str]:
    led = Club.objects.filter(members__is_organiser=True, members__left_at=None)
    for club in Club.objects.exclude(pk__in=led.values("pk")):
        yield f"{club.name} has no organiser"
