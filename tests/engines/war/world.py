"""A small war to test with: the Commons of Arrel against the Wardens of Brune along the Sedge.

    arrel --mill-- mere --dyke-- sedge --toll-- gate --keep-- brune
      |                                                        |
      +------------- north (sea) isle (sea) south -------------+

Arrel and Brune are strongholds, ports and sources of 8 loads a turn. Nobody holds the Sedge and the Isle.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import count

from league.engines.maps import Map, Region, Road
from league.engines.rulesets import (
    CasualtyTable,
    Experience,
    Outcome,
    Ruleset,
    Scenario,
    ScenarioSide,
    Step,
    UnitClass,
)
from league.engines.strength import Casualty, RosterUnit
from league.engines.war import (
    BattleOutcome,
    Campaign,
    Closed,
    Depot,
    Faction,
    Force,
    ForceOutcome,
    Ground,
    Holding,
    OrderSet,
    Price,
    Revealed,
    Rules,
    Stock,
)

SIDES = (ScenarioSide(key="attacker", name="Attacker"), ScenarioSide(key="defender", name="Defender"))
RULESET = Ruleset(
    name="Banks and Towpaths",
    unit_classes=(UnitClass(key="foot", name="Foot", figures_least=1, figures_most=99),),
    casualty_tables=(
        CasualtyTable(
            key="all",
            name="All",
            roll_for="figure",
            die=6,
            outcomes=(Outcome(first=1, last=3, fate="lost"), Outcome(first=4, last=6, fate="back")),
        ),
    ),
    experience=Experience(per_game=1, per_win=2, steps=(Step(at=3, name="Blooded"),)),
    scenarios=(
        Scenario(key="open_field", name="Open Field", sides=SIDES),
        Scenario(key="reed_beds", name="Reed Beds", sides=SIDES),
        Scenario(key="chance", name="Chance Meeting", sides=SIDES),
        Scenario(key="three_banks", name="Three Banks", sides=(*SIDES, ScenarioSide(key="third", name="Third"))),
    ),
)
# Whoever falls is lost: for tests that count the lost, whatever the dice show.
UNFORGIVING = replace(
    RULESET,
    casualty_tables=(replace(RULESET.casualty_tables[0], outcomes=(Outcome(first=1, last=6, fate="lost"),)),),
)
MAP = Map(
    name="The Sedge",
    regions=(
        Region(key="arrel", name="Arrel", terrain="town", x=0, y=500, worth=3, stronghold=True, port=True, produces=8),
        Region(key="mere", name="The Mere", terrain="marsh", x=200, y=500, worth=1),
        Region(key="sedge", name="Sedge Crossing", terrain="marsh", x=400, y=500, worth=2),
        Region(key="gate", name="Toll Gate", terrain="open", x=600, y=500, worth=1),
        Region(
            key="brune", name="Brune", terrain="town", x=800, y=500, worth=3, stronghold=True, port=True, produces=8
        ),
        Region(key="isle", name="The Isle", terrain="open", x=400, y=100, worth=1, port=True),
    ),
    roads=(
        Road(key="mill", a="arrel", b="mere", capacity=8, loss=5),
        Road(key="dyke", a="mere", b="sedge", capacity=6, loss=10),
        Road(key="toll", a="sedge", b="gate", capacity=6, loss=10),
        Road(key="keep", a="gate", b="brune", capacity=8, loss=5),
        Road(key="north", a="arrel", b="isle", kind="sea_lane", capacity=3, loss=20),
        Road(key="south", a="isle", b="brune", kind="sea_lane", capacity=3, loss=20),
    ),
)
RULES = Rules(
    grounds=(
        Ground(terrain="marsh", scenarios=("reed_beds", "open_field"), law="linear", depot=False),
        Ground(terrain="road", scenarios=("chance",)),
        Ground(terrain="town", scenarios=("open_field",), defence_percent=150),
    ),
    prices=(Price(per_figure_x100=50),),
    depot_price=3,
    source_holds=40,
    depot_holds=20,
)


def force(key, faction, region, *, units=2, figures=10, need=3, pace=1):
    return Force(
        key=key,
        name=f"The {key}",
        faction=faction,
        region=region,
        need=need,
        pace=pace,
        units=tuple(
            RosterUnit(id=f"{key}-{number}", unit_class="foot", figures=figures, points=20)
            for number in range(1, units + 1)
        ),
    )


CAMPAIGN = Campaign(
    name="The War of the Weirs",
    map=MAP,
    ruleset=RULESET,
    rules=RULES,
    factions=(Faction(key="commons", name="Commons of Arrel"), Faction(key="wardens", name="Wardens of Brune")),
    forces=(
        force("pikes", "commons", "mere"),
        force("sappers", "commons", "arrel"),
        force("lancers", "wardens", "gate", pace=2),
        force("guard", "wardens", "brune"),
    ),
    holdings=tuple(
        Holding(region=region, faction=faction)
        for region, faction in (
            ("arrel", "commons"),
            ("mere", "commons"),
            ("gate", "wardens"),
            ("brune", "wardens"),
        )
    ),
    depots=(Depot(region="gate", faction="wardens"),),
    stocks=(
        Stock(region="arrel", faction="commons", amount=10),
        Stock(region="brune", faction="wardens", amount=10),
        Stock(region="gate", faction="wardens", amount=6),
    ),
)


def with_rules(**changed):
    return replace(CAMPAIGN, rules=replace(RULES, **changed))


class Book:
    """Facts, written down one after the other."""

    def __init__(self):
        self.facts = []
        self.numbers = count(1)

    def write(self, kind, turn, **told):
        number = next(self.numbers)
        fact = kind(id=f"f{number}", sequence=number, turn=turn, **told)
        self.facts.append(fact)
        return fact

    def orders(self, turn, faction, *orders, **told):
        return self.write(OrderSet, turn, faction=faction, orders=orders, **told)

    def reveal(self, turn):
        return self.write(Revealed, turn)

    def close(self, turn):
        return self.write(Closed, turn)

    def battle(self, turn, battle, winner="", losses=(), **told):
        """`losses`: unit -> (figures, dice)."""
        forces = {}
        for unit, (figures, dice) in dict(losses).items():
            forces.setdefault(unit.rsplit("-", 1)[0], []).append(
                Casualty(unit_id=unit, figures_lost=figures, rolls=tuple(dice))
            )
        return self.write(
            BattleOutcome,
            turn,
            battle=battle,
            winner=winner,
            forces=tuple(ForceOutcome(force=key, casualties=tuple(lines)) for key, lines in forces.items()),
            **told,
        )

    def turn(self, turn, commons=(), wardens=(), battles=()):
        """A whole turn: both sets, the reveal, the battles as (id, winner, losses), the close."""
        self.orders(turn, "commons", *commons)
        self.orders(turn, "wardens", *wardens)
        self.reveal(turn)
        for battle in battles:
            self.battle(turn, *battle)
        self.close(turn)
