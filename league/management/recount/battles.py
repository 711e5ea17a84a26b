from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

from django.core.files.storage import default_storage
from django.db.models import F

from league.battles.models import Game, Photo, Report, SidePlayer, SideResult
from league.engines import scoring
from league.engines.rulesets import Ruleset
from league.rulesets.queries import rules_of

__all__ = ["photos", "players", "results", "seeds"]


def players() -> Iterator[str]:
    for pk in SidePlayer.objects.exclude(game=F("side__game")).values_list("pk", flat=True):
        yield f"player row {pk} names another game than its side"


def seeds() -> Iterator[str]:
    for pk, seed, seed_hash in Game.objects.values_list("pk", "seed", "seed_hash"):
        if hashlib.sha256(bytes.fromhex(seed)).hexdigest() != seed_hash:
            yield f"game {pk}: the hash that was shown is not its seed's"


def results() -> Iterator[str]:
    reports = Report.objects.select_related("game__edition").prefetch_related(
        "results__objectives", "results__side__snapshot", "results__engagement__casualties", "game__sides"
    )
    for report in reports:
        told = {result.side_id: result for result in report.results.all()}
        if set(told) != {side.pk for side in report.game.sides.all()}:
            yield f"report {report.pk} does not speak of every side once"
            continue
        rules = rules_of(report.game.edition)
        yield from scores(report, told, rules)
        yield from values(report, told, rules)


def scores(report: Report, told: Mapping[int, SideResult], rules: Ruleset) -> Iterator[str]:
    """Score and outcome follow from what was counted, and both sides' outcomes fit each other.

    A result from a season file may state an outcome without any score; there is nothing to reckon it from.
    """
    if any(result.score is None and not result.conceded for result in told.values()):
        return
    scenario = rules.scenario(report.game.scenario) if report.game.scenario else None
    if report.game.scenario and scenario is None:
        return  # a season file may name a scenario that this club's ruleset does not have
    claims = [
        scoring.SideClaim(
            position=result.side.position,
            score=result.score,
            objectives={count.objective: count.count for count in result.objectives.all()} or None
            if scenario
            else None,
            conceded=result.conceded,
        )
        for result in told.values()
    ]
    try:
        reckoned = {each.position: each for each in scoring.score_report(scenario, claims)}
    except scoring.ImpossibleScore as impossible:
        yield f"report {report.pk}: {impossible.violations[0].text}"
        return
    for result in told.values():
        again = reckoned[result.side.position]
        if (again.score, again.outcome) != (result.score, result.outcome):
            yield (
                f"report {report.pk}, side {result.side.position}: stored {result.score} {result.outcome}, "
                f"reckoned {again.score} {again.outcome}"
            )


def values(report: Report, told: Mapping[int, SideResult], rules: Ruleset) -> Iterator[str]:
    """What each side lost, from its casualties; what it destroyed is what all the others lost."""
    if not any(result.engagement for result in told.values()):
        return  # no rosters: the values, if any, came with a season file
    lost = {pk: value_lost(result, rules) for pk, result in told.items()}
    for pk, result in told.items():
        destroyed = sum(points for other, points in lost.items() if other != pk)
        if (result.value_lost, result.value_destroyed) != (lost[pk], destroyed):
            yield (
                f"report {report.pk}, side {result.side.position}: stored {result.value_lost} lost and "
                f"{result.value_destroyed} destroyed, reckoned {lost[pk]} and {destroyed}"
            )


def value_lost(result: SideResult, rules: Ruleset) -> int:
    if result.engagement is None or result.side.snapshot is None:
        return 0
    worth = {unit["id"]: unit for unit in result.side.snapshot.document["units"]}
    total = 0
    for line in result.engagement.casualties.all():
        unit = worth[line.unit_id]
        if line.destroyed:
            total += unit["points"]
        elif rules.destroyed_points == "proportional":
            total += unit["points"] * line.figures_lost // unit["figures"]
    return total


def photos() -> Iterator[str]:
    for photo in Photo.objects.filter(removed_at=None):
        if not default_storage.exists(photo.file.name):
            yield f"photo {photo.pk} has no file"
