"""What a newcomer needs, and where it comes from."""

from __future__ import annotations

from league.engines.kit.first_game import first_game
from league.engines.kit.items import Piece
from league.engines.kit.model import Demand
from league.engines.kit.needs import Asked
from league.engines.kit.night import Holding
from league.engines.rulesets import StandIn, Wanted


def asked(key, category, count=1, make="", at_home="", **wanted):
    stand_ins = (
        [StandIn(need=key, piece=Wanted(category="other", use="book"), at_home=True, note=at_home)] if at_home else []
    )
    return Asked(
        demand=Demand(key=f"t1/{key}", table="t1", name=key, count=count),
        need=key,
        wanted=Wanted(category=category, **wanted),
        sharing="shared",
        make=make,
        stand_ins=tuple(stand_ins),
    )


def holding(key, category, count, carrier, **piece):
    return Holding(key=key, name=key, piece=Piece(category=category, **piece), count=count, carrier=carrier)


def answers(asked, holdings):
    needs = first_game(asked, holdings, newcomer="pell", lenders={"quenna": "Quenna", "ulmar": "Ulmar"})
    return [(each.demand.name, [(step.answer, step.count, step.who) for step in each.steps]) for each in needs]


def test_the_page_goes_from_what_is_there_to_what_is_bought_last():
    wanted = [
        asked("reeds", "scenery", use="reeds"),
        asked("sheet", "paper", make="print"),
        asked("counters", "marker", make="make"),
        asked("hill", "scenery", use="hill", at_home="A book under the cloth"),
        asked("dice", "die", count=6, sides=6),
        asked("bag", "bag"),
        asked("tokens", "token", count=4),
    ]
    held = [
        holding("mine", "token", 4, "pell"),
        holding("sack", "bag", 1, None),
        holding("white dice", "die", 20, "ulmar", sides=6),
    ]
    assert answers(wanted, held) == [
        ("tokens", [("have", 4, "pell")]),
        ("bag", [("venue", 1, None)]),
        ("dice", [("lend", 6, "ulmar")]),
        ("hill", [("home", 1, None)]),
        ("sheet", [("print", 1, None)]),
        ("counters", [("make", 1, None)]),
        ("reeds", [("buy", 1, None)]),
    ]


def test_one_need_may_take_several_answers():
    held = [holding("mine", "die", 4, "pell", sides=6), holding("white dice", "die", 5, "ulmar", sides=6)]
    assert answers([asked("dice", "die", count=12, sides=6)], held) == [
        ("dice", [("have", 4, "pell"), ("lend", 5, "ulmar"), ("buy", 3, None)]),
    ]


def test_ones_own_comes_before_what_others_lend():
    held = [holding("theirs", "bag", 1, "ulmar"), holding("mine", "bag", 1, "pell")]
    assert answers([asked("bag", "bag")], held) == [("bag", [("have", 1, "pell")])]


def test_as_few_are_asked_as_can_be():
    held = [
        holding("bag of quenna", "bag", 1, "quenna"),
        holding("bag of ulmar", "bag", 1, "ulmar"),
        holding("dice of ulmar", "die", 6, "ulmar", sides=6),
    ]
    lenders = {
        who
        for _name, steps in answers([asked("bag", "bag"), asked("dice", "die", 6, sides=6)], held)
        for _a, _c, who in steps
    }
    assert lenders == {"ulmar"}


def test_what_belongs_to_nobody_who_lends_is_not_offered():
    assert answers([asked("bag", "bag")], [holding("sack", "bag", 1, "stranger")]) == [("bag", [("buy", 1, None)])]


def test_nothing_asked_is_an_empty_page():
    assert answers([], []) == []


def test_a_club_of_hundreds_lends_no_less_than_there_is():
    """Each has one die; twelve are wanted, and a bag that only the last has."""
    held = [holding(f"die {number}", "die", 1, f"p{number}", sides=6) for number in range(300)]
    held.append(holding("sack", "bag", 1, "p299"))
    lenders = {f"p{number}": f"Member {number}" for number in range(300)}
    needs = first_game([asked("dice", "die", 12, sides=6), asked("bag", "bag")], held, newcomer="pell", lenders=lenders)
    who = {each.demand.name: [step.who for step in each.steps] for each in needs}
    assert len(who["dice"]) == 12
    assert who["bag"] == ["p299"]
    assert "p299" in who["dice"]
