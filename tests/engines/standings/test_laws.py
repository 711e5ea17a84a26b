"""What holds for every season: the engine agrees with a slow recount, and reasons add up to their numbers."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.standings import Entrant, Game, Rules, Side, TieBreak, explain, standings
from tests.engines.standings.naive_recount import Recount
from tests.engines.standings.seasons import close_seasons, direct_encounters, rules, seasons

# A busy machine is no counter-example, so no deadline.
law = settings(deadline=None, max_examples=150)
through_rounds = st.one_of(st.none(), st.integers(0, 5))


@law
@given(season=seasons(), season_rules=rules, through=through_rounds)
def test_the_engine_agrees_with_a_slow_recount(season, season_rules, through) -> None:
    entrants, games, adjustments = season
    table = standings(entrants, games, adjustments, season_rules, through)
    recount = Recount(entrants, games, adjustments, season_rules, through)
    groups = recount.groups()
    expected_ranks = [
        (1 + sum(map(len, groups[:place])), one) for place, group in enumerate(groups) for one in sorted(group)
    ]
    assert [(row.rank, row.entrant_id) for row in table.rows] == expected_ranks
    for row in table.rows:
        one = row.entrant_id
        assert Fraction(row.points_x2, 2) == recount.points(one)
        assert row.points_per_game == recount.points_per_game(one)
        for cell in row.values:
            if not cell.name.startswith("direct_encounter"):
                tie_break = next(known for known in season_rules.tie_breaks if known.column == cell.name)
                ours = None if cell.value is None else Fraction(cell.value) / cell.scale
                assert (cell.name, ours) == (cell.name, recount.value(one, tie_break))


@law
@given(season=close_seasons(), direct=direct_encounters)
def test_direct_encounter_agrees_with_a_slow_recount(season, direct) -> None:
    """Most of these are level on points, so the games among them decide, again and again where the rule says so."""
    season_rules = Rules(tie_breaks=(direct,))
    table = standings(*season, season_rules)
    groups = Recount(*season, season_rules, None).groups()
    assert [
        [row.entrant_id for row in table.rows if row.rank == rank] for rank in sorted({r.rank for r in table.rows})
    ] == [sorted(group) for group in groups]
    for row in table.rows:
        reasons = explain(table, row.entrant_id, "direct_encounter")
        assert sum(reason.contribution for reason in reasons) == row.values[0].value


@law
@given(season=seasons(), season_rules=rules, through=through_rounds)
def test_the_reasons_add_up_to_the_number(season, season_rules, through) -> None:
    table = standings(*season, season_rules, through)
    for row in table.rows:
        plain = {"points": row.points_x2, "score_for": row.score_for, "score_against": row.score_against}
        plain |= {cell.name: cell.value for cell in row.values if cell.name != "score_average"}
        for column, value in plain.items():
            reasons = explain(table, row.entrant_id, column)
            assert (column, sum(reason.contribution for reason in reasons)) == (column, value)
        ratios = {"points_per_game": row.points_per_game}
        ratios |= {cell.name: cell.value for cell in row.values if cell.name == "score_average"}
        for column, value in ratios.items():
            reasons = explain(table, row.entrant_id, column)
            over = sum(reason.divisor for reason in reasons)
            if over:
                assert Fraction(sum(reason.contribution for reason in reasons), over) == value


@law
@given(season=seasons(), season_rules=rules, shuffle=st.integers(0, 100))
def test_the_order_of_entrants_and_games_is_of_no_account(season, season_rules, shuffle) -> None:
    entrants, games, adjustments = season
    rng = Random(shuffle)
    other = [
        rng.sample(entrants, len(entrants)),
        [replace(game, sides=tuple(rng.sample(game.sides, len(game.sides)))) for game in rng.sample(games, len(games))],
        rng.sample(adjustments, len(adjustments)),
    ]
    assert standings(*season, season_rules).rows == standings(*other, season_rules).rows


@law
@given(season=seasons(), season_rules=rules)
def test_annulled_leavers_might_never_have_entered(season, season_rules) -> None:
    entrants, games, adjustments = season
    gone = {entrant.id for entrant in entrants if entrant.left}
    remaining = []
    for game in games:
        sides = tuple(side for side in game.sides if side.entrant_id not in gone)
        if sides == game.sides or len(sides) > 1:
            remaining.append(replace(game, sides=sides))
    without = standings(
        [entrant for entrant in entrants if not entrant.left],
        remaining,
        [adjustment for adjustment in adjustments if adjustment.entrant_id not in gone],
        season_rules,
    )
    assert standings(entrants, games, adjustments, replace(season_rules, leavers="annul")).rows == without.rows


@law
@given(season=seasons(), season_rules=rules, last=st.integers(0, 5))
def test_a_look_back_forgets_what_came_later(season, season_rules, last) -> None:
    entrants, games, adjustments = season
    then = standings(
        entrants,
        [game for game in games if game.round <= last],
        [adjustment for adjustment in adjustments if adjustment.round <= last],
        season_rules,
    )
    assert standings(entrants, games, adjustments, season_rules, last).rows == then.rows


@law
@given(season=seasons(), season_rules=rules)
def test_shared_ranks_skip_as_many_as_share_them(season, season_rules) -> None:
    rows = standings(*season, season_rules).rows
    for row in rows:
        level = [other for other in rows if other.rank == row.rank]
        assert row.rank == 1 + sum(other.rank < row.rank for other in rows)
        assert row.shared == (len(level) > 1)


@law
@given(season=seasons(), season_rules=rules)
def test_drawn_lots_leave_nobody_level(season, season_rules) -> None:
    drawn = replace(season_rules, tie_breaks=(TieBreak(name="wins"), TieBreak(name="drawn_lot")))
    assert not any(row.shared for row in standings(*season, drawn).rows)


@law
@given(scores=st.lists(st.tuples(st.integers(0, 10**9), st.integers(1, 10**9)), min_size=2, max_size=6))
def test_score_averages_of_any_size_are_compared_exactly(scores) -> None:
    """Up to a thousand million for and against: neighbours differ in the eighteenth decimal."""
    entrants = [Entrant(id=f"{number}") for number in range(len(scores))] + [Entrant(id="rest")]
    games = [
        Game(
            id=f"{number}",
            sides=(
                Side(entrant_id=f"{number}", score=mine, outcome="draw"),
                Side(entrant_id="rest", score=theirs, outcome="draw"),
            ),
        )
        for number, (mine, theirs) in enumerate(scores)
    ]
    table = standings(entrants, games, rules=Rules(tie_breaks=(TieBreak(name="score_average"),)))
    ratios = [row.values[0].value for row in table.rows if row.entrant_id != "rest"]
    assert ratios == sorted((Fraction(mine, theirs) for mine, theirs in scores), reverse=True)
