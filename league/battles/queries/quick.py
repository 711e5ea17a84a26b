"""What the quick log offers: whom one probably met, over what, without typing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import Max

from league.battles.models import Game, SidePlayer
from league.clubs.models import Attendance, Club, Member, Night
from league.rulesets.models import Edition, Ruleset
from league.rulesets.queries import current_editions, rules_of

__all__ = [
    "People",
    "ScenarioChoice",
    "editions_in_use",
    "night_on",
    "people_for",
    "scenario_choices",
    "scenarios_of",
    "usual_choice",
]

RECENT_GAMES = 20
RECENT_PEOPLE = 6


@dataclass(frozen=True, kw_only=True, slots=True)
class People:
    """Possible opponents, each once: those coming tonight, those met lately, everybody else; guests among them."""

    tonight: tuple[Member, ...]
    recent: tuple[Member, ...]
    others: tuple[Member, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class ScenarioChoice:
    """One way to fight a game. `key` is empty for a game without a scenario; `roles` are its sides' keys and names."""

    edition: Edition
    key: str
    name: str
    roles: tuple[tuple[str, str], ...] = ()

    @property
    def value(self) -> str:
        return f"{self.edition.pk}:{self.key}"


def night_on(club: Club, day: date) -> Night | None:
    """The club's night of that day, the earliest where there are two."""
    return Night.objects.filter(club=club, on=day, cancelled_at=None).order_by("starts_at", "pk").first()


def people_for(member: Member, night: Night | None) -> People:
    """Everybody of the member's club but the member, in four queries at most."""
    everybody = list(Member.objects.present().filter(club=member.club_id).exclude(pk=member.pk).order_by("name", "pk"))
    coming = set()
    if night is not None:
        coming = set(
            Attendance.objects.filter(night=night, answer=Attendance.Answer.COMING).values_list("member_id", flat=True)
        )
    tonight = [each for each in everybody if each.pk in coming]
    met = recently_met(member)
    rest = {each.pk: each for each in everybody if each.pk not in coming}
    recent = [rest[member_id] for member_id in met if member_id in rest][:RECENT_PEOPLE]
    seen = {each.pk for each in recent}
    return People(
        tonight=tuple(tonight),
        recent=tuple(recent),
        others=tuple(each for member_id, each in rest.items() if member_id not in seen),
    )


def recently_met(member: Member) -> list[int]:
    """The members met in the last games, the latest first."""
    games = list(
        Game.objects.filter(players__member=member, cancelled_at=None)
        .order_by("-on", "-pk")
        .values_list("pk", flat=True)[:RECENT_GAMES]
    )
    met = (
        SidePlayer.objects.filter(game__in=games)
        .exclude(member=member)
        .values("member_id")
        .annotate(last_on=Max("game__on"), last=Max("game_id"))
        .order_by("-last_on", "-last", "member_id")
    )
    return [row["member_id"] for row in met]


def editions_in_use(club: Club) -> list[Edition]:
    """The edition each of the club's rulesets is played by today, by the ruleset's name; two queries."""
    rulesets = list(Ruleset.objects.filter(club=club, retired_at=None).order_by("name"))
    newest = current_editions(ruleset.pk for ruleset in rulesets)
    editions = []
    for ruleset in rulesets:
        edition = newest[ruleset.pk]
        edition.ruleset = ruleset
        editions.append(edition)
    return editions


def scenario_choices(club: Club, *, sides: int | None = None) -> list[ScenarioChoice]:
    """Every scenario of every current ruleset, and each ruleset without a scenario; only those for so many sides."""
    return [choice for edition in editions_in_use(club) for choice in scenarios_of(edition, sides=sides)]


def scenarios_of(edition: Edition, *, sides: int | None = None) -> list[ScenarioChoice]:
    scenarios = [
        ScenarioChoice(
            edition=edition, key=each.key, name=each.name, roles=tuple((side.key, side.name) for side in each.sides)
        )
        for each in rules_of(edition).scenarios
        if sides is None or len(each.sides) == sides
    ]
    return [*scenarios, ScenarioChoice(edition=edition, key="", name="")]


def usual_choice(member: Member, choices: list[ScenarioChoice]) -> ScenarioChoice | None:
    """What the member fought over last, as it is played today; or the club's last; or the first there is."""
    if not choices:
        return None
    played = Game.objects.filter(club=member.club_id, cancelled_at=None).order_by("-on", "-pk")
    for games in (played.filter(players__member=member), played):
        last = games.values("edition__ruleset", "scenario").first()
        if last is None:
            continue
        same = [each for each in choices if each.edition.ruleset_id == last["edition__ruleset"]]
        if same:
            return next((each for each in same if each.key == last["scenario"]), same[0])
    return choices[0]
