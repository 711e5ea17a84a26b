"""The demo club: invented people of an invented club, who play an invented war along the Sedge.

Everything is done by the services, as members would do it; only the dates lie back.
"""

from league.management.demo.club import build_demo

__all__ = ["build_demo"]
