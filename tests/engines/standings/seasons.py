"""Seasons for property tests: pairs and games of three, byes, absences, forfeits, rounds missed, open play, leavers."""

from __future__ import annotations

from itertools import combinations

from hypothesis import strategies as st

from league.engines.standings import Adjustment, Bonus, Entrant, Game, Rules, Scheme, Side, TieBreak

BUCHHOLZ = ("buchholz", "buchholz_cut1", "buchholz_cut2", "buchholz_median1", "buchholz_median2")
PLAIN = (*BUCHHOLZ, "sum_of_buchholz", "sonneborn_berger", "progressive", "score_difference", "score_for")
OTHERS = ("score_average", "value_difference", "drawn_lot")

direct_encounters = st.builds(
    TieBreak,
    name=st.just("direct_encounter"),
    reapply=st.booleans(),
    wait=st.booleans(),
    pieces=st.lists(st.sampled_from(("points", "score_difference", "score_for", "wins")), min_size=1, unique=True).map(
        tuple
    ),
)
tie_breaks = st.one_of(
    st.sampled_from(PLAIN + OTHERS).map(lambda name: TieBreak(name=name)),
    st.builds(TieBreak, name=st.just("wins"), with_unplayed=st.booleans()),
    st.builds(TieBreak, name=st.just("count_total"), count=st.sampled_from(("flags", "never reported"))),
    direct_encounters,
)
BONUSES = (
    Bonus(kind="margin", threshold=2, points_x2=1),
    Bonus(kind="narrow_loss", threshold=1, points_x2=1),
    Bonus(kind="count_at_least", count="flags", threshold=2, points_x2=2, name="flags"),
    Bonus(kind="clean_sweep", threshold=2, points_x2=3),
)
schemes = st.one_of(
    st.just(Scheme()),
    st.builds(
        Scheme,
        win_x2=st.integers(4, 6),
        draw_x2=st.integers(2, 3),
        loss_x2=st.integers(0, 1),
        bye_x2=st.integers(0, 6),
        forfeit_win_x2=st.integers(0, 6),
        forfeit_loss_x2=st.integers(-2, 0),
        absent_x2=st.integers(0, 2),
        showing_up_x2=st.integers(0, 1),
        bonuses=st.lists(st.sampled_from(BONUSES), unique_by=lambda bonus: bonus.kind).map(tuple),
    ),
)
rules = st.builds(
    Rules,
    scheme=schemes,
    tie_breaks=st.lists(tie_breaks, max_size=4, unique_by=lambda one: one.column).map(tuple),
    unplayed_policy=st.sampled_from(("as_scored", "fide_2009", "fide_2023")),
    leavers=st.sampled_from(("keep", "annul")),
    rank_by=st.sampled_from(("points", "points_per_game")),
    seed=st.integers(0, 3),
)


def side(draw: st.DrawFn, entrant_id: str, **given: object) -> Side:
    return Side(
        entrant_id=entrant_id,
        counts=draw(st.dictionaries(st.just("flags"), st.integers(0, 3))),
        value_destroyed=draw(st.integers(0, 3)),
        value_lost=draw(st.integers(0, 3)),
        **given,
    )


def meeting(draw: st.DrawFn, players: list[str]) -> tuple[Side, ...]:
    """A game of these players: by scores, by stated outcomes with or without scores, or a forfeit."""
    if len(players) == 1:
        return (side(draw, players[0], unplayed=draw(st.sampled_from(("bye", "absent", "forfeit_win")))),)
    how = draw(st.sampled_from(("scores", "scores", "stated", "stated with scores", "forfeit")))
    scores = draw(st.lists(st.integers(-1, 4), min_size=len(players), max_size=len(players)))
    if how == "scores" or len(players) > 2:
        return tuple(side(draw, one, score=score) for one, score in zip(players, scores, strict=True))
    if how == "forfeit":
        words = draw(st.sampled_from((("forfeit_win", "forfeit_loss"), ("forfeit_loss", "forfeit_loss"))))
        return tuple(side(draw, one, unplayed=word) for one, word in zip(players, words, strict=True))
    words = draw(st.sampled_from((("win", "loss"), ("draw", "draw"), ("loss", "loss"))))
    known = scores if how == "stated with scores" else (None, None)
    return tuple(
        side(draw, one, outcome=word, score=score) for one, word, score in zip(players, words, known, strict=True)
    )


@st.composite
def seasons(draw: st.DrawFn) -> tuple[list[Entrant], list[Game], list[Adjustment]]:
    ids = draw(st.lists(st.sampled_from("abcdefg"), unique=True, max_size=7))
    entrants = [Entrant(id=one, name=one.upper(), left=draw(st.integers(0, 4)) == 0) for one in ids]
    games = []
    for round_number in range(draw(st.integers(0, 5))):
        free = list(draw(st.permutations(ids)))
        while free:
            players = [free.pop() for _ in range(min(draw(st.sampled_from((1, 2, 2, 2, 2, 3))), len(free)))]
            if draw(st.integers(0, 5)):
                games.append(Game(id=f"g{len(games)}", round=round_number, sides=meeting(draw, players)))
    given = st.builds(
        Adjustment,
        entrant_id=st.sampled_from(ids or ["a"]),
        points_x2=st.integers(-4, 4),
        reason=st.just("Late list"),
        round=st.integers(0, 4),
    )
    return entrants, games, draw(st.lists(given, max_size=2)) if ids else []


@st.composite
def close_seasons(draw: st.DrawFn) -> tuple[list[Entrant], list[Game], list[Adjustment]]:
    """Nearly everybody met nearly everybody, goals were few, and points given bring many level."""
    ids = list("abcdef"[: draw(st.integers(3, 6))])
    games = []
    for one, other in combinations(ids, 2):
        if draw(st.integers(0, 11)):
            scores = draw(st.sampled_from(((0, 0), (1, 1), (1, 0), (0, 1), (2, 0), (0, 2))))
            sides = tuple(Side(entrant_id=i, score=score) for i, score in zip((one, other), scores, strict=True))
            games.append(Game(id=f"{one}-{other}", sides=sides))
    level = draw(st.lists(st.booleans(), min_size=len(ids), max_size=len(ids)))
    scored = {
        one: sum(
            2 if mine.score > theirs.score else 1 if mine.score == theirs.score else 0
            for game in games
            for mine, theirs in (game.sides, game.sides[::-1])
            if mine.entrant_id == one
        )
        for one in ids
    }
    given = [
        Adjustment(entrant_id=one, points_x2=10 - scored[one], reason="Brought level")
        for one, wanted in zip(ids, level, strict=True)
        if wanted
    ]
    return [Entrant(id=one, name=one) for one in ids], games, given
