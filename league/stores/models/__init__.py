"""The kit between a club's members: kinds, holdings, the record of every movement, loans, and what is promised."""

from league.stores.models.holdings import Condition, Holding, HoldingQuerySet, new_label
from league.stores.models.kinds import Category, ItemKind, PackOffer
from league.stores.models.movements import Act, Loan, LoanQuerySet, LoanState, Movement, ShelfCount
from league.stores.models.nights import Carrying, PackingReminder, Promise, PromiseTable

__all__ = [
    "Act",
    "Carrying",
    "Category",
    "Condition",
    "Holding",
    "HoldingQuerySet",
    "ItemKind",
    "Loan",
    "LoanQuerySet",
    "LoanState",
    "Movement",
    "PackOffer",
    "PackingReminder",
    "Promise",
    "PromiseTable",
    "ShelfCount",
    "new_label",
]
