"""Who meets whom: pairing by hand, taking a pairing back, marking who did not play."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID, uuid5

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles.models import Game, Report, ReportState
from league.battles.queries.reports import current_report
from league.battles.services.games import SidePlan, cancel_game, plan_game
from league.clubs.models import Member, Table
from league.clubs.services.log import log_act
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.errors import Refused, Violation
from league.rulesets.models import Edition
from league.rulesets.queries import current_edition, rules_of
from league.seasons.models import Entrant, Pairing, PairingSide, Round, Season, Unplayed
from league.seasons.services.seasons import SeasonRefused, lock_season, open_season

__all__ = ["PairingPlan", "PairingSettled", "mark_unplayed", "pair", "pair_many", "unpair", "write_pairings_of"]

PAIR = 2
SIDES_MOST = 20
ALONE = frozenset({Unplayed.BYE, Unplayed.ABSENT, Unplayed.FORFEIT_WIN, Unplayed.FORFEIT_LOSS})
FORFEITS = frozenset({"", Unplayed.FORFEIT_WIN, Unplayed.FORFEIT_LOSS})


class PairingSettled(Refused):
    """There is a report of the game; the pairing is history."""

    status = 409


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
    has_roles: bool = False,
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
            has_roles=has_roles,
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


def write_pairings_of(
    in_round: Round,
    seats: Sequence[tuple[Sequence[Entrant], Table | None, str]],
    *,
    submission: UUID,
    at: datetime,
    by: Member,
) -> list[Pairing]:
    """The pairings of a drafted round, each with its table and scenario; who is alone has the bye.

    Raises: as `write_pairing`.
    """
    season = in_round.season
    edition = current_edition(season.ruleset)
    taken = set(Pairing.objects.filter(round__season=season).values_list("key", flat=True))
    players = Entrant.objects.filter(season=season).prefetch_related("players").in_bulk()
    made = []
    number = 0
    for place, (entrants, table, scenario) in enumerate(seats):
        number += 1
        while f"r{in_round.number}-{number}" in taken:
            number += 1
        made.append(
            write_pairing(
                season,
                in_round,
                [players[entrant.pk] for entrant in entrants],
                edition=edition,
                key=f"r{in_round.number}-{number}",
                alone=Unplayed.BYE if len(entrants) == 1 else "",
                table=table,
                scenario=scenario,
                submission=uuid5(submission, str(place)),
                digest=digest_of([in_round.pk, place]),
                has_roles=True,
                at=at,
                by=by,
            )
        )
    return made


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


@transaction.atomic
def mark_unplayed(pairing: Pairing, *, seats: Mapping[int, str], by: Member) -> Pairing:
    """Say who did not play, by entrant id; an empty reason says that they do after all. Seats not named stay.

    When nobody is left to play, the game is cancelled; when others are, a game is planned for them alone.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
        PairingSettled: the game has a report that was not struck out.
    """
    season = open_season(pairing.round.season, by=by)
    pairing = as_it_is(pairing)
    rows = seats_of(pairing)
    before = {row.entrant_id: row.unplayed for row in rows}
    after = {**before, **{pk: reason for pk, reason in seats.items() if pk in before}}
    faults = faults_of_marks(after)
    if pairing.removed_at is not None:
        faults.append(Violation(_("This pairing was taken back."), code="removed"))
    if unknown := set(seats) - set(before):
        faults.append(Violation(_("They are not in this pairing."), f"seats.{min(unknown)}", "unknown"))
    if faults:
        raise SeasonRefused(faults)
    if len(rows) > 1:
        replan(season, pairing, [row.entrant for row in rows if not after[row.entrant_id]], by=by)
    for row in rows:
        row.unplayed = after[row.entrant_id]
    PairingSide.objects.bulk_update(rows, ["unplayed"])
    marks = ", ".join(
        f"{row.entrant.name}: {Unplayed(row.unplayed).label if row.unplayed else _('plays')}" for row in rows
    )
    log_act(season.club, "pairing_marked", season, by=by, pairing=pairing.pk, number=pairing.round.number, marks=marks)
    return pairing


def as_it_is(pairing: Pairing) -> Pairing:
    """The pairing as the last act on its season, which is locked by now, has left it."""
    rows = Pairing.objects.select_related("round", "game__club")
    current: Pairing = rows.get(pk=pairing.pk)
    return current


def replan(season: Season, pairing: Pairing, playing: list[Entrant], *, by: Member) -> None:
    """Leave the pairing with the game of those who play, and no other."""
    old = pairing.game
    playing_before = [seat.entrant_id for seat in pairing.seats.filter(unplayed="").order_by("position")]
    if (
        old is not None
        and old.cancelled_at is None
        and playing
        and [entrant.pk for entrant in playing] == playing_before
    ):
        return
    call_off(old, by=by)
    if not playing or old is None:
        return
    pairing.game = plan_for(
        season,
        pairing.round,
        playing,
        edition=old.edition,
        on=pairing.on,
        table=old.table,
        scenario=old.scenario,
        submission=uuid5(pairing.submission, f"game after {old.pk}"),
        by=by,
    )
    pairing.save(update_fields=["game"])


def call_off(game: Game | None, *, by: Member) -> None:
    """Cancel a game nobody will play. One whose report was struck out stays as it is.

    Raises:
        PairingSettled: it has a report that stands.
    """
    if game is None or game.cancelled_at is not None:
        return
    report: Report | None = current_report(game)
    if report is None:
        cancel_game(game, by=by)
    elif getattr(report, "state", None) != ReportState.VOID:
        raise PairingSettled(_("There is a report of this game. Correct it, or have the umpire strike it out."))


def plan_for(
    season: Season,
    in_round: Round,
    entrants: Sequence[Entrant],
    *,
    edition: Edition,
    on: date | None,
    table: Table | None,
    scenario: str,
    submission: UUID,
    has_roles: bool = False,
    by: Member,
) -> Game:
    """The game of these entrants; with `has_roles` they take the scenario's sides in order, else they choose."""
    played = rules_of(edition).scenario(scenario) if scenario and has_roles else None
    roles = [side.key for side in played.sides] if played else [""] * len(entrants)
    try:
        return plan_game(
            season.club,
            edition=edition,
            scenario=scenario,
            on=on or in_round.on or season.starts_on,
            sides=[
                SidePlan(role=role, member_ids=[player.member_id for player in entrant.players.all()])
                for role, entrant in zip(roles, entrants, strict=True)
            ],
            table=table,
            submission=submission,
            by=by,
        )
    except Refused as refusal:
        raise SeasonRefused(refusal.violations) from None


def seats_of(pairing: Pairing) -> list[PairingSide]:
    rows = pairing.seats.select_related("entrant").prefetch_related("entrant__players").order_by("position")
    return list(rows)


def free_key(season: Season, in_round: Round) -> str:
    taken = set(Pairing.objects.filter(round__season=season).values_list("key", flat=True))
    number = in_round.pairings.count() + 1
    while f"r{in_round.number}-{number}" in taken:
        number += 1
    return f"r{in_round.number}-{number}"


def named(entrants: Iterable[Entrant]) -> str:
    return ", ".join(entrant.name for entrant in entrants)


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


def faults_of_marks(marks: Mapping[int, str]) -> list[Violation]:
    allowed = ALONE if len(marks) == 1 else FORFEITS
    faults = [
        Violation(_("This cannot be said of them here."), f"seats.{pk}", "unknown_mark")
        for pk, reason in marks.items()
        if reason not in allowed
    ]
    reasons = list(marks.values())
    if len(marks) > 1 and reasons.count("") == 1:
        words = _("Who is left without an opponent wins by forfeit: say so.")
        faults.append(Violation(words, code="alone"))
    if len(marks) == PAIR and reasons.count(Unplayed.FORFEIT_WIN) == PAIR:
        faults.append(Violation(_("Both cannot win by forfeit."), code="both_won"))
    return faults
