"""The kit of the demo: what the club and its members have, what is lent, and what tonight still lacks."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from django.utils import timezone

from league.clubs.models import Club, Member
from league.management.demo.evenings import Evenings
from league.management.demo.forces import submission
from league.stores.models import Carrying, Holding, ItemKind, Loan
from league.stores.services.holdings import HoldingFacts, add_holding
from league.stores.services.kinds import KindFacts, add_kind, offer_pack
from league.stores.services.loans import ask_for, lend
from league.stores.services.movements import book_movement
from league.stores.services.promises import say_carrying

__all__ = ["fill_stores"]

TIN = 1
KINDS = {
    "d6": KindFacts(name="Six-sided die", category="die", sides=6, bulk_ml=5, cautions=("small_parts",)),
    "d10": KindFacts(name="Ten-sided die", category="die", sides=10, bulk_ml=5, cautions=("small_parts",)),
    "tokens": KindFacts(
        name="Activation token",
        category="token",
        use="activation",
        bulk_ml=TIN,
        can_be_made=True,
        how_made="Wooden discs of 20 mm, painted both sides.",
        cautions=("small_parts",),
    ),
    "suppression": KindFacts(
        name="Suppression marker",
        category="marker",
        use="suppression",
        bulk_ml=TIN,
        can_be_made=True,
        how_made="Punched from red card, two layers glued.",
        cautions=("small_parts",),
    ),
    "bag": KindFacts(name="Draw bag", category="bag", sizes_mm=(200,), bulk_ml=200),
    "stick-36": KindFacts(name="Measuring stick, 36 in", category="ruler", sizes_mm=(914,), bulk_ml=400),
    "stick-24": KindFacts(name="Measuring stick, 24 in", category="ruler", sizes_mm=(610,), bulk_ml=250),
    "tape": KindFacts(name="Tape, 5 ft", category="ruler", sizes_mm=(1524,), bulk_ml=100),
    "stick-12": KindFacts(
        name="Measuring stick, 12 in",
        category="ruler",
        sizes_mm=(305,),
        bulk_ml=60,
        can_be_made=True,
        how_made="Printed at true size and glued on card.",
    ),
    "circles": KindFacts(
        name="Nested circles, 2, 3 and 4 in",
        category="template",
        sizes_mm=(51, 76, 102),
        bulk_ml=40,
        can_be_made=True,
        how_made="Printed at true size on clear sheet.",
    ),
    "mat-6x4": KindFacts(
        name="Mat, 6 x 4 ft", category="mat", sizes_mm=(1829, 1219), bulk_ml=6_000, cautions=("heavy",)
    ),
    "mat-4x4": KindFacts(name="Mat, 4 x 4 ft", category="mat", sizes_mm=(1219, 1219), bulk_ml=4_000),
    "reeds": KindFacts(name="Reed bed", category="scenery", use="reeds", bulk_ml=800),
    "hill": KindFacts(name="Hill", category="scenery", use="hill", bulk_ml=5_000),
    "cart": KindFacts(name="Cart", category="scenery", use="cart", bulk_ml=300),
    "dyke": KindFacts(name="Length of dyke", category="scenery", use="dyke", bulk_ml=1_000),
    "mill": KindFacts(name="Mill", category="scenery", use="building", bulk_ml=4_000),
    "sheet": KindFacts(
        name="Roster sheet", category="paper", use="roster", bulk_ml=2, can_be_made=True, how_made="Printed."
    ),
    "primer": KindFacts(
        name="Spray primer",
        category="consumable",
        use="primer",
        unit="cans",
        bulk_ml=500,
        cautions=("aerosol",),
        caution="Only in the yard behind the shed, never in it.",
    ),
    "knife": KindFacts(name="Hobby knife", category="other", use="knife", bulk_ml=50, cautions=("knife",)),
    "magnets": KindFacts(
        name="Small magnets", category="consumable", use="magnet", bulk_ml=TIN, cautions=("magnet", "small_parts")
    ),
}
PACKS = (
    # kind, pieces, price in pence, where
    ("tokens", 25, 400, "wood shop, Mill Lane"),
    ("tokens", 10, 200, "wood shop, Mill Lane"),
    ("suppression", 50, 650, "craft stall on the quay"),
    ("suppression", 20, 300, "craft stall on the quay"),
    ("d6", 36, 1_100, "game shop, Lock Road"),
    ("d6", 10, 400, "game shop, Lock Road"),
    ("bag", 1, 350, "market"),
    ("stick-36", 1, 280, "wood shop, Mill Lane"),
    ("hill", 2, 1_600, "craft stall on the quay"),
)
CLUBS = (
    # kind, how many, colour, where at the boat shed, scale
    ("mat-6x4", 4, "green", "rolled up behind the door", None),
    ("mat-4x4", 4, "sand", "rolled up behind the door", None),
    ("hill", 16, "", "crate 1", None),
    ("reeds", 24, "", "crate 2", 28),
    ("stick-36", 7, "", "crate 2", None),
    ("stick-24", 2, "", "crate 2", None),
    ("tape", 1, "", "crate 2", None),
    ("circles", 5, "clear", "folder by the stove", None),
    ("sheet", 20, "", "folder by the stove", None),
    ("bag", 3, "green", "crate 2", None),
    ("tokens", 30, "white", "blue tin", None),
    ("dyke", 8, "", "crate 3", None),
    ("mill", 1, "", "crate 3", 20),
    ("d6", 48, "white", "blue tin", None),
    ("suppression", 14, "red", "blue tin", None),
)
Line = tuple[str, int, str, str, int, int | None]
MEMBERS: dict[str, tuple[Line, ...]] = {
    # first name: (kind, how many, colour, where, kept back, scale)
    "Odalys": (("tokens", 12, "red", "cash tin", 0, None), ("bag", 1, "black", "", 0, None)),
    "Ulmar": (
        ("tokens", 20, "blue", "biscuit tin", 0, None),
        ("d6", 30, "blue", "", 6, None),
        ("circles", 2, "clear", "folder", 0, None),
    ),
    "Quenna": (("reeds", 6, "", "shoe box", 0, 28), ("knife", 2, "", "", 0, None), ("primer", 3, "grey", "", 1, None)),
    "Brannoc": (
        ("tokens", 14, "green", "", 0, None),
        ("suppression", 16, "red", "pill box", 2, None),
        ("stick-12", 3, "", "", 1, None),
        ("d6", 20, "red", "", 0, None),
        ("cart", 5, "", "", 0, 28),
    ),
    "Ceriden": (
        ("bag", 2, "grey", "", 0, None),
        ("d10", 8, "black", "", 0, None),
        ("stick-12", 2, "", "", 0, None),
        ("suppression", 10, "yellow", "", 0, None),
        ("tokens", 10, "yellow", "", 0, None),
    ),
    "Tamsin": (("d6", 12, "yellow", "", 0, None), ("mat-6x4", 1, "mud", "under the stairs", 0, None)),
    "Jory": (("tokens", 16, "black", "", 0, None), ("bag", 1, "brown", "", 0, None), ("mill", 2, "", "", 0, 28)),
}
CAN_CARRY = {"Odalys": Carrying.Room.CAR, "Ulmar": Carrying.Room.BAG, "Ceriden": Carrying.Room.POCKET}


def fill_stores(club: Club, people: Mapping[str, Member], evenings: Evenings, *, today: date) -> None:
    """Kinds, holdings, loans and what people said they can carry tonight."""
    kinds = describe_kinds(club, people["Quenna"])
    shed = club_kit(kinds, people["Quenna"], evenings)
    own = {
        (name, line[0], line[2]): write_down(people[name], kinds, line)
        for name, lines in MEMBERS.items()
        for line in lines
    }
    book_movement(
        shed["suppression"],
        act="lost",
        count=2,
        reason="Fell between the floor boards.",
        submission=submission("kit", "lost"),
        by=people["Quenna"],
    )
    lend_some(shed, own, people, today)
    for name, room in CAN_CARRY.items():
        say_carrying(evenings.coming, room=room, by=people[name])


def describe_kinds(club: Club, quartermaster: Member) -> dict[str, ItemKind]:
    kinds = {
        key: add_kind(club, facts=facts, key=key, submission=submission("kind", key), by=quartermaster)
        for key, facts in KINDS.items()
    }
    for key, pieces, pence, note in PACKS:
        offer_pack(kinds[key], pieces=pieces, price_pence=pence, note=note, by=quartermaster)
    return kinds


def club_kit(kinds: Mapping[str, ItemKind], quartermaster: Member, evenings: Evenings) -> dict[str, Holding]:
    """The club's own lies at the boat shed; what shares a crate shares its label."""
    holdings: dict[str, Holding] = {}
    labels: dict[str, str] = {}
    for key, count, colour, place, scale in CLUBS:
        holdings[key] = add_holding(
            kinds[key],
            owner=None,
            count=count,
            facts=HoldingFacts(
                venue=evenings.coming.venue, place=place, colour=colour, scale_mm=scale, label=labels.get(place, "")
            ),
            submission=submission("holding", "club", key),
            by=quartermaster,
        )
        labels[place] = holdings[key].label
    return holdings


def write_down(owner: Member, kinds: Mapping[str, ItemKind], line: Line) -> Holding:
    key, count, colour, place, kept, scale = line
    return add_holding(
        kinds[key],
        owner=owner,
        count=count,
        facts=HoldingFacts(colour=colour, place=place, kept=kept, scale_mm=scale),
        submission=submission("holding", owner.name, key, colour),
        by=owner,
    )


def lend_some(
    shed: Mapping[str, Holding], own: Mapping[tuple[str, str, str], Holding], people: Mapping[str, Member], today: date
) -> None:
    """One loan that runs, one that is asked for, and one that is overdue."""
    today = max(today, timezone.localdate())  # lending goes by the clock, wherever the demo's season stands
    lend(
        own["Quenna", "primer", "grey"],
        borrower=people["Tamsin"],
        count=1,
        due_on=today + timedelta(days=14),
        note="for the new riders",
        submission=submission("loan", "primer"),
        by=people["Quenna"],
    )
    ask_for(
        own["Brannoc", "cart", ""],
        count=2,
        due_on=today + timedelta(days=7),
        note="the cut reeds on Thursday week",
        submission=submission("loan", "carts"),
        by=people["Ceriden"],
    )
    late = lend(
        shed["dyke"],
        borrower=people["Jory"],
        count=2,
        due_on=today,
        note="to paint them",
        submission=submission("loan", "dyke"),
        by=people["Quenna"],
    )
    # Nobody lends until yesterday: a loan becomes overdue by waiting, which a demo cannot.
    Loan.objects.filter(pk=late.pk).update(due_on=today - timedelta(days=9))
