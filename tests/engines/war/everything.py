"""One fact of every kind, for documents."""

from __future__ import annotations

from league.engines.strength import Casualty, Engagement, RosterUnit
from league.engines.war import (
    AddDepot,
    AwardPoints,
    BattleOutcome,
    BuildDepot,
    Closed,
    DigIn,
    DropDepot,
    ForceOutcome,
    GrantStock,
    Hold,
    Laws,
    MapEdited,
    Move,
    OutsideBattle,
    PlaceForce,
    Postponed,
    RaiseForce,
    Rebuild,
    RemoveForce,
    Replacement,
    Roll,
    Ruling,
    SendSupply,
    SetControl,
    Settlement,
    TurnSeed,
)
from tests.engines.war.world import MAP, Book, force


def every_kind():
    book = Book()
    seed = book.write(TurnSeed, 1, commitment="ab" * 32)
    book.orders(
        1,
        "commons",
        Move(force="pikes", roads=("dyke",)),
        DigIn(force="sappers"),
        BuildDepot(region="mere"),
        SendSupply(origin="arrel", to="mere", amount=2),
        importance=("pikes", "sappers"),
    )
    book.orders(
        1,
        "wardens",
        Hold(force="lancers"),
        Rebuild(force="guard", replacements=(Replacement(unit_id=7, figures=3),)),
    )
    book.reveal(1)
    book.write(Roll, 1, label="1:sedge/first", sides=6, results=(4,), thrown="drawn")
    old = book.write(
        BattleOutcome,
        1,
        battle="1:sedge",
        winner="commons",
        forces=(
            ForceOutcome(
                force="pikes",
                casualties=(Casualty(unit_id="pikes-1", figures_lost=2, routed=True, rolls=(1, 6)),),
                fielded=frozenset({"pikes-1", 9}),
                supply_used=0,
            ),
        ),
        captured=0,
        source="simulated",
        label="1:sedge/simulated",
        laws=Laws(numbers_x1000=-200, reports=14),
    )
    book.write(Postponed, 1, battle="1:mere", reason="Snow")
    book.write(
        OutsideBattle,
        1,
        force="guard",
        engagement=Engagement(
            id=3,
            sequence=2,
            outcome="loss",
            casualties=(Casualty(unit_id="guard-1", destroyed=True, figures_lost=10),),
            listed={"guard-1": RosterUnit(id="guard-1", unit_class="foot", figures=10)},
        ),
    )
    book.close(1)
    book.write(TurnSeed, 1, commitment="ab" * 32, seed="cd" * 32, supersedes=seed.id)
    book.write(
        Ruling,
        2,
        reason="Agreed by both",
        phase="orders",
        effects=(
            SetControl(region="isle", faction="commons"),
            SetControl(region="isle"),
            PlaceForce(force="pikes", region="isle"),
            RemoveForce(force="guard"),
            RaiseForce(force=force("levy", "commons", "arrel")),
            AddDepot(region="isle", faction="commons"),
            DropDepot(region="isle"),
            GrantStock(region="arrel", faction="commons", amount=-4),
            AwardPoints(faction="wardens", points=-1),
        ),
    )
    book.write(Settlement, 2, reason="Too long ago", outcome=old.id, reference="report 12")
    book.write(MapEdited, 3, map=MAP, reason="A new road", effects=(SetControl(region="mere", faction="wardens"),))
    book.write(Closed, 3)
    return tuple(book.facts)
