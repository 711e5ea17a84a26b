"""Who may do what with a club's rulesets. Predicates only."""

from __future__ import annotations

from league.clubs.models import Member
from league.clubs.permissions import can_run_club, can_umpire

__all__ = ["can_write_rules"]


def can_write_rules(member: Member | None) -> bool:
    """Organisers and umpires describe the game systems the club plays by; every member reads them."""
    return can_run_club(member) or can_umpire(member)
