"""Seasons made by hypothesis, for laws that hold of every season."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

NAMES = st.text(
    st.characters(exclude_categories=["Cc", "Cs"], exclude_characters="\x7f"), min_size=1, max_size=20
).filter(lambda text: text.strip() != "")
DAYS = st.none() | st.dates().map(lambda day: day.isoformat())
HALVES = st.integers(-20, 20)


@st.composite
def rules(draw: Any) -> dict[str, Any]:
    ties = draw(st.lists(st.sampled_from(["wins", "buchholz_cut1", "score_for", "drawn_lot"]), unique=True))
    direct = {
        "name": "direct_encounter",
        "pieces": draw(st.permutations(["points", "wins"])),
        "reapply": draw(st.booleans()),
    }
    return {
        "scheme": {
            "win_x2": draw(HALVES),
            "draw_x2": draw(HALVES),
            "loss_x2": draw(HALVES),
            "showing_up_x2": draw(HALVES),
            "bonuses": draw(
                st.sampled_from([[], [{"kind": "count_at_least", "points_x2": 1, "threshold": 2, "count": "flags"}]])
            ),
        },
        "tie_breaks": [{"name": name} for name in ties] + draw(st.sampled_from([[], [direct]])),
        "unplayed_policy": draw(st.sampled_from(["as_scored", "fide_2009", "fide_2023"])),
        "leavers": draw(st.sampled_from(["keep", "annul"])),
        "rank_by": draw(st.sampled_from(["points", "points_per_game"])),
        "counts": draw(st.sampled_from(["filed", "confirmed"])),
    }


@st.composite
def played(draw: Any, entrants: list[str]) -> dict[str, Any]:
    """A game with a report, or one still to be played."""
    report = draw(st.sampled_from(["none", "awaiting", "confirmed", "disputed", "settled", "void"]))
    sides: list[dict[str, Any]] = [{"entrant": entrant} for entrant in entrants]
    if report != "none":
        for side in sides:
            side["score"] = draw(st.integers(0, 40))
            side["conceded"] = draw(st.booleans())
            side["value_destroyed"] = draw(st.integers(0, 500))
            side["value_lost"] = draw(st.integers(0, 500))
            side["counts"] = draw(st.dictionaries(st.sampled_from(["flags", "wagons", "Brücke"]), st.integers(0, 9)))
        if draw(st.booleans()):
            outcomes = draw(st.sampled_from([("win", "loss"), ("loss", "win"), ("draw", "draw"), ("loss", "loss")]))
            for place, side in enumerate(sides):
                side["outcome"] = outcomes[place] if place < 2 else "loss"
            if draw(st.booleans()):
                for side in sides:
                    side["score"] = None
    return {"report": report, "sides": sides, "scenario": draw(st.sampled_from([None, "bridge", "night raid"]))}


@st.composite
def forfeited(draw: Any, entrants: list[str]) -> dict[str, Any]:
    reasons = draw(st.permutations(["forfeit_win"] + ["forfeit_loss"] * (len(entrants) - 1)))
    return {"sides": [{"entrant": who, "unplayed": why} for who, why in zip(entrants, reasons, strict=True)]}


@st.composite
def seasons(draw: Any) -> dict[str, Any]:
    """A whole season document, not necessarily in canonical form."""
    names = draw(st.lists(NAMES, min_size=2, max_size=6, unique=True))
    ids = [f"e{place}" for place in range(len(names))]
    numbers = draw(st.lists(st.integers(1, 9), max_size=3, unique=True))
    games: list[dict[str, Any]] = []
    for number in [*numbers, *draw(st.sampled_from([[], [0], [0, 0]]))]:
        order = draw(st.permutations(ids))
        size = draw(st.integers(2, min(3, len(order))))
        games.append({"round": number, **draw(played(order[:size]) | forfeited(order[:size]))})
        if len(order) > size:
            games.append(
                {
                    "round": number,
                    "sides": [{"entrant": order[-1], "unplayed": draw(st.sampled_from(["bye", "absent"]))}],
                }
            )
    for place, game in enumerate(games):
        game["id"] = f"g{place}"
        game["on"] = draw(DAYS)
    left = st.none() | st.fixed_dictionaries(
        {"after_round": st.none() | st.integers(0, 9), "on": DAYS, "reason": st.just("") | NAMES}
    )
    return {
        "format": "drumhead season 1",
        "name": draw(NAMES),
        "club": draw(st.just("") | NAMES),
        "starts_on": "2026-01-15",
        "ends_on": draw(st.sampled_from([None, "2026-01-15", "2026-06-30"])),
        "seed": draw(NAMES),
        "rules": draw(rules()),
        "entrants": [
            {"id": id_, "name": name, "players": draw(st.lists(NAMES, max_size=3)), "left": draw(left)}
            for id_, name in zip(ids, names, strict=True)
        ],
        "rounds": [{"number": number, "on": draw(DAYS), "note": draw(st.just("") | NAMES)} for number in numbers],
        "games": games,
        "adjustments": draw(
            st.lists(
                st.fixed_dictionaries(
                    {
                        "entrant": st.sampled_from(ids),
                        "points_x2": HALVES.filter(bool),
                        "after_round": st.integers(0, 9),
                        "reason": NAMES,
                        "on": DAYS,
                    }
                ),
                max_size=2,
            )
        ),
    }
