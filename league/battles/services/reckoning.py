"""From a claim to what it comes to: scores, outcomes, destroyed points, and everything that cannot be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles.services.claims import CasualtyLine, ReportClaim, SideClaim
from league.engines import scoring
from league.engines.rulesets import Ruleset, Scenario
from league.engines.rulesets import Violation as EngineViolation
from league.errors import Violation

__all__ = ["Reckoning", "Setting", "reckon"]

NUMBER_MOST = 30_000  # what a small whole number of the database holds, in round figures
SCORE_MOST = 1_000_000
NOTES_MOST = 5000


@dataclass(frozen=True, kw_only=True, slots=True)
class Setting:
    """The game a claim is about. `forces` are the units each position led into it, none where it led no roster."""

    rules: Ruleset
    scenario: Scenario | None
    zone: ZoneInfo
    forces: Mapping[int, Sequence[scoring.FieldedUnit]]


@dataclass(frozen=True, kw_only=True, slots=True)
class Reckoning:
    """`scores` are empty when the claim cannot be; `faults` then says why, each at its place in the claim."""

    claims: Mapping[int, SideClaim]
    scores: Mapping[int, scoring.SideScore] = field(default_factory=dict)
    lost: Mapping[int, int] = field(default_factory=dict)
    faults: tuple[Violation, ...] = ()

    def claim(self, position: int) -> SideClaim:
        return self.claims.get(position) or SideClaim(position=position)

    def score(self, position: int) -> int | None:
        return self.scores[position].score if position in self.scores else None

    def outcome(self, position: int) -> str:
        return self.scores[position].outcome if position in self.scores else ""

    def value_lost(self, position: int) -> int:
        return self.lost.get(position, 0)

    def value_destroyed(self, position: int) -> int:
        """What the other sides lost together: with more than two nobody writes down who destroyed what."""
        return sum(points for other, points in self.lost.items() if other != position)


def reckon(setting: Setting, claim: ReportClaim, *, at: datetime) -> Reckoning:
    """Work the claim out; casualties are only valued here, whether they can be is the rosters' to say."""
    claims = {side.position: side for side in claim.sides}
    faults = [
        *faults_of_whole(claim, today=timezone.localdate(at, setting.zone)),
        *faults_of_sides(setting, claim),
    ]
    scores: tuple[scoring.SideScore, ...] = ()
    try:
        scores = scoring.score_report(
            setting.scenario,
            [
                scoring.SideClaim(
                    position=side.position, score=side.score, objectives=side.objectives, conceded=side.conceded
                )
                for side in claim.sides
            ],
            rounds_played=claim.rounds_played,
        )
    except scoring.ImpossibleScore as impossible:
        faults += placed_by_engine(claim, impossible.violations)
    return Reckoning(
        claims=claims,
        scores={score.position: score for score in scores},
        lost={position: worth(setting, position, side.casualties) for position, side in claims.items()},
        faults=tuple(faults),
    )


def worth(setting: Setting, position: int, casualties: Iterable[CasualtyLine]) -> int:
    """The points of what a side lost. Units it does not have are worth nothing; they are refused elsewhere."""
    units = setting.forces.get(position, ())
    known = {unit.id for unit in units}
    losses = [
        scoring.UnitLoss(unit_id=line.unit_id, figures_lost=max(line.figures_lost, 0), destroyed=line.destroyed)
        for line in casualties
        if line.unit_id in known
    ]
    return scoring.destroyed_points(units, losses, setting.rules.destroyed_points)


def faults_of_whole(claim: ReportClaim, *, today: date) -> Iterator[Violation]:
    if claim.fought_on > today:
        yield Violation(_("The game cannot have been fought later than today."), "fought_on", "in_the_future")
    if claim.rounds_played is not None and claim.rounds_played > NUMBER_MOST:
        yield Violation(_("Nobody played that many rounds."), "rounds_played", "too_many")
    if claim.markers_peak is not None and not 0 <= claim.markers_peak <= NUMBER_MOST:
        yield Violation(_("Nobody has that many markers."), "markers_peak", "out_of_range")
    if len(claim.notes) > NOTES_MOST:
        yield Violation(_("Keep the notes under %(most)s characters.") % {"most": NOTES_MOST}, "notes", "too_long")


def faults_of_sides(setting: Setting, claim: ReportClaim) -> Iterator[Violation]:
    if sorted(side.position for side in claim.sides) != sorted(setting.forces):
        yield Violation(_("Report every side of the game once."), "sides", "sides_differ")
    for index, side in enumerate(claim.sides):
        if side.score is not None and side.score > SCORE_MOST:
            yield Violation(_("No game scores that much."), f"sides.{index}.score", "out_of_range")
        for key, count in (side.objectives or {}).items():
            if count > NUMBER_MOST:
                yield Violation(
                    _("No objective is reached that often."), f"sides.{index}.objectives.{key}", "out_of_range"
                )
        if side.casualties and not setting.forces.get(side.position):
            yield Violation(
                _("Side %(number)s led no roster, so its casualties have no units to go to.")
                % {"number": side.position},
                f"sides.{index}.casualties",
                "no_roster",
            )


def placed_by_engine(claim: ReportClaim, violations: Iterable[EngineViolation]) -> Iterator[Violation]:
    """The scoring engine's faults in the reader's language, each at the field it concerns."""
    index_of = {side.position: index for index, side in enumerate(claim.sides)}
    for each in violations:
        place = each.place
        if place.startswith("sides["):
            position, _bracket, rest = place.removeprefix("sides[").partition("]")
            # What concerns a side as a whole concerns its score.
            place = f"sides.{index_of[int(position)]}{rest or '.score'}"
        elif place.startswith("objectives."):
            place = "sides"
        yield Violation(_(each.message) % each.args, place, each.code)


def placed_by_rosters(claim: ReportClaim, position: int, violations: Iterable[Violation]) -> Iterator[Violation]:
    """The rosters' faults about one side's casualties, each at the line of the unit it concerns.

    The rosters name a unit's line `casualties.<place among the lines given>` and know nothing of sides.
    """
    index = next((number for number, side in enumerate(claim.sides) if side.position == position), 0)
    for each in violations:
        rest = each.field or "casualties"
        yield Violation(each.message, f"sides.{index}.{rest}", each.code)
