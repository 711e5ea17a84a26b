"""The pages of games and reports: who gets in, what they show, what they keep when refused."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from league.battles.models import Game, Report
from league.battles.queries.reports import state_of
from league.battles.services.dice import draw_rolls
from league.battles.services.games import SidePlan
from league.battles.services.reports import correct_report, file_report
from tests import factories

PEOPLE = ["member", "opponent", "umpire", "organiser", "quartermaster", "outsider", None]
# What each of PEOPLE gets from a page: every member reads, few act, other clubs and the signed-out find nothing.
READ = [200, 200, 200, 200, 200, 404, 302]
FILE = [200, 200, 200, 200, 403, 404, 302]
CHANGE = [200, 200, 403, 200, 403, 404, 302]
ANSWER = [403, 200, 403, 403, 403, 404, 302]
SETTLE = [403, 403, 200, 403, 403, 404, 302]


def at(name, club, **kwargs):
    return reverse(name, kwargs={"club": club.slug, **kwargs})


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("games", READ),
        ("game", READ),
        ("log", READ),
        ("game-new", READ),
        ("game-edit", CHANGE),
        ("game-cancel", CHANGE),
        ("game-rosters", FILE),
        ("report-new", FILE),
        ("photo-new", FILE),
        ("report", READ),
        ("rolls", READ),
        ("report-correct", FILE),
        ("report-dispute", ANSWER),
        ("report-settle", SETTLE),
    ],
)
def test_every_page_lets_in_whom_it_should(name, expected, request, club, report, plan, browse):
    row = {"pk": report.pk} if name.startswith(("report", "rolls")) and name != "report-new" else {"pk": plan().pk}
    address = at(name, club, **({} if name in {"games", "log", "game-new"} else row))
    got = [browse(request.getfixturevalue(who) if who else None).get(address).status_code for who in PEOPLE]
    assert got == expected


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("game-start", [302, 302, 302, 302, 403, 404, 302]),
        ("report-confirm", [403, 302, 403, 403, 403, 404, 302]),
        ("rolls-draw", [302, 302, 302, 302, 403, 404, 302]),
    ],
)
def test_every_button_works_for_whom_it_should(name, expected, request, club, report, plan, browse):
    address = at(name, club, pk=plan().pk if name == "game-start" else report.pk)
    got = [browse(request.getfixturevalue(who) if who else None).post(address).status_code for who in PEOPLE]
    assert got == expected


@pytest.mark.parametrize("name", ["game-start", "report-confirm", "rolls-draw"])
def test_a_button_is_no_link(name, club, report, game, browse, opponent):
    pk = game.pk if name == "game-start" else report.pk
    assert browse(opponent).get(at(name, club, pk=pk)).status_code == 405


def test_a_game_is_found_under_its_own_club_only(game, browse, outsider, other_club):
    assert browse(outsider).get(at("game", other_club, pk=game.pk)).status_code == 404


# --- the quick log -----------------------------------------------------------------------------------------


@pytest.fixture
def quick(club, edition, member, opponent, browse):
    """Send the quick log's form as Brannoc."""

    def sent(*, client=None, **data):
        data = {
            "submission": str(uuid4()),
            "opponent": opponent.pk,
            "my_score": "5",
            "their_score": "2",
            "scenario": f"{edition.pk}:ferry_stage",
            "on": timezone.localdate().isoformat(),
            **data,
        }
        return (client or browse(member)).post(at("log", club), data)

    return sent


def test_a_result_is_logged_in_one_go(quick, club):
    response = quick()
    report = Report.objects.get()
    assert response.url == at("report", club, pk=report.pk)
    assert [row.outcome for row in report.results.order_by("side__position")] == ["win", "loss"]


def test_the_page_says_afterwards_who_won(quick, browse, member):
    response = browse(member).get(quick().url)
    assert "Brannoc won." in response.content.decode()


def test_a_double_tap_is_one_game(quick):
    submission = str(uuid4())
    assert quick(submission=submission).url == quick(submission=submission).url
    assert Game.objects.count() == 1


def test_a_score_the_scenario_cannot_give_is_refused_and_stays_in_the_form(quick):
    response = quick(my_score="99", their_score="-1")
    page = response.content.decode()
    assert response.status_code == 422
    assert "the scenario gives 13 at most, not 99" in page
    assert "a score cannot be below nought" in page
    assert 'value="99"' in page
    assert not Game.objects.exists()


def test_an_empty_quick_log_says_what_to_do(quick):
    page = quick(opponent="", my_score="", their_score="").content.decode()
    assert "Choose your opponent." in page
    assert "Enter your score." in page
    assert "Enter your opponent&#x27;s score." in page


def test_a_guest_can_be_the_opponent(quick, guest):
    quick(opponent=guest.pk)
    assert Game.objects.get().players.filter(member=guest).exists()


def test_someone_of_another_club_cannot_be_the_opponent(quick, outsider):
    assert quick(opponent=outsider.pk).status_code == 422


def test_those_coming_tonight_are_offered_first(club, edition, member, opponent, guest, browse):
    night = factories.NightFactory(club=club, on=timezone.localdate())
    night.attendance.create(member=opponent, answer="coming", said_at=timezone.now())
    form = browse(member).get(at("log", club)).context["form"]
    assert [(str(words), [name for _pk, name in people]) for words, people in form.fields["opponent"].choices] == [
        ("Here tonight", ["Ceriden"]),
        ("Everybody", ["Gorran"]),
    ]


def test_the_people_met_lately_come_before_the_others(club, member, opponent, guest, report, browse):
    form = browse(member).get(at("log", club)).context["form"]
    assert [str(words) for words, _people in form.fields["opponent"].choices] == ["Met lately", "Everybody"]


def test_the_scenario_fought_last_is_chosen_already(club, edition, member, report, browse):
    form = browse(member).get(at("log", club)).context["form"]
    assert form["scenario"].value() == f"{edition.pk}:ferry_stage"


def test_a_game_logged_on_a_club_night_belongs_to_it(quick, club):
    night = factories.NightFactory(club=club, on=timezone.localdate())
    quick()
    assert Game.objects.get().night == night


def test_a_game_planned_for_today_is_offered_for_its_report(plan, club, member, browse):
    game = plan(on=timezone.localdate())
    assert at("report-new", club, pk=game.pk) in browse(member).get(at("log", club)).content.decode()


# --- the plan ----------------------------------------------------------------------------------------------


def plan_data(edition, *players, **data):
    sides = {}
    for index, player in enumerate(players):
        sides |= {f"sides.{index}-player": player.pk, f"sides.{index}-role": "", f"sides.{index}-roster_id": ""}
    return {
        "submission": str(uuid4()),
        "on": "2026-03-26",
        "scenario": f"{edition.pk}:ferry_stage",
        "count": len(players),
        **sides,
        **data,
    }


def test_a_game_is_planned_with_its_sides(club, edition, member, opponent, roster, browse):
    data = plan_data(edition, member, opponent, **{"sides.0-role": "attacker", "sides.0-roster_id": roster.pk})
    response = browse(member).post(at("game-new", club), data)
    game = Game.objects.get()
    assert response.url == at("game", club, pk=game.pk)
    first, second = game.sides.order_by("position")
    assert (first.role, first.roster, second.roster) == ("attacker", roster, None)


def test_a_side_may_have_several_players(club, edition, member, opponent, guest, browse):
    data = plan_data(edition, member, opponent, **{"sides.1-others": [guest.pk]})
    browse(member).post(at("game-new", club), data)
    second = Game.objects.get().sides.get(position=2)
    assert [player.member for player in second.players.order_by("pk")] == [opponent, guest]


def test_another_side_is_added_without_scripts_and_without_complaints(club, edition, member, opponent, browse):
    data = plan_data(edition, member, opponent, add_side="1", note="Bring the ferry.")
    response = browse(member).post(at("game-new", club), data)
    page = response.content.decode()
    assert response.status_code == 200
    assert page.count("<legend>Side ") == 3
    assert "Bring the ferry." in page
    assert "There is a problem" not in page
    assert not Game.objects.exists()


def test_three_sides_are_planned(club, edition, member, opponent, guest, browse):
    data = plan_data(edition, member, opponent, guest, scenario=f"{edition.pk}:three_banks")
    browse(member).post(at("game-new", club), data)
    assert Game.objects.get().sides.count() == 3


def test_every_fault_of_a_plan_is_shown_and_what_was_typed_is_kept(club, edition, member, their_roster, browse):
    data = plan_data(edition, member, member, **{"sides.0-roster_id": their_roster.pk, "note": "Bring the ferry."})
    response = browse(member).post(at("game-new", club), data)
    page = response.content.decode()
    assert response.status_code == 422
    assert "Brannoc can play once in a game only." in page
    assert "Brune wardens can take the field only with its owner on this side." in page
    assert "Bring the ferry." in page


def test_the_plan_is_changed_but_not_its_players(club, plan, edition, member, browse):
    game = plan()
    data = {"on": "2026-04-02", "scenario": f"{edition.pk}:cut_reeds", "sides.0-role": "raiders"}
    browse(member).post(at("game-edit", club, pk=game.pk), data)
    game.refresh_from_db()
    assert (game.on, game.scenario, game.sides.get(position=1).role) == (date(2026, 4, 2), "cut_reeds", "raiders")
    assert game.players.count() == 2


def test_a_plan_is_cancelled_after_a_question(club, plan, member, browse):
    game = plan()
    browse(member).post(at("game-cancel", club, pk=game.pk))
    game.refresh_from_db()
    assert game.cancelled_at is not None


# --- the full report ---------------------------------------------------------------------------------------


@pytest.fixture
def full(club, game, member, roster, browse):
    """Send the full report's form as Brannoc; `lost` is what the first reeds lost."""

    def sent(*, lost="3", **data):
        unit = roster.units.get(name="First reeds").pk
        data = {
            "submission": str(uuid4()),
            "fought_on": "2026-03-19",
            "sides.0.score": "5",
            "sides.1.score": "2",
            f"sides.0.unit.{unit}.figures_lost": lost,
            **data,
        }
        return browse(member).post(at("report-new", club, pk=game.pk), data)

    return sent


def test_a_full_report_tells_casualties_unit_by_unit(full, roster):
    full(rounds_played="6", markers_peak="11", notes="It rained.")
    report = Report.objects.get()
    assert (report.rounds_played, report.markers_peak, report.notes, report.is_full) == (6, 11, "It rained.", True)
    assert report.results.get(side__position=1).engagement.casualties.get().figures_lost == 3


def test_destroyed_without_a_number_means_all_who_stood(full, roster):
    unit = roster.units.get(name="Towpath men").pk
    full(lost="", **{f"sides.0.unit.{unit}.destroyed": "on"})
    result = Report.objects.get().results.get(side__position=1)
    assert (result.engagement.casualties.get().figures_lost, result.value_lost) == (6, 30)


def test_objectives_are_counted_into_the_score(full):
    full(**{"sides.0.score": "", "sides.0.objectives.stage": "1", "sides.0.objectives.flags": "2"})
    assert Report.objects.get().results.get(side__position=1).score == 7


def test_a_refused_report_shows_every_reason_at_its_place_and_keeps_what_was_typed(full):
    response = full(lost="9", rounds_played="99", notes="It rained.", **{"sides.1.score": "50"})
    form, page = response.context["form"], response.content.decode()
    assert response.status_code == 422
    assert [name for name in form.errors if form.errors[name]] == [
        "rounds_played",
        "sides.1.score",
        next(name for name in form.errors if name.endswith(".figures_lost")),
    ]
    assert "9 figures lost, but only 8 stood there" in page
    assert 'value="9"' in page
    assert "It rained." in page


def test_the_strength_each_unit_stands_at_is_shown(club, report, plan, member, browse):
    page = browse(member).get(at("report-new", club, pk=plan().pk)).content.decode()
    assert "5 of 8 stood there" in page


def test_notes_are_plain_text(full, club, member, browse):
    full(notes="<script>alert(1)</script>\nSecond line")
    page = browse(member).get(at("report", club, pk=Report.objects.get().pk)).content.decode()
    assert "&lt;script&gt;alert(1)&lt;/script&gt;<br>Second line" in page


def test_a_second_report_is_refused_on_the_page_by_name(full, report):
    response = full()
    assert response.status_code == 422
    assert "Brannoc already filed a report of this game" in response.content.decode()


def test_a_correction_begins_from_what_the_report_said(club, report, member, browse):
    form = browse(member).get(at("report-correct", club, pk=report.pk)).context["form"]
    lost = next(field for field in form if field.name.endswith("figures_lost") and field.value())
    assert (form["sides.0.score"].value(), lost.value()) == (5, 3)


def test_adding_casualties_to_a_quick_log_brings_its_reason_along(club, report, member, browse):
    form = browse(member).get(at("report-correct", club, pk=report.pk) + "?details=1").context["form"]
    assert form["reason"].value() == "details added"


def test_rosters_can_be_named_after_a_quick_log(club, bare_game, claim, member, roster, their_roster, browse):
    report = file_report(bare_game, claim=claim(), submission=uuid4(), by=member)
    data = {"sides.0.roster_id": roster.pk, "sides.1.roster_id": their_roster.pk}
    response = browse(member).post(at("game-rosters", club, pk=bare_game.pk), data)
    assert response.url == at("report-correct", club, pk=report.pk) + "?details=1"
    assert "First reeds" in browse(member).get(response.url).content.decode()


def test_a_roster_of_somebody_else_cannot_be_named(club, bare_game, member, their_roster, browse):
    response = browse(member).post(at("game-rosters", club, pk=bare_game.pk), {"sides.0.roster_id": their_roster.pk})
    assert response.status_code == 422


# --- reading and answering ---------------------------------------------------------------------------------


def test_the_opponent_confirms_by_a_button(club, report, opponent, browse):
    browse(opponent).post(at("report-confirm", club, pk=report.pk))
    assert state_of(report) == "confirmed"


def test_the_filer_is_not_offered_to_confirm(club, report, member, opponent, browse):
    address, button = at("report", club, pk=report.pk), at("report-confirm", club, pk=report.pk)
    shown = [button in browse(who).get(address).content.decode() for who in (member, opponent)]
    assert shown == [False, True]


def test_a_dispute_is_read_on_the_report(club, report, member, opponent, browse):
    browse(opponent).post(at("report-dispute", club, pk=report.pk), {"text": "It was 4 to 2."})
    page = browse(member).get(at("report", club, pk=report.pk)).content.decode()
    assert "It was 4 to 2." in page
    assert 'data-state="disputed"' in page


def test_an_umpire_settles_on_the_page(club, report, umpire, browse):
    browse(umpire).post(at("report-settle", club, pk=report.pk), {"verdict": "void", "text": "Wrong table."})
    assert state_of(report) == "void"


def test_a_corrected_report_leads_to_the_newer_one(club, report, claim, member, browse):
    corrected = correct_report(report, claim=claim(), reason="None fell", submission=uuid4(), by=member)
    page = browse(member).get(at("report", club, pk=report.pk)).content.decode()
    assert at("report", club, pk=corrected.pk) in page


def test_the_seed_is_on_no_page_before_the_draw(club, report, game, member, browse):
    game.refresh_from_db()
    pages = [at("game", club, pk=game.pk), at("report", club, pk=report.pk), at("rolls", club, pk=report.pk)]
    assert not any(game.seed in browse(member).get(address).content.decode() for address in pages)


def test_the_seeds_hash_is_shown_from_the_beginning(club, plan, member, browse):
    game = plan()
    assert game.seed_hash in browse(member).get(at("game", club, pk=game.pk)).content.decode()


def test_the_seed_is_shown_after_the_draw(club, report, game, member, browse):
    draw_rolls(report, by=member)
    game.refresh_from_db()
    page = browse(member).get(at("rolls", club, pk=report.pk)).content.decode()
    assert game.seed in page
    assert "the same dice" in page


def test_dice_from_the_table_are_entered_on_the_page(club, report, member, browse):
    casualty = report.results.get(side__position=1).engagement.casualties.get()
    browse(member).post(at("rolls", club, pk=report.pk), {f"casualty.{casualty.pk}": "1, 3 6"})
    assert casualty.rolls.results == [1, 3, 6]


def test_wrong_dice_stay_in_the_field(club, report, member, browse):
    casualty = report.results.get(side__position=1).engagement.casualties.get()
    response = browse(member).post(at("rolls", club, pk=report.pk), {f"casualty.{casualty.pk}": "1 9"})
    assert response.status_code == 422
    assert 'value="1 9"' in response.content.decode()


def test_words_are_no_dice(club, report, member, browse):
    casualty = report.results.get(side__position=1).engagement.casualties.get()
    response = browse(member).post(at("rolls", club, pk=report.pk), {f"casualty.{casualty.pk}": "six"})
    assert "Type the dice as numbers" in response.content.decode()


# --- the list ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_of_games_takes_as_many_queries_for_one_as_for_three(
    count, club, plan, claim, member, browse, django_assert_num_queries
):
    for number in range(count):
        file_report(plan(on=date(2026, 3, 1 + number)), claim=claim(), submission=uuid4(), by=member)
    client = browse(member)
    client.get(at("games", club))
    # session, user, club, member; night and ruleset of the filter; the count; games, editions, rulesets,
    # sides, players, last words, results
    with django_assert_num_queries(14):
        page = client.get(at("games", club)).content.decode()
    assert page.count("Brannoc 5 \N{EN DASH} 2 Ceriden") == count


@pytest.mark.parametrize("count", [1, 3])
def test_a_report_takes_as_many_queries_with_one_casualty_as_with_three(
    count, club, file, roster, lost, member, browse, django_assert_num_queries
):
    names = ["First reeds", "Towpath men", "The Weir captain"][:count]
    report = file(casualties=([lost(roster, name, 1) for name in names], []))
    client = browse(member)
    client.get(at("report", club, pk=report.pk))
    with django_assert_num_queries(23):
        client.get(at("report", club, pk=report.pk))


def test_the_list_narrows_to_my_games_and_to_a_state(club, plan, report, quartermaster, guest, browse, member):
    plan(sides=[SidePlan(member_ids=[quartermaster.pk]), SidePlan(member_ids=[guest.pk])])
    client = browse(member)
    rows = [
        len(client.get(at("games", club) + query).context["table"].rows) for query in ("", "?mine=on", "?state=planned")
    ]
    assert rows == [2, 1, 1]


def test_the_list_is_a_csv_file_too(club, report, member, browse):
    text = browse(member).get(at("games", club) + "?format=csv").content.decode()
    assert text.splitlines() == [
        '"Date","Sides","Scenario","Ruleset","Table","State"',
        '"2026-03-19","Brannoc 5 \N{EN DASH} 2 Ceriden","The Ferry Stage","Reeds","","waits for the opponent"',
    ]


def test_an_empty_list_says_what_will_be_here(club, member, browse):
    assert "No games yet. Log the first one." in browse(member).get(at("games", club)).content.decode()


def test_a_page_of_dice_without_dice_is_not_taken_for_an_entry(club, report, member, browse):
    response = browse(member).post(at("rolls", club, pk=report.pk), {})
    assert response.status_code == 422
    assert "Enter the dice of at least one unit." in response.content.decode()


def test_the_state_of_a_game_is_a_stamp_in_the_list(club, plan, member, browse):
    plan()
    page = browse(member).get(at("games", club)).content.decode()
    assert '<span class="badge" data-state="planned">planned</span>' in page


def test_a_planned_game_without_rosters_leads_to_their_choice(club, plan, member, opponent, browse):
    game = plan(sides=[SidePlan(member_ids=[each.pk], role="") for each in (member, opponent)])
    page = browse(member).get(at("game", club, pk=game.pk)).content.decode()
    assert at("game-rosters", club, pk=game.pk) in page
