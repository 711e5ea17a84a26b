"""What reports say today of battles the war has long booked otherwise, and what it would change to believe them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from league.battles.models import Report
from league.campaigns.models import Fact, Fight
from league.campaigns.queries.outside import engagements_outside
from league.campaigns.queries.reports import Told, outcome_of, told_of
from league.campaigns.queries.war import War, states_of
from league.clubs.services.submissions import digest_of
from league.engines import war
from league.engines.war.differences import Difference, differences

__all__ = ["Correction", "correction_of", "corrections_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Correction:
    """A fact the war rests on, and what would take its place (`instead`) if today's reports are believed.

    A battle whose report was struck out is put off; one outside the war never happened. `reference` is what a
    settlement calls what is said now, `digest` names what was looked at.
    """

    fact: Fact
    booked: war.Fact
    instead: war.Fact
    report: Report | None
    reference: str
    differences: tuple[Difference, ...]
    digest: str


@dataclass(frozen=True, kw_only=True, slots=True)
class _Claim:
    fact: Fact
    booked: war.Fact
    instead: war.Fact
    reference: str
    report: Report | None = None


def corrections_of(now: War) -> list[Correction]:
    """Every fact its report does not bear out any more and that no settlement lets stand, the oldest first."""
    settled = {(each.outcome, each.reference) for each in war.in_force(now.facts) if isinstance(each, war.Settlement)}
    return [
        _with_differences(now, claim)
        for claim in sorted((*_of_battles(now), *_of_outside(now)), key=lambda each: each.fact.sequence)
        if (claim.fact.pk, claim.reference) not in settled
    ]


def correction_of(now: War, fact_id: int) -> Correction | None:
    return next((each for each in corrections_of(now) if each.fact.pk == fact_id), None)


def _with_differences(now: War, claim: _Claim) -> Correction:
    after = states_of(now.campaign, (*now.facts, *now.reported, claim.instead))
    changed = differences(now.states, after)
    return Correction(
        fact=claim.fact,
        booked=claim.booked,
        instead=claim.instead,
        report=claim.report,
        reference=claim.reference,
        differences=changed,
        digest=digest_of([claim.fact.pk, claim.reference, repr(changed)]),
    )


def _of_battles(now: War) -> Iterator[_Claim]:
    standing = {int(each.id): each for each in _booked(now) if isinstance(each, war.BattleOutcome)}
    rows = {row.pk: row for row in now.rows if row.pk in standing and row.report_id is not None}
    fights = Fight.objects.filter(
        campaign=now.campaign, game__reports__in=[row.report_id for row in rows.values()]
    ).distinct()
    told = told_of(now.campaign, fights) if rows else {}
    last = now.rows[-1].sequence + 1
    for pk, row in rows.items():
        booked = standing[pk]
        if booked.battle not in told:
            continue
        here = told[booked.battle]
        factions = {key: force.faction for key, force in now.states[booked.turn].forces.items()}
        outcome = outcome_of(here, factions, sequence=last, supersedes=pk)
        if outcome is None:
            instead: war.Fact = war.Postponed(
                id="instead",
                sequence=last,
                turn=booked.turn,
                supersedes=pk,
                battle=booked.battle,
                reason=_("Its report was struck out."),
            )
        elif (outcome.winner, outcome.forces) == (booked.winner, booked.forces):
            continue
        else:
            instead = replace(outcome, turn=booked.turn)
        yield _Claim(fact=row, booked=booked, instead=instead, reference=_reference(here), report=here.report)


def _of_outside(now: War) -> Iterator[_Claim]:
    known = {int(each.id): each for each in _booked(now) if isinstance(each, war.OutsideBattle)}
    if not known:
        return
    rows = {row.pk: row for row in now.rows if row.pk in known}
    today = {(each.force, each.engagement.sequence): each for each in engagements_outside(now)}
    last = now.rows[-1].sequence + 1
    for pk, booked in known.items():
        here = today.get((booked.force, booked.engagement.sequence))
        if here is None:
            words = _("A battle outside the war was struck out.")
            instead: war.Fact = war.Ruling(
                id="instead", sequence=last, turn=booked.turn, supersedes=pk, reason=words, phase="orders"
            )
        elif here.engagement == booked.engagement:
            continue
        else:
            instead = replace(here, id="instead", sequence=last, turn=booked.turn, supersedes=pk)
        yield _Claim(fact=rows[pk], booked=booked, instead=instead, reference=digest_of(repr(here))[:32])


def _booked(now: War) -> list[war.Fact]:
    """Facts in force that rows stand for."""
    return [each for each in war.in_force(now.facts) if isinstance(each.id, int)]


def _reference(told: Told) -> str:
    if told.report is None:
        return "struck out"
    return f"{told.report.pk}:{digest_of([repr(told.forces), told.winners])[:16]}"
