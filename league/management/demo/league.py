"""The demo's season: three rounds played, with all that happens to reports, and a fourth still to come."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from datetime import date

from league.battles.models import Game, Report, Ruling
from league.battles.services.claims import CasualtyLine, ReportClaim, SideClaim
from league.battles.services.dice import draw_rolls
from league.battles.services.games import SidePlan, change_game, plan_game
from league.battles.services.reports import confirm_report, correct_report, dispute_report, file_report, settle_report
from league.clubs.models import Club, Member
from league.management.demo.evenings import Evenings
from league.management.demo.forces import submission
from league.rosters.models import Roster, Unit
from league.rosters.queries import states_of
from league.rulesets.models import Edition, Ruleset
from league.rulesets.queries import current_edition
from league.seasons.models import Entrant, Season, Unplayed
from league.seasons.services.adjustments import adjust
from league.seasons.services.entrants import enter
from league.seasons.services.marks import mark_unplayed
from league.seasons.services.pairings import pair
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import create_season

__all__ = ["plan_friendly_games", "play_season"]

ENTRANTS = ("Odalys", "Ulmar", "Quenna", "Brannoc", "Ceriden", "Tamsin", "Jory")
# Seven entrants: everyone meets someone new in each round and one has a bye.
ROUNDS = (
    (("Odalys", "Jory"), ("Ulmar", "Tamsin"), ("Quenna", "Ceriden"), ("Brannoc",)),
    (("Brannoc", "Odalys"), ("Ceriden", "Ulmar"), ("Tamsin", "Jory"), ("Quenna",)),
    (("Odalys", "Ulmar"), ("Brannoc", "Ceriden"), ("Jory", "Quenna"), ("Tamsin",)),
    (("Quenna", "Brannoc"), ("Tamsin", "Ceriden"), ("Ulmar", "Jory"), ("Odalys",)),
)
SCENARIOS = ("ferry_stage", "cut_reeds", "chance_meeting", "ferry_stage")
RULES = {
    "scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0, "bye_x2": 4, "forfeit_win_x2": 6, "showing_up_x2": 1},
    "tie_breaks": [
        {"name": "direct_encounter"},
        {"name": "buchholz_cut1"},
        {"name": "sonneborn_berger"},
        {"name": "value_difference"},
        {"name": "drawn_lot"},
    ],
    "unplayed_policy": "fide_2009",
}


def play_season(
    club: Club, people: Mapping[str, Member], ruleset: Ruleset, rosters: Mapping[str, Roster], evenings: Evenings
) -> Season:
    organiser = people["Odalys"]
    season = create_season(
        club,
        ruleset=ruleset,
        name="The Sedge League",
        starts_on=evenings.past[0].on,
        rules=RULES,
        submission=submission("season"),
        by=organiser,
    )
    entrants = {name: enter(season, member_ids=[people[name].pk], by=organiser) for name in ENTRANTS}
    nights = (*evenings.past, evenings.coming)
    dice = random.Random("the demo's own dice")  # noqa: S311 - play, not secrecy
    for number, (pairs, scenario, night) in enumerate(zip(ROUNDS, SCENARIOS, nights, strict=True), 1):
        this_round = add_round(season, on=night.on, by=organiser)
        for place, names in enumerate(pairs):
            pairing = pair(
                this_round,
                entrant_ids=[entrants[name].pk for name in names],
                table=evenings.tables[place] if len(names) > 1 else None,
                scenario=scenario if len(names) > 1 else "",
                submission=submission("pairing", number, place),
                by=organiser,
            )
            if (number, names) == (2, ("Tamsin", "Jory")):
                seats = {
                    entrants["Tamsin"].pk: Unplayed.FORFEIT_WIN.value,
                    entrants["Jory"].pk: Unplayed.FORFEIT_LOSS.value,
                }
                mark_unplayed(pairing, seats=seats, by=organiser)
            elif pairing.game:
                field_rosters(pairing.game, [people[name] for name in names], rosters, scenario, names)
                if number < len(ROUNDS):
                    write_up(pairing.game, [people[name] for name in names], scenario, dice)
    unsettle(club, people)
    take_points(season, entrants["Jory"], organiser)
    return season


def field_rosters(
    game: Game, players: Sequence[Member], rosters: Mapping[str, Roster], scenario: str, names: Sequence[str]
) -> Game:
    sides = [
        SidePlan(role=side.role, member_ids=[player.pk], roster_id=rosters[name].pk)
        for side, player, name in zip(game.sides.order_by("position"), players, names, strict=True)
    ]
    return change_game(
        game, scenario=scenario, on=game.on, sides=sides, night=game.night, table=game.table, by=players[0]
    )


def write_up(game: Game, players: Sequence[Member], scenario: str, dice: random.Random) -> Report:
    """The first player files a full report, the dice are drawn, the second player confirms."""
    winner = dice.randrange(2)
    sides = [side_claim(scenario, position, won=position - 1 == winner, game=game, dice=dice) for position in (1, 2)]
    claim = ReportClaim(
        fought_on=game.on,
        rounds_played=dice.randint(5, 8),
        markers_peak=dice.randint(3, 11),
        notes=dice.choice(NOTES),
        sides=sides,
        is_full=True,
    )
    report = file_report(game, claim=claim, submission=submission("report", game.pk), by=players[0])
    draw_rolls(report, by=players[0])
    confirm_report(report, by=players[1])
    return report


NOTES = (
    "The fog held until the fourth round and hid the whole left flank.",
    "A bad morning for the Reds; the light troops saved what could be saved.",
    "Decided in the last round by one die at the landing stage.",
    "",
)


def side_claim(scenario: str, position: int, *, won: bool, game: Game, dice: random.Random) -> SideClaim:
    objectives: dict[str, int] | None
    score = None
    if scenario == "ferry_stage":
        objectives = {"stage": int(won), "flags": dice.randint(0, 1 + won), "units": dice.randint(0, 2)}
    elif scenario == "cut_reeds":
        objectives = {"carts": 3 if won else dice.randint(0, 1), "units": dice.randint(0, 2)}
    else:
        objectives, score = None, dice.randint(11, 18) if won else dice.randint(2, 10)
    casualties = losses(game.sides.get(position=position).roster, dice, heavy=not won)
    return SideClaim(position=position, score=score, objectives=objectives, casualties=casualties)


def losses(roster: Roster | None, dice: random.Random, *, heavy: bool) -> list[CasualtyLine]:
    if roster is None:
        return []
    states = states_of(roster)
    lines = []
    for unit in Unit.objects.filter(roster=roster, removed_at=None).order_by("position"):
        standing = states[unit.pk].present
        lost = min(standing, dice.choice((0, 0, 1, 2, 3) if heavy else (0, 0, 0, 1, 2)))
        if lost:
            lines.append(CasualtyLine(unit_id=unit.pk, figures_lost=lost, destroyed=lost == standing))
    return lines


def unsettle(club: Club, people: Mapping[str, Member]) -> None:
    """What happens in a real club: one result disputed, one corrected and settled, in two friendly games."""
    edition = current_edition(club.rulesets.get(name="Reeds and Ferrymen"))
    ulmar, tamsin, jory, quenna = (people[name] for name in ("Ulmar", "Tamsin", "Jory", "Quenna"))
    on = club.nights.order_by("on")[2].on
    disputed = quick_game(club, edition, on, (tamsin, jory), (12, 9))
    dispute_report(disputed, text="It was 11 to 9: the third column never left the road.", by=jory)
    corrected = quick_game(club, edition, on, (quenna, tamsin), (7, 15))
    claim = ReportClaim(
        fought_on=on,
        sides=[SideClaim(position=1, score=9), SideClaim(position=2, score=15)],
        notes="Two points found later.",
    )
    mended = correct_report(
        corrected, claim=claim, reason="Two points were left out", submission=submission("mended"), by=quenna
    )
    dispute_report(mended, text="I count seven.", by=tamsin)
    settle_report(mended, verdict=Ruling.Verdict.STANDS, text="The count sheet shows nine.", by=ulmar)


def quick_game(club: Club, edition: Edition, on: date, players: Sequence[Member], scores: Sequence[int]) -> Report:
    name = "-".join(str(player.pk) for player in players)
    game = plan_game(
        club,
        edition=edition,
        scenario="chance_meeting",
        on=on,
        sides=[
            SidePlan(member_ids=[player.pk], role=role)
            for player, role in zip(players, ("first", "second"), strict=True)
        ],
        submission=submission("game", name),
        by=players[0],
    )
    sides = [SideClaim(position=position, score=score) for position, score in enumerate(scores, 1)]
    claim = ReportClaim(fought_on=on, sides=sides)
    return file_report(game, claim=claim, submission=submission("quick", name), by=players[0])


def take_points(season: Season, entrant: Entrant, organiser: Member) -> None:
    adjust(
        season,
        entrant=entrant,
        points_x2=-1,
        reason="Did not say that he could not come",
        after_round=2,
        submission=submission("adjustment"),
        by=organiser,
    )


def plan_friendly_games(
    club: Club,
    people: Mapping[str, Member],
    rulesets: Mapping[str, Ruleset],
    rosters: Mapping[str, Roster],
    evenings: Evenings,
) -> None:
    """One game of two a side for the coming night."""
    plan_game(
        club,
        edition=current_edition(rulesets["levee_battle"]),
        scenario="breach",
        on=evenings.coming.on,
        night=evenings.coming,
        table=evenings.tables[0],
        sides=[
            SidePlan(
                member_ids=[people["Odalys"].pk, people["Gorran"].pk],
                role="attacker",
                roster_id=rosters["brigade of Odalys"].pk,
            ),
            SidePlan(
                member_ids=[people["Ulmar"].pk, people["Pell"].pk],
                role="defender",
                roster_id=rosters["brigade of Ulmar"].pk,
            ),
        ],
        note="Gorran's first big battle: explain as you go.",
        submission=submission("friendly"),
        by=people["Odalys"],
    )
