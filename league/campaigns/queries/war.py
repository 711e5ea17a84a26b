"""A campaign as the war engine sees it, turn by turn, and as whom a person looks at it.

Everything that shows or changes a campaign begins with `war_of`: the facts in a fixed number of queries, folded. States
of closed turns are kept in memory under a digest of everything they rest on, so that a page reckons the open turn
only; nothing is stored, so nothing can disagree.
"""

from __future__ import annotations

import hashlib
import json
import threading
from collections import OrderedDict, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from league.campaigns.models import Campaign, Fact, Fight
from league.campaigns.permissions import can_judge
from league.campaigns.queries.facts import as_data, as_fact, fact_rows
from league.campaigns.queries.reports import Told, outcome_of, told_of
from league.campaigns.queries.seats import seat_of
from league.clubs.models import Member
from league.engines import war
from league.engines.documents.campaign import read_campaign

__all__ = ["SPECTATOR", "UMPIRE", "War", "beginning_of", "states_of", "viewer_of", "war_of"]

SPECTATOR, UMPIRE = "", "*"
KEPT_STATES = 512


@dataclass(frozen=True, kw_only=True, slots=True)
class War:
    """`facts` are all there ever were; `reported` those of the open turn that are read from reports and not yet
    written down. `states` runs from turn 0 to the turn being played; `told` is what each fight of the open turn's
    report says, by battle."""

    campaign: Campaign
    began: war.Campaign
    rows: tuple[Fact, ...]
    facts: tuple[war.Fact, ...]
    states: tuple[war.TurnState, ...]
    reported: tuple[war.BattleOutcome, ...] = ()
    told: dict[str, Told] = field(default_factory=dict, hash=False)

    @property
    def now(self) -> war.TurnState:
        return self.states[-1]

    @property
    def turn(self) -> int:
        """The turn being played, or the last one of a war that is over."""
        return self.now.turn

    def faction_of(self, force: str) -> str:
        found = self.now.forces.get(force)
        return found.faction if found else ""


def war_of(campaign: Campaign) -> War:
    """The campaign folded to this moment: one query for its facts and six for the open turn's fights."""
    began = beginning_of(campaign)
    rows = tuple(fact_rows(campaign))
    facts = tuple(as_fact(row) for row in rows)
    states = states_of(campaign, facts)
    now = states[-1]
    if now.phase != "battles":
        return War(campaign=campaign, began=began, rows=rows, facts=facts, states=states)
    fights = Fight.objects.filter(campaign=campaign, called_off_at=None, battle__in=[each.id for each in now.battles])
    told = told_of(campaign, [each for each in fights.select_related("game") if each.turn <= now.turn])
    reported = _reported(now, told, first=rows[-1].sequence + 1)
    if reported:
        states = states_of(campaign, (*facts, *reported))
    return War(campaign=campaign, began=began, rows=rows, facts=facts, states=states, reported=reported, told=told)


def _reported(now: war.TurnState, told: dict[str, Told], *, first: int) -> tuple[war.BattleOutcome, ...]:
    """The outcomes that reports tell of battles nobody resolved otherwise; a battle of an earlier turn that was put
    off is told in this one."""
    factions = {key: force.faction for key, force in now.forces.items()}
    found = []
    for place, battle in enumerate(now.battles):
        here = told.get(battle.id)
        if here is None or battle.outcome is not None or battle.postponed:
            continue
        outcome = outcome_of(here, factions, sequence=first + place)
        if outcome is not None:
            found.append(replace(outcome, turn=now.turn))
    return tuple(found)


def beginning_of(campaign: Campaign) -> war.Campaign:
    """How the war begins.

    Raises:
        BadDocument: the campaign is still being drawn up and has faults.
    """
    return _read(_text_of(campaign))


def states_of(campaign: Campaign, facts: Sequence[war.Fact]) -> tuple[war.TurnState, ...]:
    """What `war.replay` gives for any telling of this campaign, closed turns out of memory where they were reckoned
    before."""
    text = _text_of(campaign)
    began = _read(text)
    by_turn: defaultdict[int, list[war.Fact]] = defaultdict(list)
    for fact in war.in_force(facts):
        by_turn[fact.turn].append(fact)
    link = _digest(text)
    states = [_KEPT.get(link) or _KEPT.keep(link, war.opening(began))]
    while states[-1].phase == "closed" and not states[-1].ended:
        here = by_turn[states[-1].turn + 1]
        link = _digest(link, *(f"{each.id}:{json.dumps(as_data(each), sort_keys=True)}" for each in here))
        states.append(_KEPT.get(link) or _KEPT.keep(link, war.advance(began, states[-1], here)))
    return tuple(states)


def _text_of(campaign: Campaign) -> str:
    return json.dumps(campaign.document, sort_keys=True, separators=(",", ":"))


@lru_cache(maxsize=64)
def _read(text: str) -> war.Campaign:
    return read_campaign(json.loads(text)).campaign


def _digest(*texts: str) -> str:
    told = hashlib.sha256()
    for text in texts:
        told.update(text.encode())
        told.update(b"\0")
    return told.hexdigest()


class _Kept:
    """The states reckoned last, by the digest of what each rests on: the same digest is the same state."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.lock = threading.Lock()
        self.states: OrderedDict[str, war.TurnState] = OrderedDict()

    def get(self, link: str) -> war.TurnState | None:
        with self.lock:
            state = self.states.get(link)
            if state is not None:
                self.states.move_to_end(link)
            return state

    def keep(self, link: str, state: war.TurnState) -> war.TurnState:
        with self.lock:
            self.states[link] = state
            while len(self.states) > self.most:
                self.states.popitem(last=False)
        return state


_KEPT = _Kept(KEPT_STATES)


def viewer_of(member: Member | None, campaign: Campaign) -> str:
    """As whom somebody looks at the war: a faction's key, `UMPIRE`, or `SPECTATOR`.

    Whoever leads a faction sees what it sees, whatever office they hold in the club.
    """
    seat = seat_of(member, campaign)
    if seat is not None:
        return seat.faction
    return UMPIRE if can_judge(member, campaign, seat) else SPECTATOR
