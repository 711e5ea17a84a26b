"""What the plan of a game can be chosen from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from league.battles.models import Game
from league.battles.queries.quick import ScenarioChoice, night_on, scenario_choices, scenarios_of, usual_choice
from league.battles.queries.sides import sides_of
from league.clubs.models import Club, Member, Night, Table
from league.rosters.models import Roster

__all__ = ["PlanChoices", "RosterChoice", "plan_choices", "rosters_for"]


@dataclass(frozen=True, kw_only=True, slots=True)
class PlanChoices:
    scenarios: list[ScenarioChoice]
    usual: ScenarioChoice | None
    nights: QuerySet[Night]
    tables: QuerySet[Table]
    members: list[Member]
    rosters: list[Roster]
    night: Night | None


@dataclass(frozen=True, kw_only=True, slots=True)
class RosterChoice:
    """A side without a roster, and the rosters its players lead under the game's ruleset."""

    position: int
    names: str
    rosters: list[Roster]


def plan_choices(member: Member, today: date, *, changing: Game | None = None) -> PlanChoices:
    """What a new plan, or the change of a game's, offers; a game keeps the edition it was planned by."""
    club: Club = member.club
    scenarios = scenarios_of(changing.edition) if changing else scenario_choices(club)
    rosters = Roster.objects.filter(club=club, retired_at=None).select_related("owner", "ruleset")
    if changing:
        rosters = rosters.filter(ruleset=changing.edition.ruleset_id)
    first = min(today, changing.on) if changing else today
    return PlanChoices(
        scenarios=scenarios,
        usual=usual_choice(member, scenarios),
        nights=Night.objects.filter(club=club, cancelled_at=None, on__gte=first).order_by("on", "starts_at", "pk"),
        tables=Table.objects.filter(venue__club=club, venue__closed_at=None)
        .select_related("venue")
        .order_by("venue__name", "number"),
        members=list(Member.objects.present().filter(club=club).order_by("name", "pk")),
        rosters=list(rosters.order_by("owner__name", "name", "pk")),
        night=night_on(club, today),
    )


def rosters_for(game: Game) -> list[RosterChoice]:
    """The sides that have not said which roster they led, with what they could have led; three queries."""
    bare = [side for side in sides_of(game) if side.roster_id is None]
    owners = {player.member_id for side in bare for player in side.players.all()}
    rosters = list(
        Roster.objects.filter(owner__in=owners, club=game.club_id, ruleset=game.edition.ruleset_id, retired_at=None)
        .select_related("owner")
        .order_by("name", "pk")
    )
    return [
        RosterChoice(
            position=side.position,
            names=", ".join(player.member.name for player in side.players.all()),
            rosters=[each for each in rosters if each.owner_id in {player.member_id for player in side.players.all()}],
        )
        for side in bare
    ]
