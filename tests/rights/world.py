"""One row of everything in one club, so that every address has something to show."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import date, time, timedelta
from uuid import uuid4

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from PIL import Image

from accounts.services import issue_token
from league.battles.models import Game
from league.battles.services.claims import CasualtyLine, ReportClaim, SideClaim
from league.battles.services.games import SidePlan, plan_game
from league.battles.services.photos import add_photo
from league.battles.services.reports import file_report
from league.clubs.models import Club, Member
from league.clubs.services.invitations import invite
from league.clubs.services.nights import plan_night
from league.clubs.services.venues import add_table, add_venue
from league.rosters.models import Roster
from league.rosters.services.facts import UnitFacts
from league.rosters.services.rosters import create_roster
from league.rulesets.models import Edition
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.seasons.models import Pin, PinSeat
from league.seasons.services.divisions import add_division
from league.seasons.services.entrants import enter
from league.seasons.services.pairings import pair
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import create_season
from tests.rights.kit import kit_values
from tests.rights.war import war_values

DAY = date(2026, 3, 19)
UNITS = [
    UnitFacts(name="Leader", unit_class="leader", figures=2, points=50),
    UnitFacts(name="Red Company", unit_class="line", figures=10, points=80),
    UnitFacts(name="Ochre Company", unit_class="line", figures=10, points=80),
]


@dataclass(frozen=True)
class World:
    """`values` gives, for a word before a parameter in a route and the parameter's name, what stands there."""

    club: Club
    values: dict[tuple[str, str], object]


def build(club: Club, *, organiser: Member, member: Member, opponent: Member) -> World:
    """`member` owns what members own; `opponent` filed the report that `member` may answer."""
    ruleset = create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
    edition = current_edition(ruleset)
    venue = add_venue(club, name="The boat shed", by=organiser)
    table = add_table(venue, number=1, width_mm=1800, depth_mm=1200, by=organiser)
    night = plan_night(club, venue=venue, on=timezone.localdate() + timedelta(days=7), starts_at=time(19), by=organiser)
    rosters = {
        who.pk: create_roster(
            club, owner=who, ruleset=ruleset, name=f"{who.name}'s", units=UNITS, submission=uuid4(), by=who
        )
        for who in (member, opponent)
    }
    planned = play(club, edition, {who: rosters[who.pk] for who in (opponent, member)})
    report = reported(play(club, edition, {who: rosters[who.pk] for who in (opponent, member)}), by=opponent)
    season = create_season(
        club,
        ruleset=ruleset,
        name="Spring",
        starts_on=DAY,
        rules={"scheme": {"win_x2": 2, "draw_x2": 1, "loss_x2": 0}, "tie_breaks": [{"name": "wins"}]},
        submission=uuid4(),
        by=organiser,
    )
    entrants = [enter(season, member_ids=[who.pk], by=organiser) for who in (member, opponent)]
    first_round = add_round(season, on=DAY, by=organiser)
    pairing = pair(first_round, entrant_ids=[each.pk for each in entrants], submission=uuid4(), by=organiser)
    photo = add_photo(report.game, file=picture(), submission=uuid4(), by=member)
    invitation, secret = invite(club, by=organiser)
    token, _secret = issue_token(member.user, name="for a script")
    division = add_division(season, name="First", level=1, by=organiser)
    pin = Pin.objects.create(round=first_round, kind=Pin.Kind.BYE, by=organiser, at=timezone.now())
    PinSeat.objects.create(pin=pin, round=first_round, entrant=entrants[0], position=1)
    values = {
        **kit_values(club, night=night, organiser=organiser, member=member, opponent=opponent, picture=picture()),
        **war_values(club, member=member, opponent=opponent),
        ("clubs", "club"): club.slug,
        ("join", "secret"): secret,
        ("tokens", "pk"): token.pk,
        ("members", "pk"): member.pk,
        ("players", "pk"): member.pk,
        ("ratings", "member"): member.pk,
        ("invitations", "pk"): invitation.pk,
        ("venues", "pk"): venue.pk,
        ("venues", "venue"): venue.pk,
        ("tables", "pk"): table.pk,
        ("nights", "pk"): night.pk,
        ("nights", "night"): night.pk,
        ("rulesets", "pk"): ruleset.pk,
        ("rulesets", "ruleset"): ruleset.pk,
        ("edit", "section"): "qualities",
        ("editions", "number"): 1,
        ("rosters", "pk"): rosters[member.pk].pk,
        ("rosters", "roster"): rosters[member.pk].pk,
        ("units", "pk"): rosters[member.pk].units.first().pk,
        ("units", "unit"): rosters[member.pk].units.first().pk,
        ("games", "pk"): planned.pk,
        ("games", "game"): planned.pk,
        ("reports", "pk"): report.pk,
        ("reports", "report"): report.pk,
        ("photos", "pk"): photo.pk,
        ("seasons", "pk"): season.pk,
        ("seasons", "season"): season.pk,
        ("rounds", "number"): first_round.number,
        ("pairings", "pairing"): pairing.key,
        ("entrants", "entrant"): entrants[0].key,
        ("pins", "pin"): pin.pk,
        ("divisions", "division"): division.key,
        ("standings", "entrant"): entrants[0].key,
        ("standings", "row"): entrants[0].pk,
        ("", "column"): "points",
    }
    return World(club=club, values=values)


def play(club: Club, edition: Edition, forces: dict[Member, Roster]) -> Game:
    sides = [
        SidePlan(member_ids=[who.pk], roster_id=roster.pk, role=role)
        for (who, roster), role in zip(forces.items(), ("first", "second"), strict=True)
    ]
    by = next(iter(forces))
    return plan_game(club, edition=edition, scenario="chance_meeting", on=DAY, sides=sides, submission=uuid4(), by=by)


def reported(game: Game, *, by: Member):
    lost = {position: game.sides.get(position=position).roster.units.get(name="Red Company").pk for position in (1, 2)}
    sides = [
        SideClaim(position=position, score=score, casualties=[CasualtyLine(unit_id=lost[position], figures_lost=2)])
        for position, score in ((1, 12), (2, 7))
    ]
    return file_report(game, claim=ReportClaim(fought_on=DAY, sides=sides, is_full=True), submission=uuid4(), by=by)


def picture() -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "tan").save(out, "JPEG")
    return SimpleUploadedFile("table.jpg", out.getvalue(), content_type="image/jpeg")
