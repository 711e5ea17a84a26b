"""Who is level with whom: groups numbered from 0, best first, split finer by each criterion."""

from __future__ import annotations

import numpy as np

from .ledger import Ints


def refined(groups: Ints, *keys: Ints) -> Ints:
    """The groups split by the keys, first key first, more is better."""
    if not len(groups):
        return groups
    descending = [-key for key in keys]
    order = np.lexsort((*reversed(descending), groups))
    differs = np.zeros(len(order), dtype=np.bool_)
    for column in (groups, *descending):
        in_order = column[order]
        differs[1:] |= in_order[1:] != in_order[:-1]
    numbers = np.empty_like(groups)
    numbers[order] = np.cumsum(differs)
    return numbers
