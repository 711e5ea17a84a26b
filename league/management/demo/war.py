"""The demo's war, eight turns old: the Commons of Arrel against the Wardens of Brune along the Sedge.

Played by the services as its leaders and its umpire would, by the demo's own dice; only the dates lie back.
"""

from __future__ import annotations

import random
from datetime import date, timedelta

from django.utils import timezone

from league.battles.models import Game
from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.dice import draw_rolls as draw_fates
from league.battles.services.games import SidePlan, change_game
from league.battles.services.reports import CasualtyLine, confirm_report, file_report
from league.campaigns.models import Campaign, Fact, Fight, Story
from league.campaigns.queries.orders_page import Desk, desk_of
from league.campaigns.queries.seen import seen_by
from league.campaigns.queries.simulations import preview_of
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.drawing_up import found_campaign, set_factions, set_rules, set_start, write_map
from league.campaigns.services.enlisting import enlist
from league.campaigns.services.orders import give_orders
from league.campaigns.services.outcomes import accept_simulation, concede_battle
from league.campaigns.services.rolls import draw_rolls
from league.campaigns.services.rulings import rule
from league.campaigns.services.seats import take_seat
from league.campaigns.services.starting import start_campaign
from league.campaigns.services.stories import tell_story
from league.campaigns.services.turns import close_turn
from league.engines import war
from league.engines.maps import Map, Region, Road
from league.engines.war.prices import cost_x100
from league.management.demo.forces import FORCES, PATROL, paste, submission
from league.management.demo.playing import Cast
from league.rosters.queries.states import states_of
from league.rulesets.queries import current_edition

__all__ = ["fight_war"]

NAME = "The War of the Weirs"
ABOUT = (
    "The Commons of Arrel want the tolls of the Sedge abolished; the Wardens of Brune live by them. "
    "A turn a week, orders by Wednesday, battles on Thursday."
)
TURNS = 8
SIMULATED, CONCEDED = 2, 4  # of all battles, counted from 0, those that were not played
ROADS = (
    # key, from, to, kind, capacity, loss
    ("mill", "arrel", "mere", "road", 8, 5),
    ("dyke", "mere", "crossing", "road", 6, 10),
    ("toll", "crossing", "gate", "road", 6, 10),
    ("keep", "gate", "brune", "road", 8, 5),
    ("upper", "mere", "reeds", "river", 4, 10),
    ("weir", "reeds", "crossing", "river", 4, 10),
    ("lock", "reeds", "third_lock", "river", 4, 10),
    ("quay", "third_lock", "gate", "river", 4, 10),
    ("moor", "arrel", "heath", "road", 4, 5),
    ("ridge", "heath", "crossing", "road", 3, 10),
    ("hollow", "heath", "gravel", "road", 4, 10),
    ("pit", "gravel", "brune", "road", 4, 5),
    ("north", "arrel", "isle", "sea_lane", 3, 20),
    ("south", "isle", "brune", "sea_lane", 3, 20),
)
MAP = Map(
    name="Along the Sedge",
    regions=(
        Region(key="arrel", name="Arrel", terrain="town", x=60, y=480, worth=3, stronghold=True, port=True, produces=8),
        Region(key="mere", name="The Mere", terrain="marsh", x=270, y=560, worth=1),
        Region(key="reeds", name="High Reeds", terrain="marsh", x=440, y=800, worth=1),
        Region(key="crossing", name="Sedge Crossing", terrain="ford", x=480, y=500, worth=2, stronghold=True),
        Region(key="third_lock", name="Third Lock", terrain="canal", x=680, y=790, worth=1),
        Region(key="gate", name="Toll Gate", terrain="open", x=720, y=540, worth=2),
        Region(key="heath", name="Crow Heath", terrain="open", x=290, y=310, worth=1),
        Region(key="gravel", name="Gravel Pits", terrain="rough", x=610, y=290, worth=1),
        Region(key="isle", name="Salt Isle", terrain="open", x=470, y=80, worth=1, port=True),
        Region(
            key="brune", name="Brune", terrain="town", x=930, y=430, worth=3, stronghold=True, port=True, produces=8
        ),
    ),
    roads=tuple(
        Road(key=key, a=a, b=b, kind=kind, capacity=capacity, loss=loss)  # type: ignore[arg-type]  # kinds as above
        for key, a, b, kind, capacity, loss in ROADS
    ),
)
HELD = {
    "commons": ("arrel", "mere", "heath"),
    "wardens": ("brune", "gate", "third_lock"),
}
ENLISTED = (
    # owner, faction, where, need, pace
    ("Brannoc", "commons", "mere", 3, 1),
    ("Tamsin", "commons", "heath", 2, 1),
    ("Quenna", "commons", "arrel", 3, 1),
    ("Ceriden", "wardens", "gate", 3, 1),
    ("Jory", "wardens", "third_lock", 3, 1),
)
LEADERS = {"commons": "Brannoc", "wardens": "Ceriden"}


def fight_war(cast: Cast, *, today: date) -> Campaign:
    """Found, draw up and play the war; its ninth turn waits for the orders of one side."""
    campaign = draw_up(cast)
    dice = random.Random("the war of the weirs")  # noqa: S311 - a demo's dice
    for turn in range(1, TURNS + 1):
        order(cast, campaign, dice)
        fight(cast, campaign, dice, on=today - timedelta(weeks=TURNS + 1 - turn))
        comment(cast, campaign, turn)
        close_turn(campaign, turn=turn, by=cast.people["Ulmar"])
        campaign.refresh_from_db()
        if campaign.ended_at is not None:
            return campaign  # the lots of the battles are drawn anew each time, and may decide the war early
    tell(cast, campaign)
    order(cast, campaign, dice, factions=("commons",))
    lie_back(campaign)
    return campaign


def draw_up(cast: Cast) -> Campaign:
    umpire = cast.people["Ulmar"]
    campaign = found_campaign(
        cast.club,
        edition=current_edition(cast.ruleset),
        name=NAME,
        about=ABOUT,
        is_public=True,
        submission=submission("war"),
        by=umpire,
    )
    write_map(campaign, of=MAP, by=umpire)
    factions = (
        war.Faction(key="commons", name="Commons of Arrel"),
        war.Faction(key="wardens", name="Wardens of Brune"),
    )
    set_factions(campaign, factions=factions, by=umpire)
    set_start(
        campaign,
        holdings=[war.Holding(region=region, faction=key) for key, held in HELD.items() for region in held],
        depots=[war.Depot(region="mere", faction="commons"), war.Depot(region="gate", faction="wardens")],
        stocks=[
            war.Stock(region=region, faction=key, amount=amount)
            for region, key, amount in (
                ("arrel", "commons", 10),
                ("mere", "commons", 4),
                ("brune", "wardens", 10),
                ("gate", "wardens", 4),
            )
        ],
        by=umpire,
    )
    set_rules(campaign, rules=RULES, by=umpire)
    for owner, faction, region, need, pace in ENLISTED:
        name, called, leader, first, second, light, better, last = FORCES[owner]
        lines = PATROL.format(leader=leader, first=first, second=second, light=light, better=better, last=last)
        roster = paste(cast.club, cast.people[owner], cast.ruleset, name=f"{name} at war", faction=called, lines=lines)
        enlist(campaign, roster=roster, faction=faction, region=region, need=need, pace=pace, by=umpire)
        take_seat(campaign, member=cast.people[owner], faction=faction, by=umpire)
    return start_campaign(campaign, by=umpire)


RULES = war.Rules(
    depot_price=5,
    depot_holds=30,
    source_holds=60,
    battle_use_percent=50,
    retreat_most=9,
    prices=(war.Price(per_figure_x100=50),),
    grounds=(
        war.Ground(terrain="ford", scenarios=("chance_meeting", "ferry_stage")),
        war.Ground(terrain="canal", scenarios=("chance_meeting", "ferry_stage")),
        war.Ground(terrain="marsh", scenarios=("cut_reeds",), law="linear", depot=False),
        war.Ground(terrain="town", scenarios=("chance_meeting",), defence_percent=150),
        war.Ground(terrain="open", scenarios=("chance_meeting",)),
    ),
    victory=war.Victory(per_worth=1, per_stronghold=1, per_battle=1, last_turn=12),
)


def order(
    cast: Cast, campaign: Campaign, dice: random.Random, *, factions: tuple[str, ...] = ("commons", "wardens")
) -> None:
    for faction in factions:
        leader = cast.people[LEADERS[faction]]
        seen = seen_by(campaign, leader)
        desk = desk_of(seen, faction)
        give_orders(
            campaign,
            faction=faction,
            turn=desk.turn,
            orders=list(choose(seen.war, desk, dice)),
            importance=[each.key for each in desk.forces],
            submission=submission("orders", faction, desk.turn),
            by=leader,
        )


def choose(now: War, desk: Desk, dice: random.Random) -> list[war.Order]:
    """Rebuild when bled, else more often than not march on the nearest ground that is not one's own."""
    found: list[war.Order] = []
    for force in desk.forces:
        if force.is_locked:
            continue
        lost = [(unit.unit_id, unit.places) for unit in force.recruits]
        foreign = [
            way for way, _words in force.ways if now.now.control.get(end_of(now, force.key, way)) != desk.faction
        ]
        replacements = tuple(war.Replacement(unit_id=unit, figures=places) for unit, places in lost)
        rebuild = war.Rebuild(force=force.key, replacements=replacements)
        bled = sum(places for _unit, places in lost) > 3  # noqa: PLR2004 - the demo's own taste
        if bled and can_pay(now, rebuild) and dice.random() < 0.6:  # noqa: PLR2004 - the demo's own taste
            found.append(rebuild)
        elif foreign and dice.random() < 0.7:  # noqa: PLR2004 - the demo's own taste
            found.append(war.Move(force=force.key, roads=tuple(dice.choice(foreign).split())))
        elif force.can_dig_in and dice.random() < 0.5:  # noqa: PLR2004 - the demo's own taste
            found.append(war.DigIn(force=force.key))
        else:
            found.append(war.Hold(force=force.key))
    return found


def can_pay(now: War, order: war.Rebuild) -> bool:
    force = now.now.forces[order.force]
    stock = sum(amount for (_region, faction), amount in now.now.balances.items() if faction == force.faction)
    return cost_x100(now.began.rules, order, {unit.id: unit for unit in force.units}) <= stock


def end_of(now: War, force: str, way: str) -> str:
    here = now.now.forces[force].region
    for key in way.split():
        road = now.now.map.road(key)
        here = road.other(here) if road else here
    return here


def fight(cast: Cast, campaign: Campaign, dice: random.Random, *, on: date) -> None:
    """Whoever is behind on points wins what is played, so that the war stays open."""
    umpire = cast.people["Ulmar"]
    now = war_of(campaign)
    draw_rolls(campaign, turn=now.turn, by=umpire)
    battles = [each.id for each in war_of(campaign).now.battles]
    for battle in battles:
        now = war_of(campaign)
        behind = min(now.now.points.items(), key=lambda each: each[1])[0]
        number = sum(row.kind == Fact.Kind.OUTCOME for row in now.rows) + len(now.reported)
        here = now.now.battle(battle)
        if here is None or len(here.sides) != 2:  # noqa: PLR2004 - the demo plays and reckons battles of two sides
            continue
        fought = (
            Fight.objects.filter(campaign=campaign, battle=battle, called_off_at=None).select_related("game").first()
        )
        if number == CONCEDED:
            concede_battle(campaign, battle=battle, winner=behind, reason="The others had flu.", by=umpire)
        elif fought is None or number == SIMULATED:
            accept_simulation(campaign, battle=battle, seen=preview_of(now, battle).digest, by=umpire)
        else:
            report(cast, now, fought.game, dice, winner=behind, on=on)


def report(cast: Cast, now: War, game: Game, dice: random.Random, *, winner: str, on: date) -> None:
    """Played on its day, reported by one player and confirmed by another."""
    rows = list(game.sides.order_by("position").select_related("roster__owner").prefetch_related("players"))
    sides = [
        SidePlan(member_ids=[player.member_id for player in row.players.all()], role=row.role, roster_id=row.roster_id)
        for row in rows
    ]
    game = change_game(game, scenario=game.scenario, on=on, sides=sides, by=cast.organiser)
    forces = {enlisted.roster_id: enlisted.force for enlisted in now.campaign.enlisted.all()}
    won = [now.faction_of(forces[row.roster_id]) == winner for row in rows]
    claims = [
        SideClaim(
            position=row.position,
            score=dice.randint(7, 9) if won[place] else dice.randint(1, 3),
            casualties=losses(row.roster, dice, heavy=not won[place]),
        )
        for place, row in enumerate(rows)
    ]
    claim = ReportClaim(fought_on=on, sides=claims, is_full=True, markers_peak=dice.randint(4, 12))
    writer, other = rows[0].roster.owner, rows[1].roster.owner
    told = file_report(game, claim=claim, submission=submission("war report", game.submission), by=writer)
    draw_fates(told, by=writer)
    confirm_report(told, by=other)


def losses(roster: object, dice: random.Random, *, heavy: bool) -> list[CasualtyLine]:
    standing = [(unit, state.present) for unit, state in states_of(roster).items() if state.present]  # type: ignore[arg-type]  # a side of the war's games has its roster
    hit = dice.sample(standing, min(len(standing), 3 if heavy else 2))
    lines = []
    for unit, present in hit:
        lost = min(present, dice.randint(1, 4 if heavy else 2))
        lines.append(CasualtyLine(unit_id=unit, figures_lost=lost, destroyed=lost == present))
    return lines


def comment(cast: Cast, campaign: Campaign, turn: int) -> None:
    if turn == 4:  # noqa: PLR2004 - the fourth week
        rule(
            campaign,
            turn=turn,
            reason="A grain barge ran aground below Arrel; both sides agreed at the table.",
            effects=[war.GrantStock(region="arrel", faction="commons", amount=3)],
            submission=submission("barge"),
            by=cast.people["Ulmar"],
        )


def tell(cast: Cast, campaign: Campaign) -> None:
    for turn, name, title, text in (
        (
            1,
            "Brannoc",
            "Wet feet",
            "We went in up to the knees and held the bank until dark. Nobody sang on the way home.",
        ),
        (
            3,
            "Ceriden",
            "The toll is doubled",
            "They came for the gate with a barrel on a cart. We charged them for the cart.",
        ),
        (6, "Tamsin", "A quiet week", "The Volunteers mended their boots and counted the geese on the heath."),
    ):
        tell_story(
            campaign, turn=turn, title=title, text=text, submission=submission("story", turn), by=cast.people[name]
        )


def lie_back(campaign: Campaign) -> None:
    """A turn a week."""
    now = timezone.now()
    Campaign.objects.filter(pk=campaign.pk).update(started_at=now - timedelta(weeks=TURNS + 1))
    for turn in range(1, TURNS + 1):
        at = now - timedelta(weeks=TURNS + 1 - turn)
        Fact.objects.filter(campaign=campaign, turn=turn).update(at=at)
        Story.objects.filter(campaign=campaign, turn=turn).update(at=at)
