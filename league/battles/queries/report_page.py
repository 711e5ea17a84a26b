"""Everything a report's page shows of one report, in a constant number of queries."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from django.utils.translation import gettext as _

from league.battles.models import Answer, Report, ReportState, Ruling, SideResult
from league.battles.queries.dice import label_of
from league.battles.queries.fates import die_in_words, fates_in_words, table_in_words
from league.battles.queries.forces import units_in
from league.engines import fates
from league.engines.rulesets import Ruleset, Scenario
from league.rosters.models import Casualty, Rolls
from league.rulesets.queries import rules_of

__all__ = ["Fallen", "Reached", "ReportPage", "ReportSide", "report_page"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Reached:
    """One objective of a side: how often it was reached and what that scored."""

    key: str
    name: str
    count: int
    points: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Fallen:
    """One unit's line. `dice` are empty while `wanted` dice of `sides` sides are to be thrown.

    `is_checked` tells of drawn dice whether the engine, from the seed and the label alone, draws the same again.
    """

    casualty_id: int
    unit_id: int
    unit_name: str
    figures_lost: int
    destroyed: bool
    routed: bool
    wanted: int
    sides: int
    source: str = ""
    dice: tuple[int, ...] = ()
    fates: tuple[str, ...] = ()
    label: str = ""
    is_checked: bool | None = None
    die_words: str = ""
    table_name: str = ""
    table_lines: tuple[tuple[str, str], ...] = ()

    @property
    def dice_words(self) -> str:
        return ", ".join(str(roll) for roll in self.dice)


@dataclass(frozen=True, kw_only=True, slots=True)
class ReportSide:
    position: int
    member_ids: tuple[int, ...]
    names: tuple[str, ...]
    role: str
    roster_id: int | None
    roster: str
    score: int | None
    conceded: bool
    outcome: str
    value_destroyed: int
    value_lost: int
    objectives: tuple[Reached, ...]
    fallen: tuple[Fallen, ...]

    @property
    def named(self) -> str:
        return ", ".join(self.names)

    @property
    def outcome_words(self) -> str:
        return {"win": _("won"), "draw": _("drew"), "loss": _("lost")}[self.outcome]


@dataclass(frozen=True, kw_only=True, slots=True)
class ReportPage:
    """`seed` is empty until dice were drawn from it; `seed_hash` was shown from the beginning."""

    report: Report
    answers: tuple[Answer, ...]
    ruling: Ruling | None
    ruleset: str
    scenario: str
    sides: tuple[ReportSide, ...]
    seed: str
    seed_hash: str

    @property
    def title(self) -> str:
        """How it ended, in one line."""
        if all(side.score is None for side in self.sides):
            return _(" against ").join(side.named for side in self.sides)
        scores = " \N{EN DASH} ".join("\N{EN DASH}" if side.score is None else str(side.score) for side in self.sides)
        return f"{_(' against ').join(side.named for side in self.sides)}, {scores}"

    @property
    def outcome_words(self) -> str:
        winners = [side.named for side in self.sides if side.outcome == "win"]
        if winners:
            return _("%(names)s won.") % {"names": ", ".join(winners)}
        drew = [side.named for side in self.sides if side.outcome == "draw"]
        return _("A draw between %(names)s.") % {"names": _(" and ").join(drew)}

    @property
    def state_words(self) -> str:
        return str(ReportState(self.report.state).label)  # type: ignore[attr-defined]  # annotated by with_state

    @property
    def waiting(self) -> tuple[Fallen, ...]:
        return tuple(line for side in self.sides for line in side.fallen if line.wanted and not line.dice)

    @property
    def drawn(self) -> tuple[Fallen, ...]:
        return tuple(line for side in self.sides for line in side.fallen if line.source == Rolls.Source.DRAWN)

    @property
    def has_casualties(self) -> bool:
        return any(side.fallen for side in self.sides)


def report_page(report: Report) -> ReportPage:
    """Read a report fetched by `report_to_show`: nine queries, however many sides and casualties."""
    game = report.game
    rules = rules_of(game.edition)
    scenario = rules.scenario(game.scenario) if game.scenario else None
    results = list(
        SideResult.objects.filter(report=report)
        .select_related("side__roster", "engagement__snapshot")
        .prefetch_related("side__players__member", "objectives")
        .order_by("side__position")
    )
    lines: dict[int, list[Casualty]] = defaultdict(list)
    for casualty in (
        Casualty.objects.filter(engagement__result__report=report).select_related("unit", "rolls").order_by("pk")
    ):
        lines[casualty.engagement_id].append(casualty)
    drawn = Rolls.objects.filter(source=Rolls.Source.DRAWN, casualty__engagement__result__report__game=game)
    return ReportPage(
        report=report,
        answers=tuple(report.answers.select_related("member").order_by("pk")),
        ruling=Ruling.objects.filter(report=report).select_related("by").first(),
        ruleset=game.edition.ruleset.name,
        scenario=scenario.name if scenario else "",
        sides=tuple(side_of(result, lines[result.engagement_id or 0], rules, scenario) for result in results),
        seed=game.seed if drawn.exists() else "",
        seed_hash=game.seed_hash,
    )


def side_of(result: SideResult, lines: list[Casualty], rules: Ruleset, scenario: Scenario | None) -> ReportSide:
    side = result.side
    players = sorted(side.players.all(), key=lambda player: player.pk)
    roles = {each.key: each.name for each in scenario.sides} if scenario else {}
    counts = {count.objective: count.count for count in result.objectives.all()}
    return ReportSide(
        position=side.position,
        member_ids=tuple(player.member_id for player in players),
        names=tuple(player.member.name for player in players),
        role=roles.get(side.role, ""),
        roster_id=side.roster_id,
        roster=side.roster.name if side.roster else "",
        score=result.score,
        conceded=result.conceded,
        outcome=result.outcome,
        value_destroyed=result.value_destroyed,
        value_lost=result.value_lost,
        objectives=tuple(
            Reached(key=each.key, name=each.name, count=counts[each.key], points=each.points * counts[each.key])
            for each in (scenario.objectives if scenario else ())
            if each.key in counts
        ),
        fallen=tuple(fallen_of(line, result, rules) for line in lines),
    )


def fallen_of(casualty: Casualty, result: SideResult, rules: Ruleset) -> Fallen:
    snapshot = result.engagement.snapshot if result.engagement else None
    units = {unit["id"]: unit for unit in units_in(snapshot)} if snapshot else {}
    unit = units[casualty.unit_id]
    needed = fates.rolls_needed(
        rules, unit_class=unit["class"], quality=unit["quality"], figures_lost=casualty.figures_lost
    )
    rolls: Rolls | None = getattr(casualty, "rolls", None)
    dice = tuple(rolls.results) if rolls else ()
    told: list[str] = []
    if needed.table is None and casualty.figures_lost:
        told = [_("all back for the next game")]
    elif needed.table is not None:
        told = fates_in_words(needed.table, dice)
    return Fallen(
        casualty_id=casualty.pk,
        unit_id=casualty.unit_id,
        unit_name=unit["name"],
        figures_lost=casualty.figures_lost,
        destroyed=casualty.destroyed,
        routed=casualty.routed,
        wanted=needed.count,
        sides=needed.sides,
        source=rolls.source if rolls else "",
        dice=dice,
        fates=tuple(told),
        label=rolls.label if rolls else label_of(casualty.unit_id),
        is_checked=is_checked(rolls, needed) if rolls else None,
        die_words=die_in_words(needed.table) if needed.table else "",
        table_name=needed.table.name if needed.table else "",
        table_lines=tuple(table_in_words(needed.table)) if needed.table else (),
    )


def is_checked(rolls: Rolls, needed: fates.RollsNeeded) -> bool | None:
    """Whether drawn dice are what the seed gives; None for dice from the table, which nobody can draw again."""
    if rolls.source != Rolls.Source.DRAWN:
        return None
    return list(fates.draw_rolls(rolls.seed, rolls.label, needed.count, needed.sides)) == list(rolls.results)
