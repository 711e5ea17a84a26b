"""What the stores answer when asked; other rooms import from here."""

from league.stores.queries.asking import Asked, read_asked
from league.stores.queries.balances import Balance, Window, balance_of, balances_of, with_spare
from league.stores.queries.cautions import CAUTIONS, Caution, cautions_of, deference
from league.stores.queries.lists import packing_lists, shortfalls, table_lists
from league.stores.queries.plan import NightPlan, plan_for
from league.stores.queries.spares import SpareAsk, Spares, find_spares

__all__ = [
    "CAUTIONS",
    "Asked",
    "Balance",
    "Caution",
    "NightPlan",
    "SpareAsk",
    "Spares",
    "Window",
    "balance_of",
    "balances_of",
    "cautions_of",
    "deference",
    "find_spares",
    "packing_lists",
    "plan_for",
    "read_asked",
    "shortfalls",
    "table_lists",
    "with_spare",
]
