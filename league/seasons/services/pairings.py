"""Who meets whom: pairing by hand, taking a pairing back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID, uuid5

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Member, Table
from league.clubs.services.log import log_act
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.errors import Violation
from league.rulesets.models import Edition
from league.rulesets.queries import current_edition
from league.seasons.models import Entrant, Pairing, PairingSide, Round, Season, Unplayed
from league.seasons.services.games import as_it_is, call_off, named, plan_for, seats_of
from league.seasons.services.seasons import SeasonRefused, lock_season, open_season

__all__ = ["PairingPlan", "pair", "pair_many", "unpair"]

SIDES_MOST = 20


@dataclass(frozen=True, kw_only=True, slots=True)
class PairingPlan:
    """One pairing to be: one entrant for a bye (or, with `absent`, for staying away), two or more for a game."""

    entrant_ids: Sequence[int]
    absent: bool = False
    on: date | None = None
    table: Table | None = None
    scenario: str = ""


@transaction.atomic
def pair(
    in_round: Round,
    *,
    entrant_ids: Sequence[int],
    absent: bool = False,
    on: date | None = None,
    table: Table | None = None,
    scenario: str = "",
    submission: UUID,
    by: Member,
) -> Pairing:
    """Pair entrants of a round and plan their game, every entrant's players being one side of it.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
        SubmissionReused: the submission's name came earlier with another pairing.
    """
    digest = digest_of(
        [in_round.pk, by.pk, list(entrant_ids), absent, on, table.pk if table else None, scenario],
    )
    lock_season(in_round.season, by=by)
    if again := earlier(Pairing, submission, digest):
        return again
    season = open_season(in_round.season, by=by)
    found = Entrant.objects.filter(season=season).prefetch_related("players").in_bulk(set(entrant_ids))
    if faults := faults_of_seats(in_round, entrant_ids, found, absent=absent):
        raise SeasonRefused(faults)
    now = timezone.now()
    entrants = [found[pk] for pk in entrant_ids]
    alone = (Unplayed.ABSENT if absent else Unplayed.BYE) if len(entrants) == 1 else ""
    # The season is locked and was looked at since, so none of them can be seated elsewhere in between.
    made = write_pairing(
        season,
        in_round,
        entrants,
        edition=current_edition(season.ruleset),
        key=free_key(season, in_round),
        alone=alone,
        on=on,
        table=table,
        scenario=scenario,
        submission=submission,
        digest=digest,
        at=now,
        by=by,
    )
    names = named(entrants)
    log_act(season.club, "pairing_made", season, by=by, at=now, pairing=made.pk, number=in_round.number, names=names)
    return made


def write_pairing(
    season: Season,
    in_round: Round,
    entrants: Sequence[Entrant],
    *,
    edition: Edition,
    key: str,
    alone: str = "",
    on: date | None = None,
    table: Table | None = None,
    scenario: str = "",
    submission: UUID,
    digest: str,
    at: datetime,
    by: Member,
) -> Pairing:
    """The rows of one pairing and its game; `alone` says why one entrant has no opponent.

    Raises:
        SeasonRefused: the game cannot be planned.
    """
    game = None
    if not alone:
        game = plan_for(
            season,
            in_round,
            entrants,
            edition=edition,
            on=on,
            table=table,
            scenario=scenario,
            submission=uuid5(submission, "game"),
            by=by,
        )
    made, _is_new = write_once(
        Pairing,
        submission,
        digest,
        round=in_round,
        key=key,
        position=in_round.pairings.count() + 1,
        on=on,
        game=game,
        created_at=at,
    )
    seat(made, entrants, unplayed=alone)
    return made


def seat(pairing: Pairing, entrants: Sequence[Entrant], *, unplayed: str) -> None:
    PairingSide.objects.bulk_create(
        PairingSide(
            round=pairing.round,
            pairing=pairing,
            entrant=entrant,
            position=position,
            is_open=pairing.round.is_open_play,
            unplayed=unplayed,
        )
        for position, entrant in enumerate(entrants, start=1)
    )


@transaction.atomic
def pair_many(in_round: Round, *, plans: Sequence[PairingPlan], submission: UUID, by: Member) -> list[Pairing]:
    """Make several pairings of a round; all or none.

    Raises:
        as `pair`, the violations of all gathered; their fields begin with the place of the plan, from 0.
    """
    if not plans:
        raise SeasonRefused(_("No pairing was named."))
    faults: list[Violation] = []
    made = []
    for place, plan in enumerate(plans):
        try:
            made.append(
                pair(
                    in_round,
                    entrant_ids=plan.entrant_ids,
                    absent=plan.absent,
                    on=plan.on,
                    table=plan.table,
                    scenario=plan.scenario,
                    submission=uuid5(submission, str(place)),
                    by=by,
                )
            )
        except SeasonRefused as refusal:
            faults += [
                Violation(each.message, f"plans.{place}.{each.field}".rstrip("."), each.code)
                for each in refusal.violations
            ]
    if faults:
        raise SeasonRefused(faults)
    return made


@transaction.atomic
def unpair(pairing: Pairing, *, by: Member) -> Pairing:
    """Take a pairing back; its game is cancelled. Taking it back twice is taking it back once.

    Raises:
        NotYoursToDo, SeasonClosed
        PairingSettled: the game has a report.
    """
    season = open_season(pairing.round.season, by=by)
    pairing = as_it_is(pairing)
    now = timezone.now()
    if not Pairing.objects.filter(pk=pairing.pk, removed_at=None).update(removed_at=now):
        return pairing
    call_off(pairing.game, by=by)
    pairing.seats.update(removed_at=now)
    pairing.removed_at = now
    number, names = pairing.round.number, named(seat.entrant for seat in seats_of(pairing))
    log_act(season.club, "pairing_removed", season, by=by, at=now, pairing=pairing.pk, number=number, names=names)
    return pairing


def free_key(season: Season, in_round: Round) -> str:
    taken = set(Pairing.objects.filter(round__season=season).values_list("key", flat=True))
    number = in_round.pairings.count() + 1
    while f"r{in_round.number}-{number}" in taken:
        number += 1
    return f"r{in_round.number}-{number}"


def faults_of_seats(
    in_round: Round, entrant_ids: Sequence[int], found: Mapping[int, Entrant], *, absent: bool
) -> list[Violation]:
    place = "entrant_ids"
    faults = []
    if not entrant_ids:
        faults.append(Violation(_("Say who is paired."), place, "required"))
    if len(entrant_ids) > SIDES_MOST:
        faults.append(Violation(_("A game has %(most)s sides at most.") % {"most": SIDES_MOST}, place, "too_many"))
    if absent and len(entrant_ids) > 1:
        faults.append(Violation(_("Who stays away is not paired with anybody."), place, "absent"))
    if any(pk not in found for pk in entrant_ids):
        faults.append(Violation(_("Somebody is not in this season."), place, "not_of_season"))
    for pk, times in Counter(entrant_ids).items():
        if times > 1 and pk in found:
            words = _("%(name)s cannot meet themselves.") % {"name": found[pk].name}
            faults.append(Violation(words, place, "twice"))
    faults += [
        Violation(_("%(name)s has left the season.") % {"name": entrant.name}, place, "left")
        for entrant in found.values()
        if entrant.left_at is not None
    ]
    if not in_round.is_open_play:
        seated = in_round.seats.filter(removed_at=None, entrant__in=found).select_related("entrant")
        faults += [
            Violation(_("%(name)s is paired in this round already.") % {"name": seat.entrant.name}, place, "seated")
            for seat in seated
        ]
    return faults
