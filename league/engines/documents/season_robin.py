"""Round robins of a season: a whole division, or its groups side by side."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from league.engines.documents.season_divisions import groups_of, ids_of, in_seeding
from league.engines.documents.season_parts import SeasonDocument
from league.engines.pairing import RobinRound, round_robin

__all__ = ["group_rounds", "robin_rounds"]

FEWEST = 2


def robin_rounds(season: SeasonDocument, division: str) -> tuple[tuple[RobinRound, ...], ...]:
    """The rounds of a division by the Berger tables: for each round one entry, or one per group.

    A group of one has no round; a group that is through earlier than the others is left out of the later ones.

    Raises:
        BadRound: fewer than two entrants, or fewer entrants than groups.
    """
    if season.pairing.format == "groups_knockout":
        return group_rounds(groups_of(season, division))
    rounds = round_robin(ids_of(in_seeding(season, division)), double=season.pairing.format == "double_round_robin")
    return tuple((each,) for each in rounds)


def group_rounds(groups: Sequence[Sequence[str]]) -> tuple[tuple[RobinRound, ...], ...]:
    """Several round robins side by side."""
    by_group = [round_robin(group) for group in groups if len(group) >= FEWEST]
    return tuple(tuple(each for each in abreast if each is not None) for abreast in zip_longest(*by_group))
