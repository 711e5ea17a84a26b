"""A whole season out of its document."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles.models import Game
from league.battles.services.imports import ImportedGame, ImportedSide, import_games
from league.clubs.models import Club, Member
from league.clubs.services.clubs import lock_club
from league.clubs.services.log import log_act
from league.clubs.services.members import write_down_guests
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines.documents.reading import BadDocument
from league.engines.documents.season import (
    SeasonDocument,
    SeasonGame,
    SeasonSide,
    dump,
    read_season,
    write_pairing,
    write_rules,
)
from league.engines.documents.season_draft import DRAFTED
from league.errors import NotYoursToDo, Violation
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition
from league.seasons import permissions
from league.seasons.models import Adjustment, Division, Entrant, EntrantPlayer, Pairing, PairingSide, Round, Season
from league.seasons.services.seasons import SeasonRefused, name_taken, violation_of

__all__ = ["import_season"]

FAULTS_SHOWN = 100


@transaction.atomic
def import_season(club: Club, *, document: Any, ruleset: Ruleset, submission: UUID, by: Member) -> Season:
    """Make a season of a season document, such that exporting it gives the same document again.

    Players are found among the club's people by exact name; who is not found becomes a guest.

    Raises:
        NotYoursToDo: not an organiser.
        SeasonRefused: with everything wrong with the document (the first hundred faults, and how many more).
        SubmissionReused: the submission's name came earlier with another document.
    """
    if by.club_id != club.pk or not permissions.can_start_season(by):
        raise NotYoursToDo(_("Only organisers make seasons."))
    try:
        told = read_season(document)
    except BadDocument as failure:
        raise SeasonRefused(in_bounds([violation_of(fault, "document") for fault in failure.faults])) from None
    digest = digest_of([club.pk, by.pk, ruleset.pk, dump(told).decode()])
    if again := earlier(Season, submission, digest):
        return again
    faults = faults_of_import(club, told, ruleset)
    if faults:
        raise SeasonRefused(faults)
    now = timezone.now()
    try:
        season, is_new = write_season_row(club, told, ruleset, submission=submission, digest=digest, at=now)
    except IntegrityError:
        raise SeasonRefused(name_taken(told.name)) from None
    if not is_new:
        return season
    entrants = write_entrants(season, told, at=now)
    write_games(season, told, entrants, by=by, at=now)
    write_adjustments(season, told, entrants, by=by, at=now)
    log_act(club, "season_imported", season, by=by, at=now, name=season.name)
    return season


def in_bounds(faults: list[Violation]) -> list[Violation]:
    if len(faults) <= FAULTS_SHOWN:
        return faults
    more = Violation(_("And %(more)s faults more.") % {"more": len(faults) - FAULTS_SHOWN}, "document", "more")
    return [*faults[:FAULTS_SHOWN], more]


def faults_of_import(club: Club, told: SeasonDocument, ruleset: Ruleset) -> list[Violation]:
    faults = []
    if ruleset.club_id != club.pk:
        faults.append(Violation(_("This ruleset is not one of the club's."), "ruleset", "not_of_club"))
    if Season.objects.filter(club=club, name=told.name).exists():
        faults.append(name_taken(told.name))
    return faults


def write_season_row(
    club: Club, told: SeasonDocument, ruleset: Ruleset, *, submission: UUID, digest: str, at: datetime
) -> tuple[Season, bool]:
    rules = write_rules(told.rules, told.counts)
    counts = rules.pop("counts")
    pairing = write_pairing(told.pairing)
    return write_once(
        Season,
        submission,
        digest,
        club=club,
        ruleset=ruleset,
        name=told.name,
        starts_on=told.starts_on,
        ends_on=told.ends_on,
        rules=rules,
        counts=counts,
        format=pairing.pop("format"),
        pairing=pairing,
        seed=told.seed,
        club_named=told.club,
        is_imported=True,
        created_at=at,
    )


def write_entrants(season: Season, told: SeasonDocument, *, at: datetime) -> dict[str, Entrant]:
    """The entrants by their key, with their players."""
    divisions = {
        row.key: row
        for row in Division.objects.bulk_create(
            Division(
                season=season,
                key=each.id,
                name=each.name,
                level=each.level,
                promotes=each.promotes,
                relegates=each.relegates,
            )
            for each in told.divisions
        )
    }
    rows = Entrant.objects.bulk_create(
        Entrant(
            season=season,
            key=each.id,
            name=each.name,
            entered_at=at,
            left_at=at if each.left else None,
            left_on=each.left.on if each.left else None,
            left_after_round=each.left.after_round if each.left else None,
            left_reason=each.left.reason if each.left else "",
            division=divisions.get(each.division),
            joined_after_round=each.joined_after_round,
            party=each.party,
            is_newcomer=each.newcomer,
            seed_number=each.seed,
        )
        for each in told.entrants
    )
    people = people_by_name(season.club, told, at=at)
    EntrantPlayer.objects.bulk_create(
        EntrantPlayer(season=season, entrant=row, member=people[name].pop(0))
        for row, each in zip(rows, told.entrants, strict=True)
        for name in each.players
    )
    return {row.key: row for row in rows}


def people_by_name(club: Club, told: SeasonDocument, *, at: datetime) -> dict[str, list[Member]]:
    """For each name as many people of the club as the document has players of that name, guests made where needed."""
    wanted: defaultdict[str, int] = defaultdict(int)
    for entrant in told.entrants:
        for name in entrant.players:
            wanted[name] += 1
    lock_club(club)
    people: defaultdict[str, list[Member]] = defaultdict(list)
    for member in Member.objects.present().filter(club=club).order_by("pk"):
        people[member.name].append(member)
    missing = [name for name, times in wanted.items() for _missing in range(times - len(people[name]))]
    for guest in write_down_guests(club, missing, at=at):
        people[guest.name].append(guest)
    return people


def write_games(
    season: Season, told: SeasonDocument, entrants: Mapping[str, Entrant], *, by: Member, at: datetime
) -> None:
    numbers = {each.number for each in told.rounds} | {game.round for game in told.games if game.round == 0}
    facts = {each.number: each for each in told.rounds}
    paired = {game.round for game in told.games} - {0} if told.pairing.format in DRAFTED else set()
    rounds = {
        row.number: row
        for row in Round.objects.bulk_create(
            Round(
                season=season,
                number=number,
                on=facts[number].on if number else None,
                note=facts[number].note if number else "",
                # What was paired in the file is for all to see and never drafted again.
                published_at=at if number in paired else None,
                published_by=by if number in paired else None,
            )
            for number in sorted(numbers)
        )
    }
    players: defaultdict[int, list[int]] = defaultdict(list)
    for entrant_id, member_id in season.players.order_by("pk").values_list("entrant_id", "member_id"):
        players[entrant_id].append(member_id)
    fought = [game for game in told.games if any(not side.unplayed for side in game.sides)]
    games = import_games(
        season.club,
        edition=current_edition(season.ruleset),
        games=[as_imported(season, game, rounds[game.round].on, entrants, players) for game in fought],
        by=by,
        at=at,
    )
    write_pairings(told, rounds, entrants, dict(zip((game.id for game in fought), games, strict=True)), at=at)


def as_imported(
    season: Season,
    game: SeasonGame,
    round_on: date | None,
    entrants: Mapping[str, Entrant],
    players: Mapping[int, list[int]],
) -> ImportedGame:
    return ImportedGame(
        on=game.on or round_on or season.starts_on,
        scenario=game.scenario or "",
        state=game.report,
        sides=[as_imported_side(side, players[entrants[side.entrant].pk]) for side in game.sides if not side.unplayed],
    )


def as_imported_side(side: SeasonSide, member_ids: list[int]) -> ImportedSide:
    return ImportedSide(
        member_ids=member_ids,
        score=side.score,
        outcome=side.outcome or "",
        conceded=side.conceded,
        value_destroyed=side.value_destroyed,
        value_lost=side.value_lost,
        counts=side.counts,
    )


def write_pairings(
    told: SeasonDocument,
    rounds: Mapping[int, Round],
    entrants: Mapping[str, Entrant],
    games: Mapping[str, Game],
    *,
    at: datetime,
) -> None:
    positions: defaultdict[int, int] = defaultdict(int)
    rows = []
    for game in told.games:
        positions[game.round] += 1
        rows.append(
            Pairing(
                round=rounds[game.round],
                key=game.id,
                position=positions[game.round],
                on=game.on,
                postponed_until=game.postponed_until,
                game=games.get(game.id),
                created_at=at,
            )
        )
    Pairing.objects.bulk_create(rows)
    PairingSide.objects.bulk_create(
        PairingSide(
            round=row.round,
            pairing=row,
            entrant=entrants[side.entrant],
            position=position,
            is_open=row.round.is_open_play,
            unplayed=side.unplayed,
        )
        for row, game in zip(rows, told.games, strict=True)
        for position, side in enumerate(game.sides, start=1)
    )


def write_adjustments(
    season: Season, told: SeasonDocument, entrants: Mapping[str, Entrant], *, by: Member, at: datetime
) -> None:
    Adjustment.objects.bulk_create(
        Adjustment(
            season=season,
            entrant=entrants[each.entrant],
            points_x2=each.points_x2,
            after_round=each.after_round,
            reason=each.reason,
            by=by,
            on=each.on,
            at=at,
        )
        for each in told.adjustments
    )
