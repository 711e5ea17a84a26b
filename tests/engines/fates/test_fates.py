"""Dice: which are thrown, what they mean, and how anyone checks those drawn from a seed."""

from __future__ import annotations

import hashlib
import hmac
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.fates import (
    check_rolls,
    die_reading,
    draw_rolls,
    fate_of,
    rolls_needed,
    seed_commitment,
)
from league.engines.rulesets import DICE, CasualtyTable, Outcome, Ruleset, UnitClass

LOST = Outcome(first=1, last=1, fate="lost")
OUT = Outcome(first=2, last=2, fate="out", games=2)
BACK = Outcome(first=3, last=3, fate="back")
WHOLE = CasualtyTable(key="whole", name="Whole units", roll_for="unit", die=3, outcomes=(LOST, OUT, BACK))
SINGLE = CasualtyTable(
    key="single",
    name="Single figures",
    roll_for="figure",
    die=6,
    classes=("line",),
    outcomes=(Outcome(first=1, last=2, fate="lost"), Outcome(first=3, last=6, fate="back")),
)
LINE = UnitClass(key="line", name="Line", figures_least=1, figures_most=20)
RULESET = Ruleset(name="Two Ponds", unit_classes=(LINE,), casualty_tables=(SINGLE, WHOLE))
SEED = bytes(range(32))


def codes(violations):
    return [each.code for each in violations]


@pytest.mark.parametrize(
    ("sides", "readings"),
    [
        (2, [1, 1, 1, 2, 2, 2]),  # common practice, no source
        (3, [1, 1, 2, 2, 3, 3]),  # common practice, no source
        (6, [1, 2, 3, 4, 5, 6]),
        (4, [1, 2, 3, 4]),
    ],
)
def test_a_six_sided_die_serves_as_a_smaller_one(sides, readings):
    reading = die_reading(sides)
    assert [reading.read(face) for face in range(1, reading.thrown + 1)] == readings


@pytest.mark.parametrize("sides", DICE)
def test_every_reading_has_equally_many_faces(sides):
    reading = die_reading(sides)
    faces = Counter(reading.read(face) for face in range(1, reading.thrown + 1))
    assert faces == dict.fromkeys(range(1, sides + 1), reading.thrown // sides)


@pytest.mark.parametrize("face", [0, 7, -1])
def test_a_face_the_die_has_not_is_refused(face):
    with pytest.raises(ValueError, match=f"does not show {face}"):
        die_reading(3).read(face)


def test_a_die_no_table_asks_for_is_refused():
    with pytest.raises(ValueError, match="5 sides"):
        die_reading(5)


def test_a_roll_of_six_sides_answers_a_table_of_three():
    assert [fate_of(WHOLE, face).fate for face in range(1, 7)] == ["lost", "lost", "out", "out", "back", "back"]


def test_each_lost_figure_wants_its_die():
    needed = rolls_needed(RULESET, unit_class="line", figures_lost=4)
    assert (needed.count, needed.sides, needed.table) == (4, 6, SINGLE)


def test_a_unit_rolled_for_as_one_wants_one_die_of_six_for_its_three():
    needed = rolls_needed(RULESET, unit_class="horse", figures_lost=4)
    assert (needed.count, needed.sides, needed.table) == (1, 6, WHOLE)


def test_without_losses_no_die_is_thrown():
    assert [rolls_needed(RULESET, unit_class=each, figures_lost=0).count for each in ("line", "horse")] == [0, 0]


def test_without_a_table_no_die_is_thrown():
    bare = Ruleset(name="Bare", unit_classes=(LINE,))
    assert rolls_needed(bare, unit_class="line", figures_lost=4).count == 0


def test_right_rolls_are_accepted():
    assert check_rolls(rolls_needed(RULESET, unit_class="line", figures_lost=3), (1, 6, 3)) == ()


def test_wrong_rolls_are_all_told_at_once():
    wrong = check_rolls(rolls_needed(RULESET, unit_class="line", figures_lost=2), (0, 6, 7))
    assert [each.text for each in wrong] == [
        "2 dice are wanted, not 3.",
        "Die 1: a die of 6 sides does not show 0.",
        "Die 3: a die of 6 sides does not show 7.",
    ]


def test_the_commitment_is_the_sha256_of_the_seed():
    """FIPS 180-2, appendix B.1 gives the digest of "abc"; here the function it must be is asked beside ours."""
    assert hashlib.sha256(b"abc").hexdigest() == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert seed_commitment(SEED) == hashlib.sha256(SEED).hexdigest()


def test_a_seed_in_hexadecimal_is_the_same_seed():
    assert seed_commitment(SEED.hex()) == seed_commitment(SEED)
    assert draw_rolls(SEED.hex(), "casualty 7", 20, 6) == draw_rolls(SEED, "casualty 7", 20, 6)


def test_the_hmac_of_the_draw_is_the_published_one():
    """RFC 4231, 4.3, test case 2 (from memory, recomputed): the primitive the draw stands on."""
    digest = hmac.digest(b"Jefe", b"what do ya want for nothing?", "sha256").hex()
    assert digest == "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"


def test_a_draw_can_be_repeated_by_hand():
    """The recipe of the documentation, written out once more: blocks, bytes, those from 252 up thrown away."""
    blocks = b"".join(
        hmac.new(SEED, b"casualty 7" + b"\x00" + number.to_bytes(8, "big"), hashlib.sha256).digest()
        for number in range(3)
    )
    by_hand = [byte % 6 + 1 for byte in blocks if byte < 252]
    assert draw_rolls(SEED, "casualty 7", 80, 6) == tuple(by_hand[:80])


@pytest.mark.parametrize("sides", [2, 3, 6, 10, 20, 100, 255, 256])
def test_each_face_is_left_with_equally_many_bytes(sides):
    """Why the draw is fair: of the 256 values of a byte, those kept are shared evenly among the faces."""
    kept = [byte for byte in range(256) if byte < sides * (256 // sides)]
    assert set(Counter(byte % sides for byte in kept).values()) == {256 // sides}
    everything = b"".join(hmac.digest(SEED, b"x\x00" + n.to_bytes(8, "big"), "sha256") for n in range(40))
    expected = tuple(byte % sides + 1 for byte in everything if byte in set(kept))
    assert draw_rolls(SEED, "x", 500, sides) == expected[:500]


def test_many_draws_show_each_face_about_as_often():
    """Pearson's chi-squared for 6,000 throws; 20.515 is the upper 0.1 % point for 5 degrees (tables; from memory)."""
    faces = Counter(draw_rolls(SEED, "many", 6000, 6))
    assert sum((faces[face] - 1000) ** 2 / 1000 for face in range(1, 7)) < 20.515


@given(
    st.binary(min_size=32, max_size=32),
    st.text(st.characters(exclude_characters="\0", codec="utf-8")),
    st.integers(2, 256),
)
def test_more_dice_only_add_to_those_drawn(seed, label, sides):
    ten = draw_rolls(seed, label, 10, sides)
    assert draw_rolls(seed, label, 4, sides) == ten[:4]
    assert all(1 <= roll <= sides for roll in ten)


def test_another_label_or_another_seed_gives_other_dice():
    draws = {draw_rolls(SEED, "a", 40, 6), draw_rolls(SEED, "b", 40, 6), draw_rolls(bytes(32), "a", 40, 6)}
    assert len(draws) == 3


@pytest.mark.parametrize(
    ("seed", "label", "count", "sides"),
    [
        (b"short", "a", 1, 6),
        (SEED, "a\0b", 1, 6),
        (SEED, "a", -1, 6),
        (SEED, "a", 1, 1),
        (SEED, "a", 1, 257),
        ("zz", "a", 1, 6),
    ],
)
def test_an_impossible_draw_is_refused(seed, label, count, sides):
    with pytest.raises(ValueError, match=r".+"):
        draw_rolls(seed, label, count, sides)
