"""Who may do what with the kit. Predicates only: they neither raise nor read lists.

A holding's `owner`, `keeper` and `club` are read through what was selected with it.
"""

from __future__ import annotations

from league.clubs.models import Club, Member
from league.clubs.permissions import can_run_club
from league.stores.models import Holding, Loan, Promise

__all__ = [
    "can_add_kind",
    "can_ask_for",
    "can_count",
    "can_decide_loan",
    "can_keep_holding",
    "can_keep_stores",
    "can_own_holdings_for",
    "can_promise",
    "can_remind",
    "can_see_holding",
    "can_withdraw_loan",
    "can_withdraw_promise",
]


def is_in(member: Member | None, club_id: int) -> bool:
    return member is not None and member.left_at is None and member.club_id == club_id


def can_keep_stores(member: Member | None, club: Club) -> bool:
    """The club's own kit and its list of kinds are in the hands of quartermasters and organisers."""
    return member is not None and is_in(member, club.pk) and (member.is_quartermaster or can_run_club(member))


def can_add_kind(member: Member | None, club: Club) -> bool:
    """Any member may own something that the list does not know yet."""
    return is_in(member, club.pk)


def can_own_holdings_for(member: Member | None, club: Club, owner: Member | None) -> bool:
    """Everyone writes down their own; quartermasters and organisers the club's and that of guests."""
    if member is None or not is_in(member, club.pk):
        return False
    if owner is not None and owner.club_id == club.pk and owner.pk == member.pk:
        return True
    return (owner is None or (owner.club_id == club.pk and owner.is_guest)) and can_keep_stores(member, club)


def can_keep_holding(member: Member | None, holding: Holding) -> bool:
    """Book its movements, describe and lend it: its owner, and for the club's and guests' kit those who keep it."""
    if member is None or not is_in(member, holding.club_id):
        return False
    if holding.owner_id == member.pk or (holding.owner_id is None and holding.keeper_id == member.pk):
        return True
    return (holding.owner is None or holding.owner.is_guest) and can_keep_stores(member, holding.club)


def can_see_holding(member: Member | None, holding: Holding) -> bool:
    return (
        member is not None
        and is_in(member, holding.club_id)
        and (not holding.is_private or holding.owner_id == member.pk)
    )


def can_count(member: Member | None, holding: Holding) -> bool:
    """Whoever stands before the club's shelf counts it; a member's own is that member's to count."""
    return can_keep_holding(member, holding) or (holding.owner_id is None and is_in(member, holding.club_id))


def can_ask_for(member: Member | None, holding: Holding) -> bool:
    return member is not None and can_see_holding(member, holding) and holding.owner_id != member.pk


def can_decide_loan(member: Member | None, loan: Loan) -> bool:
    """Agree, refuse, hand over and take back: those who keep the holding."""
    return can_keep_holding(member, loan.holding)


def can_withdraw_loan(member: Member | None, loan: Loan) -> bool:
    """Who asked, for whom it was asked, and who keeps the holding."""
    if member is None or not is_in(member, loan.holding.club_id):
        return False
    return member.pk in {loan.borrower_id, loan.asked_by_id} or can_keep_holding(member, loan.holding)


def can_remind(member: Member | None, loan: Loan) -> bool:
    return can_keep_holding(member, loan.holding)


def can_promise(member: Member | None, holding: Holding, who: Member, *, has_borrowed: bool) -> bool:
    """Everyone promises what they have at home, their own, the club's or borrowed; those who keep stores for others."""
    if member is None or not is_in(member, holding.club_id) or who.club_id != holding.club_id:
        return False
    if member.pk != who.pk and not can_keep_stores(member, holding.club):
        return False
    at_home_with = holding.keeper_id or holding.owner_id
    return has_borrowed or at_home_with in {None, who.pk}


def can_withdraw_promise(member: Member | None, promise: Promise) -> bool:
    """Take back or mark as packed: whose promise it is, and those who keep the stores."""
    if member is None or not is_in(member, promise.holding.club_id):
        return False
    return member.pk == promise.member_id or can_keep_stores(member, promise.holding.club)
