"""What the stores answer when asked; other rooms import from here."""

from league.stores.queries.asking import Asked, read_asked
from league.stores.queries.balances import Balance, Window, balance_of, balances_of, with_spare
from league.stores.queries.cautions import CAUTIONS, Caution, cautions_of, deference
from league.stores.queries.spares import SpareAsk, Spares, find_spares

__all__ = [
    "CAUTIONS",
    "Asked",
    "Balance",
    "Caution",
    "SpareAsk",
    "Spares",
    "Window",
    "balance_of",
    "balances_of",
    "cautions_of",
    "deference",
    "find_spares",
    "read_asked",
    "with_spare",
]
