"""What the reports say about scenarios, factions and tables, and what they are careful not to say."""

from __future__ import annotations

from datetime import date, timedelta
from uuid import uuid4

import pytest

from league.battles.queries.balance import balance_of
from league.battles.services.answers import dispute_report
from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import GamePlan, SidePlan
from league.battles.services.reports import log_game
from tests import factories
from tests.battle_play import play_quick_game

pytestmark = pytest.mark.django_db

DAY = date(2026, 1, 10)


@pytest.fixture
def fight(club):
    """A game of the scenario with an attacker and a defender; the attacker is named second, as it happens."""
    edition = factories.EditionFactory(ruleset__club=club, ruleset__name="Reeds")

    def play(attacker, defender, *, scores=(9, 2), day=0, table=None, rosters=(None, None)):
        sides = [
            SidePlan(member_ids=[defender.pk], role="defender", roster_id=rosters[1]),
            SidePlan(member_ids=[attacker.pk], role="attacker", roster_id=rosters[0]),
        ]
        on = DAY + timedelta(days=day)
        plan = GamePlan(edition=edition, scenario="ferry_stage", on=on, table=table, sides=sides)
        claims = [SideClaim(position=1, score=scores[1]), SideClaim(position=2, score=scores[0])]
        claim = ReportClaim(fought_on=on, sides=claims)
        return log_game(club, plan=plan, claim=claim, submission=uuid4(), by=attacker)

    play.edition = edition
    return play


@pytest.fixture
def people(club):
    return factories.MemberFactory.create_batch(8, club=club)


def pairs(people, games):
    """Everybody attacks and defends about as often as everybody else."""
    for number in range(games):
        first = number % len(people)
        yield people[first], people[(first + 1 + number // len(people)) % len(people)]


def test_the_share_is_the_attackers_whoever_is_named_first_in_the_report(club, fight, member, opponent):
    fight(member, opponent, scores=(9, 2))
    fight(opponent, member, scores=(5, 5))
    (line,) = balance_of(club).scenarios
    assert (line.name, line.side, line.ruleset) == ("The Ferry Stage", "Attacker", "Reeds")
    assert (line.wins, line.draws, line.losses, line.share) == (1, 1, 0, 0.75)


def test_wilsons_interval_stands_beside_the_share(club, fight, people):
    """One of one, by the formula of method 3 in R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872:
    z^2 = 3.8415, low = 1 / (1 + z^2) = 0.2065."""
    fight(people[0], people[1])
    (line,) = balance_of(club).scenarios
    assert (round(line.interval.low, 4), line.interval.high) == (0.2065, 1)


def test_one_sided_results_of_a_few_games_are_called_too_few(club, fight, people):
    for number, (attacker, defender) in enumerate(pairs(people, 9)):
        fight(attacker, defender, day=number)
    (line,) = balance_of(club).scenarios
    assert line.interval.low > 0.5
    assert line.finding == "few"


def test_a_scenario_that_attackers_win_whoever_they_are_is_uneven(club, fight, people):
    for number, (attacker, defender) in enumerate(pairs(people, 24)):
        fight(attacker, defender, day=number)
    (line,) = balance_of(club).scenarios
    assert line.finding == "uneven"
    assert line.fair_interval.low > 0.5


def test_nothing_is_called_uneven_while_even_odds_are_possible(club, fight, people):
    for number, (attacker, defender) in enumerate(pairs(people, 16)):
        fight(attacker, defender, scores=(9, 2) if number % 2 else (2, 9), day=number)
    (line,) = balance_of(club).scenarios
    assert 0.5 in line.interval
    assert line.finding == "even"


def test_a_good_players_favourite_scenario_is_not_called_unfair(club, fight, people):
    """One wins everything, attacking or not, and likes to attack here."""
    champion, *others = people
    for number in range(14):
        fight(champion, others[number % 7], day=number)
    for number in range(14):
        play_quick_game(champion, others[number % 7], on=DAY + timedelta(days=20 + number))
    (line,) = balance_of(club).scenarios
    assert line.share == 1
    assert line.finding == "players"


def test_a_game_without_roles_says_nothing_about_scenario_or_table(club, member, opponent):
    play_quick_game(member, opponent)
    told = balance_of(club)
    assert (told.games, told.scenarios, told.tables) == (1, (), ())


def test_factions_are_counted_one_against_another(club, fight, member, opponent):
    reeds, levee = (
        factories.RosterFactory(owner=who, ruleset=fight.edition.ruleset, faction=name).pk
        for who, name in ((member, "Reed Folk"), (opponent, "Levee Guard"))
    )
    fight(member, opponent, rosters=(reeds, levee))
    (line,) = balance_of(club).factions
    assert (line.side, line.name, line.share) == ("Levee Guard", "Reed Folk", 0)


def test_tables_are_named_by_their_venue(club, fight, member, opponent):
    table = factories.TableFactory(venue__club=club, venue__name="The boat shed", number=3)
    fight(member, opponent, table=table)
    (line,) = balance_of(club).tables
    assert (line.name, line.games) == ("The boat shed, 3", 1)


def test_disputed_reports_say_nothing(club, fight, member, opponent):
    dispute_report(fight(member, opponent), text="It was otherwise.", by=opponent)
    assert balance_of(club).games == 0


# --- the page and the API ---------------------------------------------------------------------------


def test_the_page_tells_share_interval_and_how_few_games_there_are(browse, club, fight, member, opponent):
    fight(member, opponent)
    page = browse(member).get(f"/clubs/{club.slug}/balance/").content.decode()
    assert "100 % (21–100)" in page
    assert "too few games to say" in page


def test_the_page_names_the_side_that_has_it_easier(browse, club, fight, people):
    for number, (attacker, defender) in enumerate(pairs(people, 24)):
        fight(attacker, defender, day=number)
    assert "favours Attacker" in browse(people[0]).get(f"/clubs/{club.slug}/balance/").content.decode()


def test_an_empty_page_says_what_will_stand_there(browse, club, member):
    page = browse(member).get(f"/clubs/{club.slug}/balance/").content.decode()
    assert "No game between two factions has been reported yet." in page


def test_strangers_do_not_read_it(browse, club):
    club.is_public = True
    club.save(update_fields=["is_public"])
    assert browse(None).get(f"/clubs/{club.slug}/balance/").status_code in {302, 404}


@pytest.mark.parametrize("games", [1, 3])
def test_the_page_takes_the_same_queries_however_many_games(
    browse, club, fight, member, opponent, games, django_assert_num_queries
):
    for number in range(games):
        fight(member, opponent, day=number)
    client = browse(member)
    # session, user, club, member; four for the results; editions, sides, games
    with django_assert_num_queries(11):
        client.get(f"/clubs/{club.slug}/balance/")


def test_the_api_gives_the_same_lines(call, club, fight, member, opponent):
    fight(member, opponent)
    body = call(member).get(f"/api/v1/clubs/{club.slug}/balance/").json()
    assert body["games"] == 1
    assert [(one["name"], one["side"], one["finding"]) for one in body["scenarios"]] == [
        ("The Ferry Stage", "Attacker", "few")
    ]
