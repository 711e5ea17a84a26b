from __future__ import annotations

from league.engines.war import GrantStock, Revealed, Ruling, replay
from tests.engines.war.world import CAMPAIGN, Book


def test_supply_granted_on_ground_the_enemy_holds_lies_there_unused_until_it_spoils():
    book = Book()
    effects = (GrantStock(region="arrel", faction="wardens", amount=3),)
    book.write(Ruling, 1, reason="A mistake.", effects=effects, phase="orders")
    book.write(Revealed, 1)
    assert replay(CAMPAIGN, book.facts)[-1].balances["arrel", "wardens"] == 300
    book.close(1)
    assert ("arrel", "wardens") not in replay(CAMPAIGN, book.facts)[1].balances
