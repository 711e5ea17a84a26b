"""Drafting a round, fixing parts of it, and publishing it once for all."""

from __future__ import annotations

import uuid
from datetime import date

import pytest

from league.battles.services.reports import ReportClaim, SideClaim, correct_report
from league.clubs.models import LogEntry
from league.errors import NotYoursToDo
from league.seasons.models import Pairing, Round
from league.seasons.queries.drafts import draft_of, moved_since
from league.seasons.services import drafts
from league.seasons.services.drafts import DraftChanged, publish_round
from league.seasons.services.entrants import enter, enter_each, withdraw
from league.seasons.services.formats import choose_format
from league.seasons.services.pairings import pair
from league.seasons.services.pins import RoundPublished, pin_bye, pin_pairing, pin_table, unpin
from league.seasons.services.placing import place_entrant
from league.seasons.services.rounds import add_round, open_play
from league.seasons.services.seasons import SeasonRefused
from tests import factories
from tests.seasons.drafted import fill, next_round, play, report, seats

SWISS = {"format": "swiss", "rounds": 5}


def words(refusal) -> list[str]:
    return [each.message for each in refusal.value.violations]


@pytest.fixture
def six(season, organiser):
    return fill(season, 6, by=organiser, pairing=SWISS)


@pytest.fixture
def first(season, six, organiser):
    return add_round(season, on=date(2026, 1, 22), by=organiser)


@pytest.fixture
def colleague(club):
    return factories.MemberFactory(club=club, name="Perrin", is_organiser=True)


def drafted(in_round) -> set[frozenset[str]]:
    return {frozenset(entrant.key for entrant in line.entrants) for line in draft_of(in_round).lines}


# --- drafts ----------------------------------------------------------------------------


def test_a_draft_seats_everybody_once(first, six):
    seated = [entrant.key for line in draft_of(first).lines for entrant in line.entrants]
    assert sorted(seated) == sorted(entrant.key for entrant in six)


def test_a_draft_writes_nothing(first):
    draft_of(first)
    assert not Pairing.objects.exists()


def test_the_same_draft_comes_out_again(first):
    assert draft_of(first).digest == draft_of(first).digest


def test_every_pairing_says_why(first):
    assert all(any("not met" in reason.words for reason in line.reasons) for line in draft_of(first).pairings)


def test_an_odd_number_leaves_one_with_a_bye(season, first, organiser):
    enter(season, member_ids=[organiser.pk], by=organiser)
    assert len(draft_of(first).byes) == 1


def test_who_was_paired_by_hand_is_left_out_of_the_draft(season, first, six, organiser):
    pair(first, entrant_ids=[six[0].pk, six[1].pk], submission=uuid.uuid4(), by=organiser)
    assert not {six[0].key, six[1].key} & frozenset().union(*drafted(first))


def test_two_of_one_household_do_not_meet(season, first, six, organiser):
    for entrant in six[:2]:
        place_entrant(entrant, party="Mill Lane", by=organiser)
    assert frozenset({six[0].key, six[1].key}) not in drafted(first)


def test_a_newcomer_does_not_meet_the_two_best_rated_in_the_first_round(club, season, six, organiser):
    """Before anybody has points the club's ratings say who is strong: those who won last season."""
    best, second, newcomer = six[0], six[1], six[5]
    before = factories.SeasonFactory(club=club, ruleset=season.ruleset, rules=season.rules)
    people = {entrant.pk: entrant.players.get().member_id for entrant in six}
    old = enter_each(before, member_ids=[people[entrant.pk] for entrant in six[:4]], by=organiser)
    friendly = open_play(before, by=organiser)
    for winner, loser in ((0, 2), (0, 3), (1, 2), (1, 3)):
        ids = [old[winner].pk, old[loser].pk]
        report(pair(friendly, entrant_ids=ids, submission=uuid.uuid4(), by=organiser), 9, 4, by=organiser)
    place_entrant(newcomer, is_newcomer=True, by=organiser)
    for seed in range(12):
        season.seed = f"seed {seed}"
        season.save(update_fields=["seed"])
        first = add_round(season, by=organiser)
        met = next(pair for pair in drafted(first) if newcomer.key in pair)
        assert not met & {best.key, second.key}
        first.delete()


def test_a_draft_waits_for_results_and_names_them(season, six, organiser):
    played = next_round(season, by=organiser)
    second = add_round(season, by=organiser)
    assert len(draft_of(second).waiting) == len(seats(played))


def test_a_season_typed_in_has_no_draft(season, cast, organiser):
    assert draft_of(add_round(season, by=organiser)).refusal == ("The rounds of this season are not drafted.",)


def test_what_must_be_kept_and_cannot_be_is_refused_with_the_proof(season, organiser):
    fill(season, 4, by=organiser, pairing={**SWISS, "must": ["repeat"]})
    for _number in range(3):
        play(next_round(season, by=organiser), by=organiser)
    refused = draft_of(add_round(season, by=organiser))
    assert refused.refusal
    assert refused.gave_way[0].criterion == "repeat"
    assert refused.gave_way[0].unavoidable


def test_where_a_repeat_is_unavoidable_the_draft_says_that_it_gave_way(season, organiser):
    fill(season, 4, by=organiser, pairing=SWISS)
    for _number in range(3):
        play(next_round(season, by=organiser), by=organiser)
    given = {each.criterion: each for each in draft_of(add_round(season, by=organiser)).gave_way}
    assert given["repeat"].unavoidable


@pytest.mark.parametrize("count", [2, 40])
def test_a_draft_takes_the_same_queries_however_many_play(season, organiser, count, django_assert_num_queries):
    fill(season, count, by=organiser, pairing=SWISS)
    first = add_round(season, by=organiser)
    first = drafts.as_it_is(first)
    with django_assert_num_queries(12):
        draft_of(first)


# --- pins ------------------------------------------------------------------------------


def test_a_pinned_pairing_stays(first, six, organiser):
    pin_pairing(first, entrant_ids=[six[4].pk, six[5].pk], by=organiser)
    assert frozenset({six[4].key, six[5].key}) in drafted(first)


def test_a_pinned_bye_stays(season, first, six, organiser):
    pin_bye(first, entrant_id=six[2].pk, by=organiser)
    assert frozenset({six[2].key}) in drafted(first)


def test_a_pin_taken_out_is_out(first, six, organiser):
    pin = pin_bye(first, entrant_id=six[2].pk, by=organiser)
    unpin(pin, by=organiser)
    assert not draft_of(first).byes


def test_a_pinned_table_is_the_table(club, first, six, organiser):
    venue = factories.VenueFactory(club=club)
    table = factories.TableFactory(venue=venue, number=7, width_mm=1800, depth_mm=1200)
    factories.TableFactory(venue=venue, number=8, width_mm=1800, depth_mm=1200)
    pin_table(first, entrant_id=six[0].pk, table=table, by=organiser)
    mine = next(line for line in draft_of(first).lines if six[0] in line.entrants)
    assert mine.table == table


def test_tables_are_given_once_and_are_new_to_both(club, season, six, organiser):
    venue = factories.VenueFactory(club=club)
    for number in range(1, 5):
        factories.TableFactory(venue=venue, number=number, width_mm=1800, depth_mm=1200)
    had: dict[str, set[int]] = {}
    for _number in range(2):
        in_round = next_round(season, by=organiser)
        play(in_round, by=organiser)
        tables = [(pairing.game.table_id, pairing) for pairing in in_round.pairings.all()]
        assert len({table for table, _pairing in tables}) == len(tables)
        for table, pairing in tables:
            for seat in pairing.seats.select_related("entrant"):
                assert table not in had.setdefault(seat.entrant.key, set())
                had[seat.entrant.key].add(table)


def test_who_has_left_cannot_be_pinned(first, six, organiser):
    withdraw(six[0], reason="Moved to Overbrune", by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        pin_bye(first, entrant_id=six[0].pk, by=organiser)
    assert words(refusal) == [f"{six[0].name} has left the season and cannot be pinned."]


def test_nobody_is_pinned_twice(first, six, organiser):
    pin_bye(first, entrant_id=six[0].pk, by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        pin_pairing(first, entrant_ids=[six[0].pk, six[1].pk], by=organiser)
    assert words(refusal) == [f"{six[0].name} is pinned already."]


def test_a_published_round_takes_no_pin(season, six, organiser):
    published = next_round(season, by=organiser)
    with pytest.raises(RoundPublished):
        pin_bye(published, entrant_id=six[0].pk, by=organiser)


def test_in_games_of_three_three_are_pinned(season, organiser):
    entrants = fill(season, 9, by=organiser, pairing={"format": "swiss", "sides": 3, "criteria": ["repeat"]})
    first = add_round(season, by=organiser)
    pin_pairing(first, entrant_ids=[entrant.pk for entrant in entrants[:3]], by=organiser)
    assert frozenset(entrant.key for entrant in entrants[:3]) in drafted(first)
    with pytest.raises(SeasonRefused) as refusal:
        pin_pairing(first, entrant_ids=[entrant.pk for entrant in entrants[3:5]], by=organiser)
    assert words(refusal) == ["Say which three or four meet."]


def test_a_season_without_criteria_is_drawn_by_lot(season, organiser):
    fill(season, 5, by=organiser, pairing={"format": "swiss", "criteria": []})
    assert len(draft_of(add_round(season, by=organiser)).lines) == 3


# --- publishing ------------------------------------------------------------------------


def test_publishing_makes_the_draft_the_round(first, organiser):
    draft = draft_of(first)
    publish_round(first, seen=draft.digest, by=organiser)
    assert {frozenset(pair) for pair in seats(first)} == {
        frozenset(entrant.key for entrant in line.entrants) for line in draft.lines
    }


def test_publishing_twice_by_the_same_hand_is_publishing_once(first, organiser):
    seen = draft_of(first).digest
    publish_round(first, seen=seen, by=organiser)
    publish_round(first, seen=seen, by=organiser)
    assert Pairing.objects.count() == 3


def test_the_second_organiser_is_told_who_published_and_when(first, organiser, colleague):
    seen = draft_of(first).digest
    publish_round(first, seen=seen, by=organiser)
    with pytest.raises(RoundPublished) as refusal:
        publish_round(first, seen=seen, by=colleague)
    (told,) = words(refusal)
    assert told.startswith("Round 1 was published by Odalys on ")
    assert refusal.value.status == 409


def test_two_who_both_saw_the_round_unpublished_publish_it_once(first, organiser, colleague, monkeypatch):
    """The second has read the round before the first wrote it: the row itself decides."""
    seen = draft_of(first).digest
    stale = drafts.as_it_is(first)
    publish_round(first, seen=seen, by=organiser)
    monkeypatch.setattr(drafts, "as_it_is", lambda _round: stale)
    monkeypatch.setattr(drafts, "draft_of", lambda _round: drafts.RoundDraft(round=stale, digest=seen))
    with pytest.raises(RoundPublished):
        publish_round(first, seen=seen, by=colleague)
    assert Pairing.objects.count() == 3
    assert Round.objects.get(pk=first.pk).published_by == organiser


def test_a_draft_that_changed_since_is_not_published(first, six, organiser):
    seen = draft_of(first).digest
    withdraw(six[0], reason="Ill", by=organiser)
    with pytest.raises(DraftChanged) as refusal:
        publish_round(first, seen=seen, by=organiser)
    assert refusal.value.draft.digest == draft_of(first).digest
    assert not Pairing.objects.exists()


@pytest.mark.parametrize("count", [4, 12])
def test_publishing_takes_the_same_queries_however_many_play(season, organiser, count, django_assert_num_queries):
    venue = factories.VenueFactory(club=season.club)
    for number in range(1, 7):
        factories.TableFactory(venue=venue, number=number, width_mm=1800, depth_mm=1200)
    fill(season, count, by=organiser, pairing=SWISS)
    first = add_round(season, by=organiser)
    seen = draft_of(first).digest
    with django_assert_num_queries(33):
        publish_round(first, seen=seen, by=organiser)
    assert Pairing.objects.count() == count // 2


def test_a_published_game_has_its_players_and_a_line_in_the_book(first, organiser):
    published = publish_round(first, seen=draft_of(first).digest, by=organiser)
    for pairing in published.pairings.all():
        game = pairing.game
        seated = [seat.entrant.players.get().member_id for seat in pairing.seats.order_by("position")]
        assert [side.players.get().member_id for side in game.sides.order_by("position")] == seated
        assert LogEntry.objects.filter(act="game_planned", subject=f"game:{game.pk}").count() == 1


def test_publishing_takes_an_organiser(first, member):
    with pytest.raises(NotYoursToDo):
        publish_round(first, seen=draft_of(first).digest, by=member)


def test_an_empty_round_cannot_be_published(season, organiser):
    choose_format(season, pairing=SWISS, by=organiser)
    season.refresh_from_db()
    made = add_round(season, by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        publish_round(made, seen="", by=organiser)
    assert words(refusal) == ["There is nobody to pair."]


def test_a_correction_afterwards_moves_the_table_and_the_round_says_so(season, six, organiser):
    played = next_round(season, by=organiser)
    pairing = played.pairings.order_by("position").first()
    filed = report(pairing, 9, 4, by=organiser)
    play(played, by=organiser)
    second = next_round(season, by=organiser)
    before = seats(second)
    claim = ReportClaim(
        fought_on=date(2026, 1, 22), sides=[SideClaim(position=1, score=4), SideClaim(position=2, score=9)]
    )
    correct_report(filed, claim=claim, reason="Sides swapped", submission=uuid.uuid4(), by=organiser)
    second.refresh_from_db()
    assert {(each.then_x2, each.now_x2) for each in moved_since(second)} == {(6, 0), (0, 6)}
    assert seats(second) == before


# --- running ---------------------------------------------------------------------------


def test_who_enters_late_is_paired_from_the_next_round_on(season, six, organiser, member):
    next_round(season, by=organiser)
    late = enter(season, member_ids=[member.pk], by=organiser)
    assert late.joined_after_round == 1
    second = add_round(season, by=organiser)
    assert late in {entrant for line in draft_of(second).lines for entrant in line.entrants}


def test_who_left_is_not_drafted(season, first, six, organiser):
    withdraw(six[0], reason="Ill", by=organiser)
    assert six[0].key not in frozenset().union(*drafted(first))


def test_the_format_stays_once_a_round_is_published(season, six, organiser):
    next_round(season, by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        choose_format(season, pairing={"format": "knockout"}, by=organiser)
    assert words(refusal) == ["A round is published already; the format stays as it is."]


def test_an_option_of_another_format_is_refused(season, organiser):
    with pytest.raises(SeasonRefused) as refusal:
        choose_format(season, pairing={"format": "knockout", "reach": 2}, by=organiser)
    assert words(refusal) == ["This is no option of knockout."]
