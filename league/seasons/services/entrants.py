"""Who takes part in a season: entering, leaving, coming back."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from django.db import transaction
from django.db.models import Max, Q
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.log import log_act
from league.engines.documents.season_draft import DRAFTED
from league.errors import Violation
from league.seasons.models import Entrant, EntrantPlayer, PairingSide, Season
from league.seasons.services.seasons import NAME_MOST, SeasonRefused, faults_of_reason, open_season

__all__ = ["change_entrant", "enter", "enter_each", "readmit", "withdraw"]

KEY_MOST = 40


@transaction.atomic
def enter(season: Season, *, name: str = "", member_ids: Sequence[int], by: Member) -> Entrant:
    """Enter one player or a team. Without a name a single player's own is taken.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
    """
    season = open_season(season, by=by)
    refuse_late(season)
    members = Member.objects.present().filter(club=season.club_id).in_bulk(set(member_ids))
    name = name.strip()
    if not name and len(member_ids) == 1 and len(members) == 1:
        name = next(iter(members.values())).name
    faults = [
        *faults_of_name(season, name),
        *faults_of_players(season, member_ids, members.keys()),
    ]
    if faults:
        raise SeasonRefused(faults)
    return write_entrant(season, name, member_ids, taken=set(season.entrants.values_list("key", flat=True)), by=by)


@transaction.atomic
def enter_each(season: Season, *, member_ids: Sequence[int], by: Member) -> list[Entrant]:
    """Enter several players, each for themselves; all or none.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
    """
    season = open_season(season, by=by)
    refuse_late(season)
    members = Member.objects.present().filter(club=season.club_id).in_bulk(set(member_ids))
    faults = faults_of_players(season, member_ids, members.keys())
    names = set(season.entrants.values_list("name", flat=True))
    for member in members.values():
        if member.name in names:
            faults.append(name_taken(member.name))
        names.add(member.name)
    if faults:
        raise SeasonRefused(faults)
    taken = set(season.entrants.values_list("key", flat=True))
    return [write_entrant(season, members[pk].name, [pk], taken=taken, by=by) for pk in member_ids]


@transaction.atomic
def change_entrant(entrant: Entrant, *, name: str, member_ids: Sequence[int], by: Member) -> Entrant:
    """Change a team's name or who plays for it from now on. Games planned or played keep the players they have.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
    """
    season = open_season(entrant.season, by=by)
    name = name.strip()
    members = Member.objects.present().filter(club=season.club_id).in_bulk(set(member_ids))
    faults = [
        *faults_of_name(season, name, but=entrant),
        *faults_of_players(season, member_ids, members.keys(), but=entrant),
    ]
    if faults:
        raise SeasonRefused(faults)
    entrant.name = name
    entrant.save(update_fields=["name"])
    entrant.players.exclude(member__in=member_ids).delete()
    staying = set(entrant.players.values_list("member_id", flat=True))
    seat_players(entrant, [pk for pk in member_ids if pk not in staying])
    log_act(season.club, "entrant_changed", season, by=by, entrant=entrant.pk, name=name)
    return entrant


@transaction.atomic
def withdraw(entrant: Entrant, *, reason: str, after_round: int | None = None, by: Member) -> Entrant:
    """Take an entrant out. `after_round` is the last round it took part in; None: the last one it has a result in.

    What becomes of its results the season's rules say. Pairings still to be played stay for the organiser to mark.
    Leaving twice is leaving once.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
    """
    season = open_season(entrant.season, by=by)
    reason = reason.strip()
    if faults := faults_of_reason(reason):
        raise SeasonRefused(faults)
    now = timezone.now()
    last = last_round_of(entrant) if after_round is None else after_round
    today = timezone.localdate(now, season.club.zone)
    if Entrant.objects.filter(pk=entrant.pk, left_at=None).update(
        left_at=now, left_on=today, left_after_round=last, left_reason=reason
    ):
        log_act(
            season.club, "entrant_left", season, by=by, at=now, entrant=entrant.pk, name=entrant.name, reason=reason
        )
    entrant.refresh_from_db()
    return entrant


@transaction.atomic
def readmit(entrant: Entrant, *, by: Member) -> Entrant:
    """Let an entrant who left back in, as if it had not."""
    season = open_season(entrant.season, by=by)
    if Entrant.objects.filter(pk=entrant.pk, left_at__isnull=False).update(
        left_at=None, left_on=None, left_after_round=None, left_reason=""
    ):
        log_act(season.club, "entrant_returned", season, by=by, entrant=entrant.pk, name=entrant.name)
    entrant.refresh_from_db()
    return entrant


def last_round_of(entrant: Entrant) -> int:
    """The last round in which the entrant has a result, 0 before the first."""
    settled = Q(pairing__game__reports__isnull=False) | ~Q(unplayed="")
    seats = PairingSide.objects.filter(settled, entrant=entrant, removed_at=None)
    return int(seats.aggregate(last=Max("round__number"))["last"] or 0)


def write_entrant(season: Season, name: str, member_ids: Iterable[int], *, taken: set[str], by: Member) -> Entrant:
    key = key_for(name, taken)
    taken.add(key)
    now = timezone.now()
    entrant = Entrant.objects.create(
        season=season, key=key, name=name, entered_at=now, joined_after_round=rounds_over(season)
    )
    seat_players(entrant, member_ids)
    log_act(season.club, "entrant_entered", season, by=by, at=now, entrant=entrant.pk, name=name)
    return entrant


def refuse_late(season: Season) -> None:
    """Where the whole plan was made of who had entered, nobody can enter afterwards.

    Raises: SeasonRefused
    """
    if season.format in DRAFTED - {"swiss"} and season.rounds.filter(published_at__isnull=False).exists():
        words = _("The rounds are drawn up already; nobody can enter this season any more.")
        raise SeasonRefused(Violation(words, code="under_way"))


def rounds_over(season: Season) -> int:
    """The last round that was published from a draft: whoever enters now is paired from the next one on."""
    return int(season.rounds.filter(published_at__isnull=False).aggregate(last=Max("number"))["last"] or 0)


def seat_players(entrant: Entrant, member_ids: Iterable[int]) -> None:
    EntrantPlayer.objects.bulk_create(
        EntrantPlayer(season_id=entrant.season_id, entrant=entrant, member_id=pk) for pk in member_ids
    )


def key_for(name: str, taken: Collection[str]) -> str:
    """A name for programs out of a name for people, unlike any taken."""
    stem = slugify(name)[: KEY_MOST - 6].strip("-_") or "entrant"
    key, number = stem, 1
    while key in taken:
        number += 1
        key = f"{stem}-{number}"
    return key


def faults_of_name(season: Season, name: str, but: Entrant | None = None) -> list[Violation]:
    if not name:
        return [Violation(_("A team needs a name."), "name", "required")]
    if len(name) > NAME_MOST:
        return [Violation(_("Keep the name under %(most)s characters.") % {"most": NAME_MOST}, "name", "long")]
    others = season.entrants.exclude(pk=but.pk) if but else season.entrants.all()
    return [name_taken(name)] if others.filter(name=name).exists() else []


def faults_of_players(
    season: Season, member_ids: Sequence[int], known: Collection[int], but: Entrant | None = None
) -> list[Violation]:
    faults = []
    if not member_ids:
        faults.append(Violation(_("Say who plays."), "member_ids", "required"))
    if len(set(member_ids)) < len(member_ids):
        faults.append(Violation(_("Somebody is named twice."), "member_ids", "twice"))
    if any(pk not in known for pk in member_ids):
        faults.append(Violation(_("Somebody named is not in the club."), "member_ids", "not_of_club"))
    entered = season.players.filter(member__in=known).select_related("member", "entrant")
    for player in entered.exclude(entrant=but) if but else entered:
        words = _("%(name)s already plays for %(entrant)s.")
        named = {"name": player.member.name, "entrant": player.entrant.name}
        faults.append(Violation(words % named, "member_ids", "entered"))
    return faults


def name_taken(name: str) -> Violation:
    words = _("An entrant called %(name)s is in the season already; give the team another name.")
    return Violation(words % {"name": name}, "name", "taken")
