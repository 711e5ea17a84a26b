"""What the stores answer when asked; other rooms import from here."""

from league.stores.queries.balances import Balance, Window, balance_of, with_spare
from league.stores.queries.cautions import CAUTIONS, Caution, cautions_of, deference

__all__ = [
    "CAUTIONS",
    "Balance",
    "Caution",
    "Window",
    "balance_of",
    "cautions_of",
    "deference",
    "with_spare",
]
