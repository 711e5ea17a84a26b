"""Nights made by hypothesis, for laws that hold of every night."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from league.engines.rulesets import CATEGORIES, IMPORTANCES, MAKES, PERS

LINES = st.text(
    st.characters(exclude_categories=["Cc", "Cs"], exclude_characters="\x7f"), min_size=1, max_size=12
).filter(lambda text: text.strip() != "")
COLOURS = st.sampled_from(["", "red", "blue"])
USES = st.sampled_from(["", "hill", "activation"])


def left_out(draw: Any, **fields: Any) -> dict[str, Any]:
    """Of these fields each or not."""
    return {name: draw(values) for name, values in fields.items() if draw(st.booleans())}


@st.composite
def wanted(draw: Any) -> dict[str, Any]:
    category = draw(st.sampled_from(CATEGORIES))
    more = left_out(draw, use=USES, colour=COLOURS, size_mm=st.integers(1, 2000), scale_mm=st.sampled_from([20, 28]))
    sides = {"sides": 6} if category == "die" and draw(st.booleans()) else {}
    return {"category": category, **sides, **more}


@st.composite
def rulesets(draw: Any) -> dict[str, Any]:
    needs = [
        {
            "key": f"need{number}",
            "name": draw(LINES),
            "wanted": draw(wanted()),
            "per": draw(st.sampled_from(PERS)),
            "gear": ["rifles"],
            "count": draw(st.integers(1, 3)),
            **left_out(draw, of=st.integers(1, 4), spare=st.integers(0, 2)),
        }
        for number in range(draw(st.integers(0, 3)))
    ]
    stand_ins = [
        {"need": each["key"], "piece": draw(wanted()), **left_out(draw, covers=st.integers(1, 3))} for each in needs
    ]
    return {
        "format": "drumhead ruleset 1",
        "name": draw(LINES),
        "unit_classes": [{"key": "line", "name": "Line", "figures_least": 1, "figures_most": 9}],
        **left_out(draw, kit=st.just({"needs": needs, "stand_ins": stand_ins})),
    }


@st.composite
def sides(draw: Any, key: str) -> dict[str, Any]:
    units = st.fixed_dictionaries(
        {"name": LINES, "class": st.just("line"), "figures": st.integers(1, 9)},
        optional={"gear": st.lists(st.sampled_from(["rifles", "2 rifles", "horn"]), max_size=2)},
    )
    return {"key": key, "units": draw(st.lists(units, max_size=3)), **left_out(draw, name=LINES)}


@st.composite
def needs(draw: Any, number: int) -> dict[str, Any]:
    stand_in = {"piece": draw(wanted()), **left_out(draw, takes=st.integers(1, 2), at_home=st.booleans(), note=LINES)}
    return {
        "key": f"told{number}",
        "name": draw(LINES),
        "wanted": draw(wanted()),
        "count": draw(st.integers(1, 9)),
        **left_out(
            draw,
            importance=st.sampled_from(IMPORTANCES),
            make=st.sampled_from(MAKES),
            why=st.lists(LINES, max_size=2),
            stand_ins=st.just([stand_in]),
        ),
    }


@st.composite
def nights(draw: Any) -> dict[str, Any]:
    """A document in order, with few or many of its optional parts."""
    books = {key: draw(rulesets()) for key in ("reeds", "levee")[: draw(st.integers(0, 2))]}
    tables = []
    for number in range(draw(st.integers(0, 3))):
        table: dict[str, Any] = {
            "id": f"t{number}",
            "needs": [draw(needs(each)) for each in range(draw(st.integers(0, 2)))],
        }
        if books and draw(st.booleans()):
            game = {
                "ruleset": draw(st.sampled_from(sorted(books))),
                "sides": [draw(sides("east")), draw(sides("west"))],
            }
            table["game"] = {**game, **left_out(draw, scale_mm=st.none() | st.sampled_from([20, 28]))}
        tables.append(table)
    ids = [each["id"] for each in tables]
    people = [
        {
            "id": f"p{number}",
            **left_out(
                draw, carries_most_ml=st.none() | st.integers(0, 99), has_packed=st.booleans(), tables=st.just(ids)
            ),
        }
        for number in range(draw(st.integers(0, 3)))
    ]
    owners = st.sampled_from([None, *(each["id"] for each in people)])
    holdings = []
    for number in range(draw(st.integers(0, 4))):
        piece = {
            "category": draw(st.sampled_from(CATEGORIES)),
            **left_out(draw, use=USES, colour=COLOURS, sizes_mm=st.lists(st.integers(1, 2000), max_size=3)),
        }
        held = {
            "id": f"h{number}",
            "name": draw(LINES),
            "piece": piece,
            "count": draw(st.integers(1, 9)),
            "carrier": draw(owners),
        }
        holdings.append(held | left_out(draw, bulk_ml=st.integers(0, 50)))
    packed = [{"holding": each["id"], "table": ids[0], "count": 1} for each in holdings if ids and draw(st.booleans())]
    offers = [
        {
            "id": f"o{number}",
            "name": draw(LINES),
            "piece": {"category": draw(st.sampled_from(CATEGORIES))},
            "pieces": draw(st.integers(1, 50)),
            "price_pence": draw(st.integers(0, 900)),
            **left_out(draw, most=st.none() | st.integers(0, 9)),
        }
        for number in range(draw(st.integers(0, 2)))
    ]
    return {
        "format": "drumhead night 1",
        "name": draw(LINES),
        "tables": tables,
        **left_out(draw, offers=st.just(offers), budget_pence=st.none() | st.integers(0, 5000)),
        **left_out(draw, club=LINES, on=st.none() | st.dates().map(lambda day: day.isoformat())),
        "rulesets": books,
        "people": people,
        "holdings": holdings,
        "packed": packed,
    }
