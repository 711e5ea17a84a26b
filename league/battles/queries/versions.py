"""The versions of a game's report: each still readable, with what it changed."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from league.battles.models import Game, ObjectiveCount, Report, SideResult
from league.battles.queries.reports import versions_of
from league.clubs.models import LogEntry
from league.clubs.queries import LogLine, line_of
from league.rosters.models import Casualty
from league.rulesets.queries import rules_of

__all__ = ["Change", "Version", "acts_of", "versions_with_changes"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One thing a correction changed; empty texts where it was not said before, or is not said any more."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Version:
    report: Report
    changes: tuple[Change, ...]


def versions_with_changes(game: Game) -> list[Version]:
    """Every report of the game, the latest first; five queries, however many."""
    reports = versions_of(game)
    facts = facts_of(game, reports)
    return [
        Version(
            report=report,
            changes=changes_between(facts[report.supersedes_id], facts[report.pk]) if report.supersedes_id else (),
        )
        for report in reports
    ]


def changes_between(before: dict[str, str], after: dict[str, str]) -> tuple[Change, ...]:
    return tuple(
        Change(what=what, before=before.get(what, ""), after=after.get(what, ""))
        for what in dict.fromkeys([*before, *after])
        if before.get(what, "") != after.get(what, "")
    )


def facts_of(game: Game, reports: list[Report]) -> dict[int, dict[str, str]]:
    """What each report says, as named words in the order of the form."""
    facts = {
        report.pk: {
            _("Fought on"): date_format(report.fought_on),
            _("Rounds played"): number(report.rounds_played),
            _("Most suppression markers at once"): number(report.markers_peak),
            _("Notes"): report.notes,
        }
        for report in reports
    }
    add_results(facts, reports)
    add_objectives(game, facts, reports)
    add_casualties(facts, reports)
    return facts


def add_results(facts: dict[int, dict[str, str]], reports: list[Report]) -> None:
    for result in SideResult.objects.filter(report__in=reports).select_related("side").order_by("side__position"):
        said = facts[result.report_id]
        said[side_words(_("Score"), result.side.position)] = number(result.score)
        if result.conceded:
            said[side_words(_("Conceded"), result.side.position)] = _("yes")


def add_objectives(game: Game, facts: dict[int, dict[str, str]], reports: list[Report]) -> None:
    scenario = rules_of(game.edition).scenario(game.scenario) if game.scenario else None
    names = {each.key: each.name for each in scenario.objectives} if scenario else {}
    for count in (
        ObjectiveCount.objects.filter(result__report__in=reports).select_related("result__side").order_by("pk")
    ):
        what = side_words(names.get(count.objective, count.objective), count.result.side.position)
        facts[count.result.report_id][what] = number(count.count)


def add_casualties(facts: dict[int, dict[str, str]], reports: list[Report]) -> None:
    for casualty in (
        Casualty.objects.filter(engagement__result__report__in=reports)
        .select_related("unit", "engagement__result")
        .order_by("unit__position", "pk")
    ):
        said = [_("%(lost)s figures lost") % {"lost": casualty.figures_lost}] if casualty.figures_lost else []
        said += [_("destroyed")] if casualty.destroyed else []
        said += [_("routed")] if casualty.routed else []
        facts[casualty.engagement.result.report_id][casualty.unit.name] = ", ".join(said)


def side_words(what: str, position: int) -> str:
    return _("%(what)s, side %(position)s") % {"what": what, "position": position}


def number(value: int | None) -> str:
    return "" if value is None else str(value)


def acts_of(game: Game) -> list[LogLine]:
    """Who did what with the game and its reports, and when, from the first act on; two queries."""
    reports = Report.objects.filter(game=game).values_list("pk", flat=True)
    named = [f"game:{game.pk}", *(f"report:{pk}" for pk in reports)]
    entries = LogEntry.objects.filter(club=game.club_id, subject__in=named).select_related("by").order_by("pk")
    return [line_of(entry) for entry in entries]
