"""Whole seasons of every drafted format through the services, from nothing to the last round."""

from __future__ import annotations

import random
import uuid
from itertools import combinations

import pytest

from league.engines.documents.season import dump, read_season
from league.seasons.models import Unplayed
from league.seasons.queries import document_of, season_document, season_file, standings
from league.seasons.queries.brackets import brackets_of
from league.seasons.queries.drafts import draft_of
from league.seasons.services.divisions import add_division
from league.seasons.services.drafts import publish_round
from league.seasons.services.entrants import enter, withdraw
from league.seasons.services.formats import draw_up_rounds
from league.seasons.services.imports import import_season
from league.seasons.services.marks import mark_unplayed
from league.seasons.services.pins import RoundPublished
from league.seasons.services.placing import place_entrant
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import SeasonRefused
from tests import factories
from tests.seasons.drafted import fill, next_round, play, seats

ROBIN = {"format": "round_robin"}
DOUBLE = {"format": "double_round_robin"}


def words(refusal) -> list[str]:
    return [each.message for each in refusal.value.violations]


def seeded(season, count, *, by, pairing):
    entrants = fill(season, count, by=by, pairing=pairing)
    for number, entrant in enumerate(entrants, start=1):
        place_entrant(entrant, seed_number=number, by=by)
    return entrants


def the_better_seed_wins(pairing):
    first, second = pairing.seats.select_related("entrant").order_by("position")
    return (9, 4) if first.entrant.seed_number < second.entrant.seed_number else (4, 9)


def met(rounds) -> list[frozenset[str]]:
    return [frozenset(pair) for each in rounds for pair in seats(each) if len(pair) == 2]


# --- round robin -----------------------------------------------------------------------


@pytest.mark.parametrize("count", [2, 5, 6])
def test_in_a_round_robin_everybody_meets_everybody_once(season, organiser, count):
    entrants = fill(season, count, by=organiser, pairing=ROBIN)
    games = met(draw_up_rounds(season, by=organiser))
    assert sorted(map(sorted, games)) == sorted(map(sorted, combinations(sorted(each.key for each in entrants), 2)))


def test_in_a_double_round_robin_everybody_attacks_everybody_once(season, organiser):
    entrants = fill(season, 4, by=organiser, pairing=DOUBLE)
    ordered = [pair for each in draw_up_rounds(season, by=organiser) for pair in seats(each)]
    keys = [each.key for each in entrants]
    assert sorted(ordered) == sorted((one, other) for one in keys for other in keys if one != other)


def test_the_first_round_of_six_is_that_of_the_berger_table(season, organiser):
    """FIDE Handbook C.05 annex 1, five or six players, round 1: 1-6, 2-5, 3-4."""
    entrants = seeded(season, 6, by=organiser, pairing=ROBIN)
    numbers = {entrant.key: place for place, entrant in enumerate(entrants, start=1)}
    first = draw_up_rounds(season, by=organiser)[0]
    assert [tuple(numbers[key] for key in pair) for pair in seats(first)] == [(1, 6), (2, 5), (3, 4)]


def test_drawing_up_twice_is_drawing_up_once(season, organiser):
    fill(season, 4, by=organiser, pairing=ROBIN)
    draw_up_rounds(season, by=organiser)
    assert draw_up_rounds(season, by=organiser) == []


def test_a_round_robin_of_one_is_refused(season, organiser):
    fill(season, 1, by=organiser, pairing=ROBIN)
    with pytest.raises(SeasonRefused) as refusal:
        draw_up_rounds(season, by=organiser)
    assert words(refusal) == ["A round robin needs two entrants at least."]


def test_a_round_robin_already_drawn_up_takes_nobody_in(season, organiser, member):
    fill(season, 4, by=organiser, pairing=ROBIN)
    draw_up_rounds(season, by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        enter(season, member_ids=[member.pk], by=organiser)
    assert words(refusal) == ["The rounds are drawn up already; nobody can enter this season any more."]


# --- knock-out -------------------------------------------------------------------------


def test_a_knockout_of_eight_is_won_by_the_best_when_the_better_always_wins(season, organiser):
    seeded(season, 8, by=organiser, pairing={"format": "knockout", "third_place": True})
    for _number in range(3):
        play(next_round(season, by=organiser), by=organiser, score=the_better_seed_wins)
    (bracket,) = brackets_of(season)
    placed = [(place, sorted(entrant.seed_number for entrant in entrants)) for place, entrants in bracket.places]
    assert placed == [(1, [1]), (2, [2]), (3, [3]), (4, [4]), (5, [5, 6, 7, 8])]


def test_the_best_sit_out_the_first_round_where_entrants_are_missing(season, organiser):
    entrants = seeded(season, 6, by=organiser, pairing={"format": "knockout"})
    first = next_round(season, by=organiser)
    assert {pair for pair in seats(first) if len(pair) == 1} == {(entrants[0].key,), (entrants[1].key,)}


def test_the_next_round_waits_for_the_one_before(season, organiser):
    fill(season, 4, by=organiser, pairing={"format": "knockout"})
    next_round(season, by=organiser)
    told = draft_of(add_round(season, by=organiser)).refusal
    assert len(told) == 2
    assert all(words.startswith("The round before is not decided: ") for words in told)


def test_a_draw_sends_the_better_seed_on(season, organiser):
    entrants = seeded(season, 2, by=organiser, pairing={"format": "knockout"})
    play(next_round(season, by=organiser), by=organiser, score=lambda pairing: (5, 5))
    (bracket,) = brackets_of(season)
    assert bracket.places[0] == (1, (entrants[0],))


def test_whoever_does_not_come_loses_the_match(season, organiser):
    entrants = seeded(season, 2, by=organiser, pairing={"format": "knockout"})
    final = next_round(season, by=organiser).pairings.get()
    marks = {entrants[0].pk: Unplayed.FORFEIT_LOSS, entrants[1].pk: Unplayed.FORFEIT_WIN}
    mark_unplayed(final, seats=marks, by=organiser)
    (bracket,) = brackets_of(season)
    assert bracket.places[0] == (1, (entrants[1],))


def test_groups_send_their_best_into_the_knockout(season, organiser):
    entrants = seeded(season, 8, by=organiser, pairing={"format": "groups_knockout", "groups": 2, "advance": 2})
    for _number in range(3):
        play(next_round(season, by=organiser), by=organiser, score=the_better_seed_wins)
    semi_finals = next_round(season, by=organiser)
    # The snake puts 1, 4, 5, 8 into one group and 2, 3, 6, 7 into the other.
    assert sorted(sorted(pair) for pair in seats(semi_finals)) == sorted(
        sorted(pair) for pair in [(entrants[0].key, entrants[2].key), (entrants[1].key, entrants[3].key)]
    )
    play(semi_finals, by=organiser, score=the_better_seed_wins)
    play(next_round(season, by=organiser), by=organiser, score=the_better_seed_wins)
    (bracket,) = brackets_of(season)
    assert bracket.places[0] == (1, (entrants[0],))


def test_the_knockout_waits_for_the_groups(season, organiser):
    fill(season, 4, by=organiser, pairing={"format": "groups_knockout", "groups": 2, "advance": 1})
    next_round(season, by=organiser)
    assert draft_of(add_round(season, by=organiser)).refusal == (
        "The group stage is not over: a game of it has no result that counts.",
    )


# --- Swiss -----------------------------------------------------------------------------


def test_seven_swiss_rounds_of_sixteen_with_everything_that_happens(season, organiser):
    """Someone late, someone leaving, a no-show and a double no-show: no repeat, and no second bye for anybody."""
    rng = random.Random(7)
    entrants = fill(season, 16, by=organiser, pairing={"format": "swiss", "rounds": 7})
    played = []
    for number in range(1, 8):
        if number == 3:
            late = factories.MemberFactory(club=season.club, name="Lateward")
            entrants += [enter(season, member_ids=[late.pk], by=organiser)]
        if number == 5:
            withdraw(entrants[3], reason="Moved to Overbrune", by=organiser)
        in_round = next_round(season, by=organiser)
        played.append(in_round)
        games = list(in_round.pairings.filter(game__isnull=False))
        if number == 2:
            first, second = games[0].seats.order_by("position")
            marks = {first.entrant_id: Unplayed.FORFEIT_WIN, second.entrant_id: Unplayed.FORFEIT_LOSS}
            mark_unplayed(games[0], seats=marks, by=organiser)
        if number == 4:
            marks = {seat.entrant_id: Unplayed.FORFEIT_LOSS for seat in games[1].seats.all()}
            mark_unplayed(games[1], seats=marks, by=organiser)
        play(in_round, by=organiser, score=lambda pairing: (rng.randint(0, 12), rng.randint(0, 12)))
    # A game nobody played is no meeting.
    games = [
        frozenset(pairing.seats.values_list("entrant__key", flat=True))
        for each in played
        for pairing in each.pairings.filter(game__isnull=False).exclude(seats__unplayed__gt="")
    ]
    assert len(set(games)) == len(games) == 8 + 7 + 8 + 7 + 3 * 8
    byes = [pair[0] for each in played for pair in seats(each) if len(pair) == 1]
    assert len(set(byes)) == len(byes)
    assert len(byes) == 2  # rounds 3 and 4 had seventeen
    assert len(standings(season).rows) == 17


def test_a_round_of_tables_of_three(season, organiser):
    fill(season, 9, by=organiser, pairing={"format": "swiss", "sides": 3, "criteria": ["repeat", "distance"]})
    assert [len(pair) for pair in seats(next_round(season, by=organiser))] == [3, 3, 3]


def test_a_drafted_season_goes_through_its_file_unchanged(season, organiser):
    entrants = seeded(season, 6, by=organiser, pairing={"format": "swiss", "rounds": 3, "must": ["repeat"]})
    place_entrant(entrants[2], party="Mill Lane", is_newcomer=True, by=organiser)
    play(next_round(season, by=organiser), by=organiser)
    file = dump(document_of(season))
    assert dump(read_season(season_document(season))) == file


def test_a_round_published_from_another_draft_never_doubles_anybody(season, organiser):
    fill(season, 6, by=organiser, pairing={"format": "swiss"})
    made = add_round(season, by=organiser)
    publish_round(made, seen=draft_of(made).digest, by=organiser)
    seated = [key for pair in seats(made) for key in pair]
    assert len(set(seated)) == len(seated) == 6


def test_a_drafted_season_taken_in_elsewhere_is_the_same_file_and_goes_on(season, organiser, other_club, outsider):
    upper = add_division(season, name="Upper Reach", level=1, relegates=1, by=organiser)
    entrants = fill(season, 6, by=organiser, pairing={"format": "swiss", "rounds": 4})
    for number, entrant in enumerate(entrants, start=1):
        place_entrant(entrant, division=upper, seed_number=number, party="Mill Lane" * (number < 3), by=organiser)
    play(next_round(season, by=organiser), by=organiser)
    ruleset = factories.EditionFactory(ruleset__club=other_club, ruleset__name="Reeds").ruleset
    taken_in = import_season(
        other_club, document=season_document(season), ruleset=ruleset, submission=uuid.uuid4(), by=outsider
    )
    assert season_file(taken_in, reader=outsider) == season_file(season, reader=organiser)
    second = add_round(season, by=organiser)
    there = add_round(taken_in, by=outsider)
    assert keys_of(draft_of(there)) == keys_of(draft_of(second))


def test_a_round_taken_in_from_a_file_is_not_drafted_again(season, organiser, other_club, outsider):
    fill(season, 4, by=organiser, pairing={"format": "swiss"})
    next_round(season, by=organiser)
    ruleset = factories.EditionFactory(ruleset__club=other_club, ruleset__name="Reeds").ruleset
    taken_in = import_season(
        other_club, document=season_document(season), ruleset=ruleset, submission=uuid.uuid4(), by=outsider
    )
    with pytest.raises(RoundPublished):
        publish_round(taken_in.rounds.get(), seen="", by=outsider)


def keys_of(draft) -> list[tuple[str, ...]]:
    return [tuple(entrant.key for entrant in line.entrants) for line in draft.lines]
