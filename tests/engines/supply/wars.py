"""Wars to try supply on: small ones by hand, and as many as wanted at random."""

from __future__ import annotations

import random

from league.engines.maps import Map, Region, Road
from league.engines.supply import Force, Situation, Stock


def region(key: str, **facts) -> Region:
    return Region(**{"key": key, "name": key.title(), "terrain": "open", "x": 0, "y": 0, **facts})


def road(ends: str, *, capacity: int = 10, loss: int = 5, **facts) -> Road:
    """`road("a-b")` is keyed by its ends."""
    first, second = ends.split("-")
    return Road(**{"key": ends, "a": first, "b": second, "capacity": capacity, "loss": loss, **facts})


def force(key: str, where: str, need: int, *, importance: int = 1, faction: str = "north") -> Force:
    return Force(key=key, name=key.title(), faction=faction, region=where, need=need, importance=importance)


def stock(where: str, loads: int, *, faction: str = "north") -> Stock:
    return Stock(region=where, faction=faction, loads=loads)


def war(roads, *, stocks=(), forces=(), enemy=(), contested=(), sources=None, unheld=()) -> Situation:
    """North holds every region that `enemy` (South's) and `unheld` do not name; regions are those of the roads."""
    keys = dict.fromkeys([end for each in roads for end in (each.a, each.b)])
    made = tuple(region(key, port=True, produces=(sources or {}).get(key, 0)) for key in keys)
    holders = {key: "south" if key in enemy else "north" for key in keys if key not in unheld}
    return Situation(
        map=Map(name="Made Up", regions=made, roads=tuple(roads)),
        factions=("north", "south"),
        holders=holders,
        stocks=tuple(stocks),
        forces=tuple(forces),
        contested=frozenset(contested),
    )


def war_at_random(seed: int, *, regions: int = 9, forces: int = 6, ranks: int = 3, factions: int = 2) -> Situation:
    """Any war of that size: regions that nobody holds, contested ones, two roads side by side, islands, empty depots."""
    dice = random.Random(seed)
    keys = [f"r{number:03}" for number in range(regions)]
    sides = [f"side{number}" for number in range(factions)]
    holders = {key: side for key in keys if (side := dice.choice([*sides, *sides[:1] * 2, None]))}
    roads = [
        Road(
            key=f"w{number:03}",
            a=(ends := dice.sample(keys, 2))[0],
            b=ends[1],
            capacity=dice.randrange(8),
            loss=dice.randrange(12),
        )
        for number in range(dice.randrange(regions, 2 * regions))
    ]
    contested = frozenset(dice.sample(keys, dice.randrange(1 + regions // 5)))
    return Situation(
        map=Map(
            name="At Random",
            regions=tuple(region(key, produces=dice.choice([0, 0, 3, 6])) for key in keys),
            roads=tuple(roads),
        ),
        factions=tuple(sides),
        holders=holders,
        stocks=tuple(
            Stock(region=key, faction=holders.get(key, sides[0]), loads=dice.randrange(9))
            for key in dice.sample(keys, dice.randrange(regions // 2))
        ),
        forces=tuple(
            Force(
                key=f"f{number:03}",
                name=f"Force {number}",
                faction=dice.choice(sides),
                region=dice.choice(keys),
                need=dice.randrange(9),
                importance=dice.randrange(1, ranks + 1),
            )
            for number in range(forces)
        ),
        contested=contested,
    )


def shuffled(situation: Situation, seed: int) -> Situation:
    """The same war with everything listed in another order, and roads named from their other end."""
    dice = random.Random(seed)

    def mixed(parts):
        parts = list(parts)
        dice.shuffle(parts)
        return tuple(parts)

    turned = (
        Road(key=each.key, a=each.b, b=each.a, kind=each.kind, capacity=each.capacity, loss=each.loss)
        for each in situation.map.roads
    )
    return Situation(
        map=Map(name=situation.map.name, regions=mixed(situation.map.regions), roads=mixed(turned)),
        factions=mixed(situation.factions),
        holders=dict(mixed(situation.holders.items())),
        stocks=mixed(situation.stocks),
        forces=mixed(situation.forces),
        contested=situation.contested,
    )
