"""The forecast of a season: what it says, to whom, and that it is reckoned once."""

from __future__ import annotations

import uuid
from datetime import date

import pytest
from django.core.cache import cache

from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.reports import correct_report
from league.engines.documents import season_foretold
from league.engines.forecast import Case, Condition, Fixture
from league.engines.standings import Bonus
from league.seasons.queries.forecast import forecast_of, needs_from
from league.seasons.queries.forecast_words import bands_of, chance_words, condition_words, lines_of
from league.seasons.services.adjustments import adjust
from league.seasons.services.imports import import_season
from league.seasons.services.pairings import pair
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import close_season
from tests import factories
from tests.battle_play import play_quick_game
from tests.seasons.conftest import RULES
from tests.seasons.drafted import fill, next_round, play
from tests.seasons.test_running_a_season import report

TODAY = date(2026, 3, 31)


@pytest.fixture(autouse=True)
def nothing_kept():
    cache.clear()


@pytest.fixture
def season_of(season, cast, organiser):
    """Two rounds of four entrants: the first played (Brannoc and Gorran won), the second open."""
    first, second = (add_round(season, on=day, by=organiser) for day in (date(2026, 1, 22), date(2026, 2, 5)))

    def meet(in_round, *names):
        return pair(in_round, entrant_ids=[cast[name].pk for name in names], submission=uuid.uuid4(), by=organiser)

    filed = [
        report(meet(first, "Brannoc", "Ceriden"), 12, 7, by=organiser),
        report(meet(first, "Gorran", "Ulmar"), 10, 9, by=organiser),
    ]
    open_games = [meet(second, "Brannoc", "Gorran"), meet(second, "Ceriden", "Ulmar")]
    return {"season": season, "filed": filed, "open": open_games}


def title(forecast) -> dict[str, float]:
    return {each.entrant_id: each.chance for each in forecast.told.aims[0].chances}


def verdicts(forecast) -> dict[str, str]:
    return dict(zip(forecast.told.ids, forecast.told.aims[0].verdicts, strict=True))


def test_the_odds_of_the_title_add_up_to_one(season_of):
    assert sum(title(forecast_of(season_of["season"], today=TODAY)).values()) == pytest.approx(1)


def test_who_cannot_come_first_any_more_is_out_for_certain(season_of):
    """Three points for a win: Ceriden and Ulmar can reach three, one of the two above them will have more."""
    found = verdicts(forecast_of(season_of["season"], today=TODAY))
    assert found == {"brannoc": "open", "gorran": "open", "ceriden": "out", "ulmar": "out"}


def test_the_forecast_of_a_finished_season_is_its_table(season_of, organiser):
    report(season_of["open"][0], 5, 11, by=organiser)
    report(season_of["open"][1], 8, 2, by=organiser)
    found = forecast_of(season_of["season"], today=TODAY)
    assert found.told.is_over
    assert title(found) == {"gorran": 1, "brannoc": 0, "ceriden": 0, "ulmar": 0}
    assert [row.index(1) for row in found.told.places] == [0, 1, 2, 3]


def test_a_closed_season_is_over_whatever_was_not_played(season_of, organiser):
    close_season(season_of["season"], by=organiser)
    found = forecast_of(season_of["season"], today=TODAY)
    assert found.told.is_over
    assert title(found)["brannoc"] == 1


def test_a_corrected_report_is_another_forecast(season_of, member):
    before = forecast_of(season_of["season"], today=TODAY)
    claim = ReportClaim(
        fought_on=date(2026, 1, 22), sides=[SideClaim(position=1, score=3), SideClaim(position=2, score=9)]
    )
    correct_report(season_of["filed"][0], claim=claim, reason="Sides mixed up", submission=uuid.uuid4(), by=member)
    after = forecast_of(season_of["season"], today=TODAY)
    assert (verdicts(before)["brannoc"], verdicts(before)["ceriden"]) == ("open", "out")
    assert (verdicts(after)["brannoc"], verdicts(after)["ceriden"]) == ("level_at_best", "open")


def test_the_stronger_by_the_clubs_ratings_has_the_better_odds(season_of, member, guest):
    for day in range(1, 6):
        play_quick_game(member, guest, on=date(2026, 1, day))
    chances = title(forecast_of(season_of["season"], today=TODAY))
    assert chances["brannoc"] > chances["gorran"]


def test_looked_at_again_nothing_is_reckoned_anew(season_of, monkeypatch):
    first = forecast_of(season_of["season"], today=TODAY)
    monkeypatch.setattr(season_foretold, "exact_odds", None)
    assert forecast_of(season_of["season"], today=TODAY).told == first.told


def test_points_taken_by_hand_make_another_forecast(season_of, organiser, cast):
    forecast_of(season_of["season"], today=TODAY)
    adjust(
        season_of["season"],
        entrant=cast["Brannoc"],
        points_x2=-12,
        reason="Left the tables standing",
        submission=uuid.uuid4(),
        by=organiser,
    )
    assert verdicts(forecast_of(season_of["season"], today=TODAY))["brannoc"] == "out"


def test_the_same_season_gives_the_same_odds_after_the_cache_is_lost(season_of, organiser):
    add_round(season_of["season"], on=date(2026, 3, 1), by=organiser)
    first = forecast_of(season_of["season"], today=TODAY)
    assert first.told.seasons == 20_000
    cache.clear()
    assert forecast_of(season_of["season"], today=TODAY).told == first.told


def test_the_winner_of_the_last_game_between_the_two_in_front_has_the_title(season_of):
    found = forecast_of(season_of["season"], today=TODAY)
    (need,) = needs_from(found, "brannoc")
    assert [(case.outcome, case.verdict) for case in need.cases] == [
        ("win", "through"),
        ("draw", "level"),
        ("loss", "out"),
    ]


# --- words ---------------------------------------------------------------------------------------


NAMES = {"a": "Brannoc", "b": "Ceriden", "c": "Gorran", "d": "Ulmar"}
FIXTURES = {
    "1": Fixture(id="1", first="a", second="b"),
    "2": Fixture(id="2", first="c", second="d"),
}


def case(outcome, verdict, *, bonuses=(), ifs=(), level=False):
    return Case(outcome=outcome, bonuses=bonuses, points_x2=0, verdict=verdict, ifs=ifs, level=level)


@pytest.mark.parametrize(
    ("outcomes", "words"),
    [
        (("win",), "Gorran beats Ulmar"),
        (("loss",), "Ulmar beats Gorran"),
        (("draw",), "Gorran and Ulmar draw"),
        (("draw", "loss"), "Gorran does not beat Ulmar"),
        (("win", "draw"), "Ulmar does not beat Gorran"),
        (("win", "loss"), "Gorran and Ulmar do not draw"),
    ],
)
def test_a_condition_on_another_game_reads_as_a_sentence(outcomes, words):
    assert condition_words(Condition(fixture_id="2", outcomes=outcomes), FIXTURES["2"], NAMES) == words


def test_conditions_together_and_in_turn_are_told_apart():
    both = (Condition(fixture_id="2", outcomes=("win",)), Condition(fixture_id="1", outcomes=("loss",)))
    one = (Condition(fixture_id="2", outcomes=("draw",)),)
    (line,) = lines_of([case("draw", "open", ifs=(one, both))], FIXTURES, NAMES)
    assert line == ("A draw: certain if Gorran and Ulmar draw, or if Gorran beats Ulmar and Ceriden beats Brannoc.")


def test_bonuses_are_named_only_where_they_matter():
    flags = Bonus(kind="count_at_least", points_x2=1, threshold=2, count="flags", name="Two flags")
    same = [case("win", "through", bonuses=(flags,)), case("win", "through")]
    other = [case("win", "through", bonuses=(flags,)), case("win", "out")]
    assert lines_of(same, FIXTURES, NAMES) == ["A win: certain, whatever the others do."]
    assert lines_of(other, FIXTURES, NAMES) == [
        "A win with Two flags: certain, whatever the others do.",
        "A win without a bonus: out of reach.",
    ]


@pytest.mark.parametrize(
    ("chance", "words"), [(0, "0 %"), (0.001, "<1 %"), (0.5, "50 %"), (0.999, ">99 %"), (1, "100 %")]
)
def test_what_is_not_sure_never_reads_as_if_it_were(chance, words):
    assert chance_words(chance) == words


def test_the_lower_places_of_a_large_field_are_taken_together():
    assert bands_of(4) == [(1, 1), (2, 2), (3, 3), (4, 4)]
    assert bands_of(20) == [(1, 1), (2, 2), (3, 3), (4, 8), (9, 16), (17, 20)]


# --- pages -----------------------------------------------------------------------------------------


@pytest.fixture
def address(season_of):
    return f"/clubs/weir-street/seasons/{season_of['season'].pk}/forecast/"


def text_of(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_ones_own_next_game_is_explained_without_asking(browse, address, member):
    page = text_of(browse(member).get(address))
    assert "What Brannoc needs" in page
    assert "Next: round 2, against Gorran. <strong>A win is enough.</strong>" in page
    assert "<li>A draw: down to the tie-breaks.</li>" in page


def test_anybody_elses_is_explained_on_request(browse, address, cast, organiser):
    page = text_of(browse(organiser).get(address, {"entrant": cast["Gorran"].pk}))
    assert "What Gorran needs" in page


def test_the_page_says_that_every_possible_season_was_counted(browse, address, member):
    assert "Every possible rest of the season was counted" in text_of(browse(member).get(address))


def test_the_page_says_how_many_seasons_were_drawn_and_how_exact_that_is(browse, address, season_of, organiser):
    add_round(season_of["season"], on=date(2026, 3, 1), by=organiser)
    page = text_of(browse(organiser).get(address))
    assert "20000 seasons were drawn by lot" in page
    assert "95 times in 100" in page
    assert "1 round is still to be drawn" in page


def test_every_shaded_cell_has_its_number(browse, address, member):
    page = browse(member).get(address).content.decode()
    cells = [part.split("</td>")[0] for part in page.split('class="heat-')[1:]]
    assert cells
    assert all("%" in cell for cell in cells)


def test_a_finished_season_is_said_to_be_finished(browse, address, season_of, member, organiser):
    for game in season_of["open"]:
        report(game, 6, 2, by=organiser)
    page = text_of(browse(member).get(address))
    assert "Nothing is left to play" in page
    assert "Brannoc needs" not in page


def test_a_season_without_entrants_says_so(browse, season, member):
    page = text_of(browse(member).get(f"/clubs/weir-street/seasons/{season.pk}/forecast/"))
    assert "Nobody takes part yet." in page


def test_a_knockout_says_who_may_still_win_it(browse, season, organiser, member):
    fill(season, 4, by=organiser, pairing={"format": "knockout"})
    play(next_round(season, by=organiser), by=organiser)
    page = text_of(browse(member).get(f"/clubs/weir-street/seasons/{season.pk}/forecast/"))
    assert "In the final" in page
    assert "follows from the bracket" in page
    assert "What does this entrant need?" not in page


def test_a_knockout_waits_for_its_groups_to_be_foretold(browse, season, organiser, member):
    fill(season, 4, by=organiser, pairing={"format": "groups_knockout", "groups": 2, "advance": 1})
    page = text_of(browse(member).get(f"/clubs/weir-street/seasons/{season.pk}/forecast/"))
    assert "The knock-out is forecast once its groups are over." in page


def test_a_knockout_that_is_won_is_over(season, organiser):
    entrants = fill(season, 2, by=organiser, pairing={"format": "knockout"})
    final = next_round(season, by=organiser)
    play(final, by=organiser)
    told = forecast_of(season, today=TODAY)
    assert told.told.is_over
    assert sorted(title(told).values()) == [0, 1]
    assert set(title(told)) == {entrant.key for entrant in entrants}


def test_a_stranger_reads_no_name_that_is_not_public(browse, club, address, member):
    club.is_public = True
    club.save(update_fields=["is_public"])
    page = text_of(browse(None).get(address))
    assert "Brannoc" not in page
    assert "Entrant" in page or "Player" in page


@pytest.mark.parametrize("more", [1, 3])
def test_the_page_takes_the_same_queries_however_many_play(
    browse, address, season_of, organiser, more, django_assert_num_queries
):
    for _each in range(more):
        factories.EntrantFactory(season=season_of["season"])
    client = browse(organiser)
    # session, user, club, member; the season; ten for its document; five for the ratings; own, names and numbers
    with django_assert_num_queries(23):
        client.get(address)


# --- the API -----------------------------------------------------------------------------------------


def test_the_api_gives_odds_verdicts_and_needs(call, season_of, member):
    body = (
        call(member)
        .get(f"/api/v1/clubs/weir-street/seasons/{season_of['season'].pk}/forecast/", {"entrant": "brannoc"})
        .json()
    )
    first = body["entrants"][0]
    assert (body["reasons"], body["simulations"], len(body["fixtures"])) == ([], 0, 2)
    assert (first["entrant"], first["aims"][0]["verdict"]) == ("brannoc", "open")
    assert sum(first["places"]) == pytest.approx(1)
    assert [each["verdict"] for each in body["needs"][0]["cases"]] == ["through", "level", "out"]


def test_the_api_says_why_nothing_is_foretold(call, season, member):
    body = call(member).get(f"/api/v1/clubs/weir-street/seasons/{season.pk}/forecast/").json()
    assert body["reasons"] == ["Nobody takes part yet."]
    assert body["entrants"] == []


def test_the_api_knows_no_needs_of_one_who_does_not_take_part(call, season_of, member):
    address = f"/api/v1/clubs/weir-street/seasons/{season_of['season'].pk}/forecast/"
    assert call(member).get(address, {"entrant": "nobody"}).status_code == 404


def test_a_full_cache_throws_out_forecasts_before_the_limits_of_signing_in(season_of, monkeypatch):
    """Django's database cache culls by name (from its source); the sign-in package's names begin with "allauth"."""
    kept = []

    class Cache:
        def get_or_set(self, key, make, _seconds):
            kept.append(key)
            return make()

    monkeypatch.setattr("league.seasons.queries.forecast.cache", Cache())
    needs_from(forecast_of(season_of["season"], today=TODAY), "brannoc")
    assert len(kept) == 2
    assert all(key < "allauth" for key in kept)


def test_each_division_has_a_forecast_of_its_own(browse, club, ruleset, organiser):
    names = ["Brannoc Tull", "Ceriden Voss", "Gorran Pike", "Ulmar Penrick"]
    document = {
        "format": "drumhead season 1",
        "name": "Two divisions",
        "starts_on": "2026-01-15",
        "seed": "two",
        "rules": RULES,
        "divisions": [
            {"id": "upper", "name": "Upper reach", "level": 1, "relegates": 1},
            {"id": "lower", "name": "Lower reach", "level": 2, "promotes": 1},
        ],
        "entrants": [
            {"id": f"e{number}", "name": name, "players": [name], "division": "upper" if number < 2 else "lower"}
            for number, name in enumerate(names)
        ],
        "rounds": [{"number": 1, "on": "2026-01-22"}],
        "games": [
            {"id": "u", "round": 1, "sides": [{"entrant": "e0"}, {"entrant": "e1"}]},
            {"id": "l", "round": 1, "sides": [{"entrant": "e2"}, {"entrant": "e3"}]},
        ],
    }
    season = import_season(club, document=document, ruleset=ruleset, submission=uuid.uuid4(), by=organiser)
    address = f"/clubs/weir-street/seasons/{season.pk}/forecast/"
    upper = browse(organiser).get(address).context["told"]
    lower = browse(organiser).get(address, {"division": "lower"}).context["told"]
    assert (set(upper.ids), [aim.name for aim in upper.aims]) == ({"e0", "e1"}, ["title", "staying_up"])
    assert (set(lower.ids), [aim.name for aim in lower.aims]) == ({"e2", "e3"}, ["title", "promotion"])
