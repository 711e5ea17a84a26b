"""What is refused, with everything that is wrong at once; and rounds that have to give way."""

from __future__ import annotations

import pytest

from league.engines.pairing import BadRound, Criteria, NoRound, Pins, Player, TooWide, matching, pair_swiss

THREE = [
    Player(id="a", name="Ada", met=("b", "c")),
    Player(id="b", name="Ben", met=("a", "c")),
    Player(id="c", name="Cleo", met=("a", "b")),
]


def test_three_who_have_all_met_are_paired_again_and_told_why():
    draft = pair_swiss(THREE, seed="s")
    (gave_way,) = draft.gave_way
    assert (gave_way.criterion, gave_way.total, gave_way.unavoidable) == ("repeat", 1, True)
    assert gave_way.witness is not None
    assert gave_way.witness.blockers == ("",)
    assert gave_way.witness.groups == (("a",), ("b",), ("c",))
    assert "apart from the bye there are 3 groups" in gave_way.words


def test_three_who_have_all_met_are_refused_where_repeats_may_not_be():
    with pytest.raises(NoRound) as refused:
        pair_swiss(THREE, seed="s", criteria=Criteria(must=("repeat",)))
    assert refused.value.gave_way[0].witness is not None
    assert "No round keeps what must be kept. No repeats" in refused.value.violations[0]


def test_what_must_be_kept_comes_before_the_order():
    """Without a repeat one of the two who had a bye has to have a second one."""
    players = [
        Player(id="a", met=("b",), byes=1),
        Player(id="b", met=("a",), byes=1),
        Player(id="c"),
    ]
    order = ("bye", "repeat")
    assert pair_swiss(players, seed="s", criteria=Criteria(order=order)).byes[0].id == "c"
    kept = pair_swiss(players, seed="s", criteria=Criteria(order=order, must=("repeat",)))
    assert kept.byes[0].id in "ab"
    assert dict(kept.totals) == {"repeat": 0, "bye": 1}


def test_a_criterion_kept_only_at_the_expense_of_one_above_is_said_to_be():
    """Two pairs of a household; the only way apart is a repeat."""
    players = [
        Player(id="a", parties=frozenset({"x"}), met=("c", "d")),
        Player(id="b", parties=frozenset({"x"}), met=("c", "d")),
        Player(id="c", met=("a", "b")),
        Player(id="d", met=("a", "b")),
    ]
    (gave_way,) = pair_swiss(players, seed="s", criteria=Criteria(order=("repeat", "party"))).gave_way
    assert (gave_way.criterion, gave_way.unavoidable, gave_way.where) == ("party", False, gave_way.where)
    assert [set(each) for each in gave_way.where] == [{"a", "b"}]
    assert gave_way.words.endswith("Every round that keeps it is worse in a criterion above.")


def test_everything_wrong_is_said_at_once():
    players = [
        Player(id="a", withdrawn=True),
        Player(id="b", byes=-1),
        Player(id="b"),
        Player(id="c", met=("c",)),
        Player(id="d", roles=("spectate",)),  # type: ignore[arg-type]
        Player(id="e", floats=("sideways",)),  # type: ignore[arg-type]
        Player(id="f", points_x2=10**12),
    ]
    pins = Pins(pairings=(("a", "x"), ("c", "d", "e")), byes=("c",))
    criteria = Criteria(order=("repeat", "repeat", "luck"))  # type: ignore[arg-type]
    with pytest.raises(BadRound) as refused:
        pair_swiss(players, seed="s", pins=pins, criteria=criteria)
    assert set(refused.value.violations) == {
        "Entrant b is entered 2 times.",
        "b cannot have had -1 byes.",
        "c is said to have met themselves.",
        "d had an unknown role in some round.",
        "e was paired neither up, nor down, nor level in some round.",
        "The points or the rating of f are out of range.",
        "There is no criterion called 'luck'.",
        "The criterion 'repeat' is listed 2 times.",
        "a has withdrawn and cannot be pinned.",
        "x is pinned, who is not an entrant.",
        "c is pinned 2 times.",
        "A pinned pairing has 2 entrants, not 3.",
    }


def test_nobody_cannot_be_paired():
    with pytest.raises(BadRound, match="nobody to pair"):
        pair_swiss([Player(id="a", withdrawn=True)], seed="s")


def test_one_alone_has_the_bye():
    draft = pair_swiss([Player(id="a")], seed="s")
    assert (draft.pairings, [bye.id for bye in draft.byes]) == ((), ["a"])


def test_a_round_of_pins_alone_is_a_round():
    draft = pair_swiss([Player(id="a"), Player(id="b")], seed="s", pins=Pins(pairings=(("b", "a"),)))
    assert [(set(each.ids), each.pinned) for each in draft.pairings] == [({"a", "b"}, True)]


def test_costs_that_cannot_be_compared_exactly_are_refused(monkeypatch):
    monkeypatch.setattr(matching, "MOST_BITS", 20)
    with pytest.raises(TooWide) as refused:
        pair_swiss([Player(id=f"e{n}", points_x2=n * 10**8) for n in range(8)], seed="s")
    assert "20 are there" in refused.value.violations[0]
