"""What the battle reports of the open turn say of the war's battles, as outcomes the fold takes.

While a turn is open its outcomes are read from the reports as they stand today, corrections included; when it is
closed they are written down as facts, and what a report says later is a matter for the umpire (`queries.corrections`).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from league.battles.models import Report, ReportState, SideResult
from league.campaigns.models import Campaign, Enlisted, Fight
from league.engines import war
from league.rosters.queries.fights import fights_of

__all__ = ["Told", "outcome_of", "told_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """What the last report of one fight says, side by side; `winners` are the forces of the sides that won, `places`
    where the battle stands on each roster's record.

    `report` is None where nobody reported or an umpire struck the report out.
    """

    fight: Fight
    report: Report | None = None
    state: str = ""
    forces: tuple[war.ForceOutcome, ...] = ()
    winners: tuple[str, ...] = ()
    places: Mapping[str, int] = field(default_factory=dict)


def told_of(campaign: Campaign, fights: Iterable[Fight]) -> dict[str, Told]:
    """The last word on each fight, by its battle: five queries, whatever their number."""
    wanted = {fight.game_id: fight for fight in fights}
    if not wanted:
        return {}
    reports = {
        each.game_id: each
        for each in Report.objects.filter(game__in=wanted).current().with_state()
        if each.state != ReportState.VOID  # type: ignore[attr-defined]
    }
    forces = dict(Enlisted.objects.filter(campaign=campaign).values_list("roster_id", "force"))
    results: defaultdict[int, list[SideResult]] = defaultdict(list)
    rows = SideResult.objects.filter(report__in=reports.values()).select_related("side", "engagement__snapshot")
    for row in rows.order_by("side__position"):
        results[row.report_id].append(row)
    engagements = fights_of(
        row.engagement
        for rows in results.values()
        for row in rows
        if row.engagement and not row.engagement.set_aside_at
    )
    found = {}
    for game_id, fight in wanted.items():
        report = reports.get(game_id)
        if report is None:
            found[fight.battle] = Told(fight=fight)
            continue
        sides = [(row, forces[row.side.roster_id]) for row in results[report.pk] if row.side.roster_id in forces]
        found[fight.battle] = Told(
            fight=fight,
            report=report,
            state=report.state,  # type: ignore[attr-defined]
            places={force: row.engagement.sequence for row, force in sides if row.engagement},
            winners=tuple(force for row, force in sides if row.outcome == "win"),
            forces=tuple(
                war.ForceOutcome(force=force, casualties=each.casualties, fielded=each.fielded)
                for row, force in sides
                if row.engagement_id and (each := engagements.get(row.engagement_id))
            ),
        )
    return found


def outcome_of(
    told: Told, factions: Mapping[str, str], *, sequence: int, supersedes: war.FactId | None = None
) -> war.BattleOutcome | None:
    """The outcome as a fact of the fight's turn; `factions` tell each force's. None: there is no report.

    Where forces of both camps won, nobody did.
    """
    if told.report is None:
        return None
    winners = {factions[force] for force in told.winners if force in factions}
    return war.BattleOutcome(
        id=f"report:{told.report.pk}",
        sequence=sequence,
        turn=told.fight.turn,
        supersedes=supersedes,
        battle=told.fight.battle,
        winner=min(winners) if winners else "",
        forces=told.forces,
        source="report",
        reference=str(told.report.pk),
    )
