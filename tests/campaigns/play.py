"""The small war of the engine's tests, with real rosters: Brannoc leads the Commons of Arrel, Ceriden the Wardens."""

from __future__ import annotations

import uuid
from dataclasses import dataclass, replace
from datetime import date

from django.utils import timezone

from league.battles.models import Game
from league.battles.services.reports import ReportClaim, SideClaim, file_report
from league.campaigns.models import Campaign, Fight
from league.campaigns.queries.war import war_of
from league.campaigns.services.facts import open_turn
from league.campaigns.services.orders import give_orders
from league.campaigns.services.rolls import draw_rolls
from league.campaigns.services.turns import close_turn
from league.engines import war
from league.engines.documents.campaign import write_campaign
from league.engines.rulesets import ruleset_to_document
from league.rosters.queries.states import states_of, unit_as_listed
from tests import factories
from tests.engines.war.world import CAMPAIGN, RULESET

LEADS = {"pikes": "commons", "sappers": "commons", "lancers": "wardens", "guard": "wardens"}


@dataclass
class Played:
    """A campaign and the people in it."""

    campaign: Campaign
    umpire: object
    commons: object
    wardens: object

    def war(self):
        return war_of(Campaign.objects.get(pk=self.campaign.pk))

    def leader(self, faction):
        return self.commons if faction == "commons" else self.wardens

    def orders(self, faction, *orders, importance=(), turn=None, submission=None):
        return give_orders(
            self.campaign,
            faction=faction,
            turn=turn or self.war().turn,
            orders=orders,
            importance=importance,
            submission=submission or uuid.uuid4(),
            by=self.leader(faction),
        )

    def meet(self):
        """Both sides march on the Sedge Crossing and meet there; who attacks is drawn."""
        self.orders("commons", war.Move(force="pikes", roads=("dyke",)))
        self.orders("wardens", war.Move(force="lancers", roads=("toll",)))
        draw_rolls(self.campaign, turn=self.war().turn, by=self.umpire)
        return self.battle()

    def battle(self):
        return self.war().now.battles[0]

    def game(self, battle=None):
        found = Fight.objects.get(campaign=self.campaign, battle=(battle or self.battle()).id, called_off_at=None)
        return Game.objects.get(pk=found.game_id)

    def roster(self, force):
        return self.campaign.enlisted.get(force=force).roster

    def report(self, game, *, winner, losses=(), by=None):
        """`losses`: force -> casualty lines; the winner's side scores 10 to 0."""
        lines = dict(losses)
        sides = []
        for side in game.sides.order_by("position"):
            force = self.campaign.enlisted.get(roster=side.roster).force
            score = 5 if not winner else 10 if LEADS[force] == winner else 0
            sides.append(SideClaim(position=side.position, score=score, casualties=lines.get(force, ())))
        claim = ReportClaim(fought_on=timezone.localdate(), sides=sides, is_full=True)
        return file_report(game, claim=claim, submission=uuid.uuid4(), by=by or self.commons)

    def close(self):
        close_turn(self.campaign, turn=self.war().turn, by=self.umpire)

    def quiet_turn(self):
        """Nobody moves."""
        self.orders("commons")
        self.orders("wardens")
        self.close()

    def units(self, force):
        return list(self.roster(force).units.order_by("position"))

    def strength(self, force):
        """A force's figures by the war and by its roster's own record."""
        by_war = {key: state.present for key, state in self.war().now.forces[force].states.items()}
        by_roster = {key: state.present for key, state in states_of(self.roster(force)).items()}
        return by_war, by_roster


def begin(club, *, umpire, commons, wardens, rules=None, ruleset=RULESET, name="The War of the Weirs"):
    """Four rosters of two units of ten, enlisted; turn 1 takes orders."""
    document = ruleset_to_document(ruleset)
    edition = factories.EditionFactory(ruleset__club=club, ruleset__name=ruleset.name, document=document)
    forces, rosters = [], {}
    for force in CAMPAIGN.forces:
        owner = commons if force.faction == "commons" else wardens
        roster = factories.RosterFactory(owner=owner, ruleset=edition.ruleset, name=force.name)
        units = [
            factories.UnitFactory(roster=roster, name=f"{force.key} {n}", unit_class="foot", figures=10, points=20)
            for n in (1, 2)
        ]
        forces.append(replace(force, units=tuple(unit_as_listed(unit) for unit in units)))
        rosters[force.key] = roster
    began = replace(CAMPAIGN, name=name, ruleset=ruleset, forces=tuple(forces), rules=rules or CAMPAIGN.rules)
    campaign = factories.CampaignFactory(created_by=umpire, edition=edition, name=name, document=write_campaign(began))
    for force, roster in rosters.items():
        factories.EnlistedFactory(campaign=campaign, force=force, roster=roster)
    factories.SeatFactory(campaign=campaign, faction="commons", member=commons)
    factories.SeatFactory(campaign=campaign, faction="wardens", member=wardens)
    open_turn(campaign, turn=1, by=umpire, at=timezone.now())
    return Played(campaign=campaign, umpire=umpire, commons=commons, wardens=wardens)


SOME_DAY = date(2026, 3, 5)
