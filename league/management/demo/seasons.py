"""A season of every other format, as it stands this week: open, in divisions, knock-out, ladder, Swiss.

Those that draw lots are taken in from a document with a seed of its own, so that the demo comes out the same each time.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from itertools import cycle
from typing import Any

from league.management.demo.forces import submission
from league.management.demo.league import RULES
from league.management.demo.playing import Cast, arrange_table, play, play_round
from league.seasons.models import Entrant, Pairing, Round, Season, Unplayed
from league.seasons.queries.drafts import draft_of
from league.seasons.queries.ladders import rungs_of
from league.seasons.services.challenges import arrange_game
from league.seasons.services.divisions import start_next_season
from league.seasons.services.drafts import publish_round
from league.seasons.services.entrants import enter_each, withdraw
from league.seasons.services.formats import draw_up_rounds
from league.seasons.services.imports import import_season
from league.seasons.services.marks import mark_unplayed
from league.seasons.services.pins import pin_table
from league.seasons.services.placing import place_entrant
from league.seasons.services.postponements import postpone
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import close_season

__all__ = ["play_earlier_seasons", "play_later_seasons"]

WEEK = timedelta(weeks=1)
UPPER = ("Brannoc", "Ceriden", "Odalys", "Nessa")
LOWER = ("Ulmar", "Hesper", "Quenna", "Jory")
OPEN = ("Brannoc", "Ceriden", "Odalys", "Ulmar", "Quenna", "Tamsin", "Jory", "Gorran")
CUP = ("Brannoc", "Ceriden", "Odalys", "Ulmar", "Quenna", "Hesper", "Merrit", "Nessa")
LADDER = ("Ulmar", "Odalys", "Tamsin", "Ceriden", "Jory", "Brannoc", "Gorran")
CHALLENGES = (("Ceriden", "Tamsin"), ("Brannoc", "Tamsin"), ("Odalys", "Ulmar"), ("Brannoc", "Ceriden"))
SWISS = ("Odalys", "Ulmar", "Quenna", "Brannoc", "Ceriden", "Tamsin", "Jory", "Pell", "Hesper", "Ivo")
HOUSEHOLD = frozenset({"Tamsin", "Ivo"})
SCENARIOS = ("ferry_stage", "cut_reeds", "ferry_stage", "chance_meeting")
OPEN_GAMES = 64
OPEN_GAMES_OF_THREE = 4


def play_earlier_seasons(cast: Cast) -> None:
    """What was over, or well under way, before the league of these weeks began."""
    play_divisions(cast)
    play_open_season(cast)


def play_later_seasons(cast: Cast) -> None:
    """What goes on beside the league."""
    play_cup(cast)
    climb_ladder(cast)
    play_swiss(cast)


def document(
    cast: Cast, name: str, starts_on: date, pairing: Mapping[str, Any], entrants: Iterable[Mapping[str, Any]]
) -> dict[str, Any]:
    return {
        "format": "drumhead season 1",
        "name": name,
        "club": cast.club.name,
        "starts_on": starts_on.isoformat(),
        "seed": f"the lots of {name}",
        "rules": RULES,
        "pairing": pairing,
        "entrants": list(entrants),
        "games": [],
    }


def entry(cast: Cast, name: str, **placed: Any) -> dict[str, Any]:
    """An entrant of a document, by first name."""
    full = cast.people[name].name
    return {"id": name.lower(), "name": full, "players": [full], **placed}


def take_in(cast: Cast, told: Mapping[str, Any]) -> Season:
    return import_season(
        cast.club, document=told, ruleset=cast.ruleset, submission=submission("season", told["name"]), by=cast.organiser
    )


def entrants_by_name(season: Season) -> dict[str, Entrant]:
    return {row.name.split()[0]: row for row in season.entrants.select_related("season__club")}


def publish_next(cast: Cast, season: Season, on: date) -> Round:
    made = add_round(season, on=on, by=cast.organiser)
    return publish_round(made, seen=draft_of(made).digest, by=cast.organiser)


def play_divisions(cast: Cast) -> None:
    """A season in two divisions, played out and closed, and the one that follows from it."""
    first_day = cast.evenings.coming.on - 40 * WEEK
    divisions = [
        {"id": "upper-reach", "name": "Upper reach", "level": 1, "relegates": 1},
        {"id": "lower-reach", "name": "Lower reach", "level": 2, "promotes": 1},
    ]
    placed = [("upper-reach", UPPER), ("lower-reach", LOWER)]
    entrants = [
        entry(cast, name, division=division, seed=place)
        for division, names in placed
        for place, name in enumerate(names, 1)
    ]
    told = document(cast, "Two Reaches, the first year", first_day, {"format": "round_robin"}, entrants)
    season = take_in(cast, {**told, "divisions": divisions})
    dice = random.Random("two reaches")  # noqa: S311 - play, not secrecy
    for in_round in draw_up(cast, season, first_day, weeks=2):
        play_round(cast, in_round, dice)
    close_season(season, by=cast.organiser)
    starts_on = cast.evenings.coming.on - 2 * WEEK
    following = start_next_season(
        season,
        name="Two Reaches, the second year",
        starts_on=starts_on,
        submission=submission("second year"),
        by=cast.organiser,
    )
    for place, entrant in enumerate(following.entrants.select_related("season__club").order_by("name"), 1):
        place_entrant(entrant, division=entrant.division, seed_number=place, by=cast.organiser)
    rounds = draw_up(cast, following, starts_on, weeks=2)
    for number, in_round in enumerate(rounds):
        # The lots of this season are its own: its players settle what they play, so that the demo stays the same.
        for table, pairing in enumerate(in_round.pairings.select_related("game").order_by("position")):
            arrange_table(cast, pairing.game, scenario=SCENARIOS[(number + table) % 4], table=table)
    play_round(cast, rounds[0], dice)


def draw_up(cast: Cast, season: Season, first_day: date, *, weeks: int) -> list[Round]:
    """The three rounds of four, so many weeks apart."""
    for number in range(3):
        add_round(season, on=first_day + number * weeks * WEEK, by=cast.organiser)
    return draw_up_rounds(season, by=cast.organiser)


def play_open_season(cast: Cast) -> None:
    """Half a year of games whenever two found the time, four of them of three sides."""
    first_day = cast.evenings.coming.on - 30 * WEEK
    pairing = {"format": "open", "best_of": 6, "most_against": 3, "least_games": 4}
    season = take_in(cast, document(cast, "The Long Summer", first_day, pairing, (entry(cast, name) for name in OPEN)))
    entrants = entrants_by_name(season)
    dice = random.Random("the long summer")  # noqa: S311 - play, not secrecy
    scenarios = cycle(SCENARIOS)
    for number in range(OPEN_GAMES):
        of_three = number % (OPEN_GAMES // OPEN_GAMES_OF_THREE) == 0
        names = dice.sample(OPEN, 3 if of_three else 2)
        made = arrange(cast, season, [entrants[name] for name in names], first_day + timedelta(days=3 * number))
        scenario = "three_banks" if of_three else next(scenarios)
        arrange_table(cast, made.game, scenario=scenario, table=number % 3)
        play(cast, made, dice)


def arrange(cast: Cast, season: Season, entrants: Sequence[Entrant], on: date) -> Pairing:
    return arrange_game(
        season,
        entrant_ids=[entrant.pk for entrant in entrants],
        on=on,
        submission=submission("arranged", season.name, on),
        by=cast.organiser,
    )


def play_cup(cast: Cast) -> None:
    """Two groups of four, then a knock-out for the first and the third place: one semi-final is still to be played."""
    first_day = cast.evenings.coming.on - 11 * WEEK
    pairing = {"format": "groups_knockout", "third_place": True, "groups": 2, "advance": 2}
    entrants = (entry(cast, name, seed=place) for place, name in enumerate(CUP, 1))
    season = take_in(cast, document(cast, "The Lock Cup", first_day, pairing, entrants))
    dice = random.Random("the lock cup")  # noqa: S311 - play, not secrecy
    for number in range(3):
        play_round(cast, publish_next(cast, season, first_day + number * 2 * WEEK), dice)
    play_round(cast, publish_next(cast, season, cast.evenings.coming.on - WEEK), dice, but=1)


def climb_ladder(cast: Cast) -> None:
    """A few challenges, and one that is agreed on."""
    first_day = cast.evenings.coming.on - 8 * WEEK
    entrants = (entry(cast, name, seed=place) for place, name in enumerate(LADDER, 1))
    season = take_in(cast, document(cast, "The Towpath Ladder", first_day, {"format": "ladder", "reach": 3}, entrants))
    rungs = entrants_by_name(season)
    dice = random.Random("the towpath ladder")  # noqa: S311 - play, not secrecy
    for number, names in enumerate(CHALLENGES):
        made = arrange(cast, season, [rungs[name] for name in names], first_day + number * WEEK)
        arrange_table(cast, made.game, scenario=SCENARIOS[number % 2], table=number % 3, with_rosters=False)
        play(cast, made, dice)
    lowest = rungs_of(season)[-1]
    arrange(cast, season, [lowest.entrant, lowest.may_challenge[0]], cast.evenings.coming.on + WEEK)


def play_swiss(cast: Cast) -> None:
    """Three rounds played and a fourth in draft, with everything that happens to organisers: one who comes late, one
    who leaves, one who does not turn up, a game put off, two of one household, a newcomer.
    """
    days = [night.on - timedelta(days=3) for night in cast.evenings.past]
    entrants = [
        entry(cast, name, **({"party": "Ferry Lane"} if name in HOUSEHOLD else {}), newcomer=name == "Pell")
        for name in SWISS
    ]
    pairing = {"format": "swiss", "rounds": 5}
    season = take_in(cast, document(cast, "The Sluice Rounds", days[0], pairing, entrants))
    dice = random.Random("the sluice rounds")  # noqa: S311 - play, not secrecy
    play_round(cast, publish_next(cast, season, days[0]), dice)
    enter_each(season, member_ids=[cast.people["Merrit"].pk], by=cast.organiser)
    second = publish_next(cast, season, days[1])
    stay_away(cast, second)
    play_round(cast, second, dice)
    withdraw(entrants_by_name(season)["Jory"], reason="Works nights this month", by=cast.organiser)
    third = publish_next(cast, season, days[2])
    put_off(cast, third)
    play_round(cast, third, dice, but=1)
    fourth = add_round(season, on=cast.evenings.coming.on, note="Bring the reed beds", by=cast.organiser)
    pin_table(
        fourth, entrant_id=entrants_by_name(season)["Quenna"].pk, table=cast.evenings.tables[0], by=cast.organiser
    )


def last_game(in_round: Round) -> Pairing:
    games = in_round.pairings.filter(game__isnull=False).select_related("round__season__club")
    return games.order_by("-position")[0]


def stay_away(cast: Cast, in_round: Round) -> None:
    """The last game of the round has no second side."""
    pairing = last_game(in_round)
    came, stayed = pairing.seats.order_by("position").values_list("entrant_id", flat=True)
    seats = {came: Unplayed.FORFEIT_WIN.value, stayed: Unplayed.FORFEIT_LOSS.value}
    mark_unplayed(pairing, seats=seats, by=cast.organiser)


def put_off(cast: Cast, in_round: Round) -> None:
    postpone(last_game(in_round), until=cast.evenings.coming.on + WEEK, by=cast.organiser)
