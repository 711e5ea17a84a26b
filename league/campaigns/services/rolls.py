"""Dice the map asks for: thrown on the table and typed, or drawn from the turn's seed."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Fact, Secret
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.campaigns.services.facts import add_fact
from league.campaigns.services.fights import book_battles
from league.clubs.models import Member
from league.engines import war
from league.engines.war.dice import drawn
from league.errors import Violation

__all__ = ["draw_rolls", "enter_rolls"]


@transaction.atomic
def enter_rolls(campaign: Campaign, *, turn: int, label: str, results: Sequence[int], by: Member) -> Fact:
    """Type in dice as they showed on the table. The same dice again are those that are there.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: nobody asks for these dice, there are too few or too many, or the die has no such face.
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    standing = next(
        (row for row in now.rows if row.kind == Fact.Kind.ROLL and row.turn == turn and row.data["label"] == label),
        None,
    )
    if standing is not None:
        if list(standing.data["results"]) == list(results):
            return standing
        raise CampaignMovedOn(_("These dice are rolled already."))
    needed = next((each for each in now.now.rolls_needed if each.label == label and now.turn == turn), None)
    if needed is None:
        raise CampaignRefused(Violation(_("Nothing is to be rolled here."), "label", "not_wanted"))
    wrong = []
    if len(results) != needed.count:
        words = _("There are %(count)s dice to be rolled.") % {"count": needed.count}
        wrong.append(Violation(words, "results", "count"))
    wrong += [
        Violation(
            _("A die of %(sides)s sides has no %(face)s.") % {"sides": needed.sides, "face": face}, "results", "face"
        )
        for face in results
        if not 1 <= face <= needed.sides
    ]
    if wrong:
        raise CampaignRefused(wrong)
    return _write(campaign, now, needed, tuple(results), "table", by=by)


@transaction.atomic
def draw_rolls(campaign: Campaign, *, turn: int, by: Member) -> list[Fact]:
    """Draw every die that is asked for from the turn's seed, whose hash was shown before the orders.

    Raises:
        NotYoursToDo, CampaignMovedOn
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    if now.turn != turn:
        raise CampaignMovedOn(_("The campaign has gone on meanwhile. Look at it again."))
    facts = []
    while now.now.rolls_needed:
        seed = Secret.objects.get(campaign=campaign, turn=turn).seed
        needed = now.now.rolls_needed[0]
        facts.append(_write(campaign, now, needed, drawn(seed, needed), "drawn", by=by))
        now = war_of(campaign)
    return facts


def _write(
    campaign: Campaign, now: War, needed: war.RollNeeded, results: tuple[int, ...], thrown: str, *, by: Member
) -> Fact:
    at = timezone.now()
    roll = war.Roll(
        id=0,
        sequence=0,
        turn=now.turn,
        label=needed.label,
        sides=needed.sides,
        results=results,
        thrown="drawn" if thrown == "drawn" else "table",
    )
    fact = add_fact(campaign, roll, by=by, at=at)
    book_battles(campaign, war_of(campaign), by=by, at=at)
    return fact
