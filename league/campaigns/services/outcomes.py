"""Battles that end without a game: put off, conceded, simulated, or told by the umpire."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles.services.claims import CasualtyLine
from league.campaigns.models import Campaign, Fact, Secret
from league.campaigns.queries.simulations import laws_of_club, preview_of
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.campaigns.services.facts import add_fact
from league.campaigns.services.fights import call_off_fight, open_battle
from league.clubs.models import Member
from league.engines import strength, war
from league.engines.fates import draw_rolls, rolls_needed
from league.engines.war.reports import check
from league.engines.war.simulate import CannotSimulate, simulate
from league.errors import Violation
from league.rosters.models import Unit
from league.rulesets.queries import violation_in_words

__all__ = ["accept_simulation", "concede_battle", "postpone_battle", "tell_outcome"]

REASON_MOST = 500


@transaction.atomic
def postpone_battle(campaign: Campaign, *, battle: str, reason: str, by: Member) -> Fact:
    """Put a battle off to the next turn; its game stays planned. What was told of it without a game is taken back.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    reason = _reason(reason)
    told = _told_without_game(now, battle)
    if told is None:
        open_battle(now, battle)
    put_off = war.Postponed(
        id=0, sequence=0, turn=now.turn, battle=battle, reason=reason, supersedes=told.pk if told else None
    )
    at = timezone.now()
    log_act(campaign.club, "battle_postponed", campaign, by=by, at=at, turn=now.turn)
    return add_fact(campaign, put_off, by=by, at=at)


@transaction.atomic
def concede_battle(campaign: Campaign, *, battle: str, winner: str, reason: str, by: Member) -> Fact:
    """Book a battle as won without a fight: nobody falls, the others fall back.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
        GameUnderWay: there is a report of its game.
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    outcome = war.BattleOutcome(
        id=0, sequence=0, turn=now.turn, battle=battle, winner=winner, source="conceded", reason=_reason(reason)
    )
    return _book(campaign, now, outcome, "battle_conceded", by=by)


@transaction.atomic
def accept_simulation(campaign: Campaign, *, battle: str, seen: str, by: Member) -> Fact:
    """Draw the end of a battle nobody could play from the turn's seed. `seen` names the preview that was looked at.

    Raises:
        NotYoursToDo, CampaignMovedOn: the preview has changed since.
        CampaignRefused: it cannot be simulated.
        GameUnderWay: there is a report of its game.
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    open_battle(now, battle)
    try:
        if preview_of(now, battle).digest != seen:
            raise CampaignMovedOn(_("What this battle would come to has changed since. Look at it again."))
        seed = Secret.objects.get(campaign=campaign, turn=now.turn).seed
        drawn = simulate(now.began, now.now, battle, seed=seed, laws=laws_of_club(campaign.club))
    except CannotSimulate as failure:
        raise CampaignRefused(_("Only a battle of two sides that is still to be fought can be simulated.")) from failure
    outcome = war.BattleOutcome(
        id=0,
        sequence=0,
        turn=now.turn,
        battle=battle,
        winner=drawn.winner,
        forces=drawn.forces,
        source="simulated",
        label=drawn.label,
        laws=drawn.laws,
    )
    return _book(campaign, now, outcome, "battle_simulated", by=by)


@transaction.atomic
def tell_outcome(
    campaign: Campaign,
    *,
    battle: str,
    winner: str,
    losses: Mapping[str, Sequence[CasualtyLine]],
    reason: str,
    by: Member,
) -> Fact:
    """Tell how a battle ended that was fought without a game on this site; `losses` by force, `winner` empty for a
    draw. The dice of those who fell are drawn from the turn's seed.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: with everything that cannot be; `field` is `forces.<n>` in the order of `losses`.
        GameUnderWay: there is a report of its game.
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    seed = Secret.objects.get(campaign=campaign, turn=now.turn).seed
    label = f"{battle}/told"
    outcome = war.BattleOutcome(
        id=0,
        sequence=0,
        turn=now.turn,
        battle=battle,
        winner=winner,
        source="ruled",
        label=label,
        reason=_reason(reason),
        forces=tuple(
            war.ForceOutcome(
                force=force,
                casualties=tuple(
                    _casualty(now, force, line, seed, f"{label}/{force}/{line.unit_id}") for line in lines
                ),
            )
            for force, lines in losses.items()
        ),
    )
    return _book(campaign, now, outcome, "battle_told", by=by)


def _casualty(now: War, force: str, line: CasualtyLine, seed: str, label: str) -> strength.Casualty:
    """A line with its dice, drawn; without dice where there is no such unit, which `check` will say."""
    told = strength.Casualty(
        unit_id=line.unit_id, figures_lost=line.figures_lost, destroyed=line.destroyed, routed=line.routed
    )
    here = now.now.forces.get(force)
    unit = next((each for each in here.units if each.id == line.unit_id), None) if here else None
    if unit is None or not 0 < line.figures_lost <= unit.figures:
        return told
    dice = rolls_needed(
        now.began.ruleset, unit_class=unit.unit_class, quality=unit.quality, figures_lost=line.figures_lost
    )
    return replace(told, rolls=draw_rolls(seed, label, dice.count, dice.sides) if dice.count else ())


def _book(campaign: Campaign, now: War, outcome: war.BattleOutcome, act: str, *, by: Member) -> Fact:
    open_battle(now, outcome.battle)
    names: dict[int | str, str] = dict(
        Unit.objects.filter(
            roster__enlisted__campaign=campaign, roster__enlisted__force__in=_forces(outcome)
        ).values_list("pk", "name")
    )
    faults = check(now.began, now.now, outcome, names=names)
    if faults:
        raise CampaignRefused(
            Violation(violation_in_words(each), each.place.replace("[", ".").rstrip("]"), each.code) for each in faults
        )
    at = timezone.now()
    call_off_fight(campaign, battle=outcome.battle, by=by, at=at)
    log_act(campaign.club, act, campaign, by=by, at=at, turn=now.turn)
    standing = _put_off(now, outcome.battle)
    return add_fact(campaign, replace(outcome, supersedes=standing.pk if standing else None), by=by, at=at)


def _forces(outcome: war.BattleOutcome) -> list[str]:
    return [each.force for each in outcome.forces]


def _told_without_game(now: War, battle: str) -> Fact | None:
    """The outcome booked in the open turn that no report stands behind."""
    return _in_force(now, Fact.Kind.OUTCOME, battle)


def _put_off(now: War, battle: str) -> Fact | None:
    """That the battle was put off in the open turn: an outcome takes its place."""
    return _in_force(now, Fact.Kind.POSTPONED, battle)


def _in_force(now: War, kind: Fact.Kind, battle: str) -> Fact | None:
    gone = {row.supersedes_id for row in now.rows}
    rows = [row for row in now.rows if row.kind == kind and row.turn == now.turn and row.pk not in gone]
    return next((row for row in rows if row.data["battle"] == battle), None)


def _reason(text: str) -> str:
    text = text.strip()
    if not text:
        raise CampaignRefused(Violation(_("Say why."), "reason", "missing"))
    if len(text) > REASON_MOST:
        words = _("Keep this under %(most)s characters.") % {"most": REASON_MOST}
        raise CampaignRefused(Violation(words, "reason", "long"))
    return text
