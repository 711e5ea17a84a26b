"""A season that cannot be counted is refused with every reason at once."""

from __future__ import annotations

from typing import Any

import pytest

from league.engines.standings import (
    Adjustment,
    BadSeason,
    Bonus,
    Entrant,
    Game,
    Ledger,
    Rules,
    Scheme,
    Side,
    TieBreak,
    standings,
    standings_of_ledger,
)

A, B, C = (Entrant(id=one, name=one) for one in "abc")


def refusal(games: list[Game], **other: Any) -> tuple[str, ...]:
    with pytest.raises(BadSeason) as refused:
        standings(other.pop("entrants", (A, B, C)), games, **other)
    return refused.value.violations


def sides(*given: Side) -> list[Game]:
    return [Game(id="g", round=1, sides=given)]


def won(entrant_id: str) -> Side:
    return Side(entrant_id=entrant_id, outcome="win")


def lost(entrant_id: str) -> Side:
    return Side(entrant_id=entrant_id, outcome="loss")


@pytest.mark.parametrize(
    ("games", "reason"),
    [
        (sides(won("a"), lost("x")), "Game g names x, who is not an entrant."),
        (sides(won("a"), lost("a")), "Game g has a on two sides."),
        (sides(Side(entrant_id="a"), lost("b")), "The side of a in game g has neither score nor outcome."),
        (sides(Side(entrant_id="a", score=1), Side(entrant_id="b")), "Game g has scores for some of its sides only."),
        (sides(won("a"), won("b")), "Game g has outcomes that cannot both be: win and win."),
        (
            sides(won("a"), Side(entrant_id="b", outcome="draw")),
            "Game g has outcomes that cannot both be: win and draw.",
        ),
        (sides(won("a")), "Game g was played by one side alone."),
        (sides(won("a"), Side(entrant_id="b", unplayed="forfeit_loss")), "Game g was played by one side alone."),
        (sides(), "Game g has no sides."),
        (
            sides(Side(entrant_id="a", unplayed="bye"), Side(entrant_id="b", unplayed="absent")),
            "Game g is a bye or an absence and yet has 2 sides.",
        ),
        (
            sides(Side(entrant_id="a", unplayed="forfeit_win"), Side(entrant_id="b", unplayed="forfeit_win")),
            "Game g was won by forfeit by both sides.",
        ),
        (
            sides(Side(entrant_id="a", unplayed="bye", outcome="win")),
            "The side of a in game g was not played and yet has an outcome.",
        ),
        (
            sides(Side(entrant_id="a", score=3, outcome="win"), Side(entrant_id="b", score=1)),
            "Game g states the outcome of one side only.",
        ),
        (
            sides(Side(entrant_id="a", outcome="win", value_lost=-1), lost("b")),
            "The value destroyed or lost by a in game g is negative.",
        ),
        (
            sides(Side(entrant_id="a", outcome="win", counts={"flags": -1}), lost("b")),
            "A number reported by a in game g is out of range.",
        ),
        (
            [Game(id="g", round=-1, sides=(won("a"), lost("b")))],
            "Game g has the negative round -1.",
        ),
        (
            [Game(id="g", round=1001, sides=(won("a"), lost("b")))],
            "Game g has round 1001; a season has 1000 at most.",
        ),
        (
            [Game(id="g", round=1, sides=(won("a"), lost("b"))), Game(id="h", round=1, sides=(won("a"), lost("c")))],
            "a appears 2 times in round 1.",
        ),
        (
            [Game(id="g", round=1, sides=(won("a"), lost("b"))), Game(id="g", round=2, sides=(won("a"), lost("c")))],
            "Game g is listed 2 times.",
        ),
    ],
)
def test_a_game_that_cannot_be_is_refused(games: list[Game], reason: str) -> None:
    assert reason in refusal(games)


def test_words_nobody_knows_are_refused() -> None:
    odd: Any = "thrashing"
    games = [
        Game(id="g", sides=(Side(entrant_id="a", outcome=odd), lost("b"))),
        Game(id="h", sides=(Side(entrant_id="a", unplayed=odd),)),
    ]
    assert refusal(games) == (
        "The outcome 'thrashing' of a in game g is unknown.",
        "The reason 'thrashing' that a in game h played nothing is unknown.",
    )


def test_entrants_need_ids_of_their_own() -> None:
    assert refusal([], entrants=(A, A, Entrant(id=""))) == ("Entrant a is entered 2 times.", "An entrant has no id.")


def test_an_adjustment_needs_an_entrant_and_a_reason() -> None:
    assert refusal([], adjustments=[Adjustment(entrant_id="x", points_x2=-2, reason=" ", round=-1)]) == (
        "Points are adjusted for x, who is not an entrant.",
        "The adjustment of points for x gives no reason.",
        "The adjustment of points for x has the negative round -1.",
    )


def test_rules_that_make_no_sense_are_refused() -> None:
    odd: Any = "by weight"
    rules = Rules(
        unplayed_policy=odd,
        leavers=odd,
        rank_by=odd,
        scheme=Scheme(
            bonuses=(
                Bonus(kind=odd, points_x2=1),
                Bonus(kind="count_at_least", points_x2=1),
                Bonus(kind=odd, points_x2=2),
            )
        ),
        tie_breaks=(
            TieBreak(name=odd),
            TieBreak(name="count_total"),
            TieBreak(name="direct_encounter", pieces=()),
            TieBreak(name="direct_encounter", pieces=(odd,)),
        ),
    )
    assert refusal([], rules=rules) == (
        "There is no policy for unplayed rounds called 'by weight'.",
        "Results of leavers are kept or annulled, not 'by weight'.",
        "A table is ranked by points or points per game, not 'by weight'.",
        "There is no tie-break called 'by weight'.",
        "The tie-break 'count_total' does not say what it counts.",
        "Direct encounter does not say what it compares.",
        "Direct encounter cannot compare 'by weight'.",
        "The tie-break 'direct_encounter' is listed 2 times.",
        "There is no bonus of the kind 'by weight'.",
        "The bonus 'count_at_least' does not say what it counts.",
        "There is no bonus of the kind 'by weight'.",
        "Bonuses need different names: 'by weight' stands 2 times.",
    )


def test_columns_are_counted_by_sound_rules_only() -> None:
    with pytest.raises(BadSeason, match="does not say what it counts"):
        standings_of_ledger(Ledger.from_games((A,), ()), Rules(tie_breaks=(TieBreak(name="count_total"),)))


def test_everything_wrong_is_said_at_once() -> None:
    games = [
        Game(id="g", round=-1, sides=(won("a"), lost("x"))),
        Game(id="h", round=1, sides=(won("a"), won("b"))),
    ]
    assert refusal(games, through_round=-2) == (
        "Game g has the negative round -1.",
        "Game g names x, who is not an entrant.",
        "Game h has outcomes that cannot both be: win and win.",
        "Round -2 is before the first.",
    )
