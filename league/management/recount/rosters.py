from __future__ import annotations

from collections.abc import Iterator

from league.battles.models import Game, Report, ReportState
from league.campaigns.models import Clash, Secret
from league.engines.fates import draw_rolls
from league.engines.rulesets import BadRuleset, parse_ruleset
from league.rosters.models import Casualty, Engagement, Rolls, Roster, Snapshot
from league.rosters.queries import impossible_engagements
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of

__all__ = ["casualties", "dice", "engagements", "rulesets", "snapshots"]

COUNTS_FOR_ROSTERS = {ReportState.AWAITING, ReportState.CONFIRMED, ReportState.DISPUTED, ReportState.SETTLED}


def rulesets() -> Iterator[str]:
    for edition in Edition.objects.select_related("ruleset").iterator():
        try:
            parse_ruleset(edition.document)
        except BadRuleset as bad:
            yield f"{edition.ruleset.name}, edition {edition.number}: {bad.violations[0].text}"
    for pk in Edition.objects.exclude(number=1).values_list("pk", flat=True):
        edition = Edition.objects.get(pk=pk)
        if not Edition.objects.filter(ruleset=edition.ruleset_id, number=edition.number - 1).exists():
            yield f"edition {edition.number} of ruleset {edition.ruleset_id} has no edition before it"


def snapshots() -> Iterator[str]:
    for snapshot in Snapshot.objects.iterator():
        points = sum(unit["points"] for unit in snapshot.document["units"])
        if points != snapshot.points:
            yield f"snapshot {snapshot.pk} says {snapshot.points} points, its units come to {points}"
        for unit in snapshot.document["units"]:
            if not 0 <= unit["present"] <= unit["figures"]:
                yield f"snapshot {snapshot.pk}: {unit['name']} stands with {unit['present']} of {unit['figures']}"


def engagements() -> Iterator[str]:
    """An engagement stands exactly while its report is the last word and was not struck out, and says the same."""
    state = dict(Report.objects.with_state().values_list("pk", "state"))
    rows = Engagement.objects.select_related("result", "snapshot", "clash").iterator()
    for row in rows:
        result = getattr(row, "result", None)
        if result is None and getattr(row, "clash", None) is not None:
            continue  # a battle of a war without a game: see "rosters at war"
        if result is None:
            yield f"engagement {row.pk} comes from no report"
            continue
        should_stand = state[result.report_id] in COUNTS_FOR_ROSTERS
        if should_stand != (row.set_aside_at is None):
            yield f"engagement {row.pk} of report {result.report_id} ({state[result.report_id]}) stands the wrong way"
        if row.outcome != result.outcome:
            yield f"engagement {row.pk} says {row.outcome or 'nothing'}, its report {result.outcome}"
        if row.snapshot.roster_id != row.roster_id:
            yield f"engagement {row.pk} holds the snapshot of another roster"


def casualties() -> Iterator[str]:
    for roster in Roster.objects.filter(engagements__set_aside_at=None).distinct():
        for each in impossible_engagements(roster):
            for reason in each.reasons:
                yield f"{roster.name}, {each.engagement.title}: {reason}"
    for line in Casualty.objects.select_related("engagement__snapshot"):
        units = {unit["id"] for unit in line.engagement.snapshot.document["units"]}
        if line.unit_id not in units:
            yield f"casualty {line.pk}: unit {line.unit_id} was not in the snapshot"


def dice() -> Iterator[str]:
    """As many dice as the table asks for, each with a face that the thrown die has; drawn ones drawn again."""
    rows = Rolls.objects.select_related("casualty__engagement__snapshot__edition").iterator(chunk_size=500)
    for rolls in rows:
        line = rolls.casualty
        unit = next(u for u in line.engagement.snapshot.document["units"] if u["id"] == line.unit_id)
        table = rules_of(line.engagement.snapshot.edition).table_for(unit["class"], unit["quality"])
        if table is None:
            yield f"rolls {rolls.pk} were thrown although no table asks for them"
            continue
        sides = table.reading.thrown
        if len(rolls.results) != table.rolls_for(line.figures_lost):
            yield f"rolls {rolls.pk}: {len(rolls.results)} dice for {line.figures_lost} figures"
        if not all(isinstance(each, int) and 1 <= each <= sides for each in rolls.results):
            yield f"rolls {rolls.pk}: {rolls.results} are not faces of a d{sides}"
        if rolls.source == Rolls.Source.DRAWN:
            yield from drawn_again(rolls, sides)


def drawn_again(rolls: Rolls, sides: int) -> Iterator[str]:
    """Drawn dice are those that anyone draws from the seed that was bound before the battle."""
    if draw_rolls(rolls.seed, rolls.label, len(rolls.results), sides) != tuple(rolls.results):
        yield f"rolls {rolls.pk} are not what their seed draws"
    engagement = rolls.casualty.engagement
    clash = Clash.objects.filter(engagement=engagement).first()
    if clash is not None:
        if not Secret.objects.filter(campaign=clash.campaign_id, turn=clash.turn, seed=rolls.seed).exists():
            yield f"rolls {rolls.pk} were not drawn from the seed of their turn"
        return
    game = Game.objects.filter(sides__snapshot=engagement.snapshot_id).first()
    if game is None or game.seed != rolls.seed:
        yield f"rolls {rolls.pk} were not drawn from their game's seed"
