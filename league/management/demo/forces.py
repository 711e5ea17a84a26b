"""The rosters of the demo, written down as members would paste them."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import NAMESPACE_URL, UUID, uuid5

from league.clubs.models import Club, Member
from league.engines.roster_text import parse_roster
from league.rosters.models import Roster
from league.rosters.services.facts import parsed_facts
from league.rosters.services.rosters import create_roster
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition, rules_of

__all__ = ["muster", "submission"]

PATROL = """\
{leader}: leader, 2, seasoned, 50, pistols; hand bell
{first} Company: line, 10, {better}, 90, muskets
{second} Company: line, 10, seasoned, 80, muskets
{light}: runners, 6, seasoned, 60, long knives; smoke pots
{last}
"""
RIDERS = "Towpath Riders: riders, 5, seasoned, 75, carbines"
GUN = "Swivel Gun: gun, 3, veteran, 70, swivel gun"
BOATS = "Barge Crew: boatmen, 6, raw, 45, boat hooks"

FORCES = {
    # first name: (roster, faction, leader, two companies, light troops, quality of the first company, last unit)
    "Odalys": (
        "The Gravel Patrol",
        "Commons of Arrel",
        "Captain Sarrow",
        "Red",
        "Ochre",
        "Ditch Runners",
        "veteran",
        GUN,
    ),
    "Ulmar": (
        "Wardens of the Third Lock",
        "Wardens of Brune",
        "Warden Ebb",
        "Grey",
        "Slate",
        "Sluice Runners",
        "seasoned",
        BOATS,
    ),
    "Quenna": ("Quenna's Quays", "Commons of Arrel", "Factor Lisle", "Pier", "Crane", "Wharf Rats", "seasoned", BOATS),
    "Brannoc": (
        "The Reed Cutters",
        "Commons of Arrel",
        "Old Tarn",
        "Sickle",
        "Scythe",
        "Marsh Hares",
        "veteran",
        RIDERS,
    ),
    "Ceriden": (
        "Toll House Guard",
        "Wardens of Brune",
        "Collector Voyle",
        "Blue",
        "Amber",
        "Night Watch",
        "veteran",
        RIDERS,
    ),
    "Tamsin": (
        "Ferry Lane Volunteers",
        "Commons of Arrel",
        "Mistress Pike",
        "Upper",
        "Lower",
        "Lane Runners",
        "raw",
        GUN,
    ),
    "Jory": (
        "The Duke's Dredgers",
        "Wardens of Brune",
        "Serjeant Mull",
        "First",
        "Second",
        "Mud Larks",
        "seasoned",
        GUN,
    ),
}

BRIGADE = """\
Brigade Staff: command, 4, trained, 80
First of the Line: line, 24, guard, 240, muskets; colours
Second of the Line: line, 24, trained, 200, muskets; colours
Third of the Line: line, 24, trained, 200, muskets; colours
Skirmish Company: light, 12, trained, 110, rifles
Lancers: horse, 12, trained, 180, lances
Six-pounders: battery, 8, trained, 220, two guns
"""
BRIGADES = {"Ulmar": "Brune Second Brigade", "Odalys": "Arrel Field Brigade"}


def submission(*words: object) -> UUID:
    """A name for a submission that comes out the same each time the demo is made."""
    return uuid5(NAMESPACE_URL, "demo:" + ":".join(map(str, words)))


def muster(club: Club, people: Mapping[str, Member], rulesets: Mapping[str, Ruleset]) -> dict[str, Roster]:
    """Every roster, by its owner's first name; the brigades by "brigade of" and the name."""
    skirmish, battle = rulesets["ferry_skirmish"], rulesets["levee_battle"]
    rosters = {}
    for owner, (name, faction, leader, first, second, light, better, last) in FORCES.items():
        lines = PATROL.format(leader=leader, first=first, second=second, light=light, better=better, last=last)
        rosters[owner] = paste(club, people[owner], skirmish, name=name, faction=faction, lines=lines)
    for owner, name in BRIGADES.items():
        faction = FORCES[owner][1]
        rosters[f"brigade of {owner}"] = paste(club, people[owner], battle, name=name, faction=faction, lines=BRIGADE)
    return rosters


def paste(club: Club, owner: Member, ruleset: Ruleset, *, name: str, faction: str, lines: str) -> Roster:
    parsed = parse_roster(lines, rules_of(current_edition(ruleset)))
    if parsed.bad_lines:
        raise ValueError(f"The demo's own roster has bad lines: {parsed.bad_lines}")
    return create_roster(
        club,
        owner=owner,
        ruleset=ruleset,
        name=name,
        faction=faction,
        units=[parsed_facts(unit) for unit in parsed.units],
        submission=submission("roster", name),
        by=owner,
    )
