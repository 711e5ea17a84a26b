"""Every address of the site, filled with rows of the world."""

from __future__ import annotations

import re

from tests.rights.walk import Address, addresses
from tests.rights.world import World

PARAMETER = re.compile(r"<\w+:(\w+)>")
NOWHERE = {"api-nowhere"}


def places(method: str = "GET") -> list[Address]:
    return [each for each in addresses() if method in each.methods and each.name not in NOWHERE]


def path_of(address: Address, world: World) -> str:
    values = {parameter: world.values[before, parameter] for before, parameter in address.segments}
    return "/" + PARAMETER.sub(lambda found: str(values[found[1]]), address.route)
