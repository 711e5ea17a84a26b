"""What is short and which packs are sold, told in a few words, and at random."""

from __future__ import annotations

from hypothesis import strategies as st

from league.engines.kit.items import Piece
from league.engines.kit.model import Demand
from league.engines.kit.needs import Asked
from league.engines.kit.offers import Offer, Purchase
from league.engines.rulesets import Wanted

IMPORTANCES = ("needed", "wanted", "pleasant")


def asked(key: str, category: str = "marker", *, importance: str = "needed", **wanted) -> Asked:
    return Asked(
        demand=Demand(key=key, table="t1", name=key, count=0, importance=importance),  # type: ignore[arg-type]
        need=key,
        wanted=Wanted(category=category, **wanted),
    )


def offer(key: str, pieces: int, price: int, category: str = "marker", *, most: int | None = None, **piece) -> Offer:
    made = Piece(category=category, **piece)  # type: ignore[arg-type]
    return Offer(key=key, name=key, piece=made, pieces=pieces, price_pence=price, most=most)


def packs(purchase: Purchase) -> dict[str, int]:
    return {line.offer.key: line.packs for line in purchase.lines}


def left(purchase: Purchase) -> dict[str, int]:
    return {key: count for key, count, _why in purchase.left}


@st.composite
def markets(draw: st.DrawFn) -> tuple[list[tuple[Asked, int]], list[Offer], int | None]:
    """Up to three needs of two sorts, up to four packs of them."""
    uses = ("smoke", "fire")
    missing = [
        (
            asked(f"d{at}", use=draw(st.sampled_from(uses)), importance=draw(st.sampled_from(IMPORTANCES))),
            draw(st.integers(1, 6)),
        )
        for at in range(draw(st.integers(1, 3)))
    ]
    offers = [
        offer(
            f"o{at}",
            draw(st.integers(1, 5)),
            draw(st.integers(0, 9)),
            most=draw(st.sampled_from([None, 0, 1, 2])),
            use=draw(st.sampled_from(("", *uses))),
        )
        for at in range(draw(st.integers(0, 4)))
    ]
    return missing, offers, draw(st.one_of(st.none(), st.integers(0, 25)))


def tools() -> st.SearchStrategy[tuple[list[tuple[Asked, int]], list[Offer], int | None]]:
    """Dice for up to three purposes of one table, and up to three packs of them."""
    needs = st.lists(st.integers(1, 6), min_size=1, max_size=3)
    packs = st.lists(st.tuples(st.integers(1, 5), st.integers(0, 9), st.integers(0, 2)), max_size=3)
    return st.builds(
        lambda counts, sold, budget: (
            [(asked(f"d{at}", "die", sides=6), count) for at, count in enumerate(counts)],
            [offer(f"o{at}", size, price, "die", most=most, sides=6) for at, (size, price, most) in enumerate(sold)],
            budget,
        ),
        needs,
        packs,
        st.one_of(st.none(), st.integers(0, 20)),
    )
