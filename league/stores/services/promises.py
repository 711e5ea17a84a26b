"""Who brings what to a night: promising, taking it back, packing; and how much somebody can carry."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles.queries.nights import games_of_night
from league.clubs.models import Member, Night
from league.clubs.permissions import can_answer_for
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Carrying, Holding, Loan, Promise, PromiseTable
from league.stores.queries.balances import Window, balance_of
from league.stores.services.acts import log_holding
from league.stores.services.movements import lock_holding, wrong_with_count

__all__ = [
    "PromiseRefused",
    "mark_packed",
    "mark_unpacked",
    "promise_to_bring",
    "say_carrying",
    "withdraw_promise",
]


class PromiseRefused(Refused):
    """The promise cannot be as it was told."""


@transaction.atomic
def promise_to_bring(
    holding: Holding,
    *,
    night: Night,
    count: int,
    games: Mapping[int, int] | None = None,
    member: Member | None = None,
    submission: UUID,
    by: Member,
) -> Promise:
    """Promise pieces of a holding for a night; `member` None: I bring them myself.

    Another number than was promised before takes the place of the old promise; the same number is the same promise.
    `games` says how many are meant for which of the night's games, by the game's id, as the plan did.
    What the member has borrowed of the holding is promised from the loan, anything else from what is spare that day.

    Raises:
        NotYoursToDo: it is at somebody else's home, or another's promise.
        PromiseRefused: with every reason; more than is free that day is not promised.
        SubmissionReused: the submission's name came earlier with another promise.
    """
    who, meant_for = member or by, dict(games or {})
    holding = lock_holding(holding)
    told = {"holding": holding.pk, "night": night.pk, "count": count, "member": who.pk}
    digest = digest_of({**told, "games": {str(pk): pieces for pk, pieces in meant_for.items()}})
    if again := earlier(Promise, submission, digest):
        return again
    loan = loan_of(holding, who)
    if not permissions.can_promise(by, holding, who, has_borrowed=loan is not None):
        raise NotYoursToDo(
            _("Promise what you have at home or have borrowed; who keeps the stores does it for others.")
        )
    now = timezone.now()
    before = Promise.objects.filter(night=night, holding=holding, member=who, withdrawn_at=None).first()
    if before is not None and before.count == count and meant_for in ({}, games_of(before)):
        return before
    wrong = [
        *wrong_with_night(night, holding, who),
        *wrong_with_count(count),
        *wrong_with_free(holding, night, count, loan, before),
        *wrong_with_games(night, count, meant_for),
    ]
    if wrong:
        raise PromiseRefused(wrong)
    if before is not None:
        Promise.objects.filter(pk=before.pk).update(withdrawn_at=now)
    facts = {"night": night, "holding": holding, "member": who, "loan": loan, "count": count}
    promise, is_new = write_once(Promise, submission, digest, by=by, promised_at=now, **facts)
    if is_new:
        PromiseTable.objects.bulk_create(
            PromiseTable(promise=promise, game_id=pk, count=pieces) for pk, pieces in sorted(meant_for.items())
        )
        log_holding(holding, "kit_promised", by=by, at=now, count=count, on=night.on.isoformat())
    return promise


@transaction.atomic
def withdraw_promise(promise: Promise, *, by: Member) -> Promise:
    """Take a promise back; twice is once.

    Raises:
        NotYoursToDo: neither whose promise it is nor who keeps the stores.
    """
    promise, is_standing = lock_promise(promise, by)
    if is_standing:
        promise.withdrawn_at = timezone.now()
        promise.save(update_fields=["withdrawn_at"])
        on = promise.night.on.isoformat()
        log_holding(promise.holding, "kit_promise_withdrawn", by=by, count=promise.count, on=on)
    return promise


@transaction.atomic
def mark_packed(promise: Promise, *, by: Member) -> Promise:
    """It is in the bag: a later plan changes as little of it as it can. Twice is once.

    Raises:
        NotYoursToDo: neither whose promise it is nor who keeps the stores.
        PromiseRefused: the promise was taken back.
    """
    promise, is_standing = lock_promise(promise, by)
    if not is_standing:
        raise PromiseRefused(Violation(_("This promise was taken back."), code="withdrawn"))
    if promise.packed_at is None:
        promise.packed_at = timezone.now()
        promise.save(update_fields=["packed_at"])
        on = promise.night.on.isoformat()
        log_holding(promise.holding, "kit_packed", by=by, count=promise.count, on=on)
    return promise


@transaction.atomic
def mark_unpacked(promise: Promise, *, by: Member) -> Promise:
    """It is out of the bag again; raises NotYoursToDo as `mark_packed` does."""
    promise, _is_standing = lock_promise(promise, by)
    if promise.packed_at is not None:
        promise.packed_at = None
        promise.save(update_fields=["packed_at"])
        log_holding(promise.holding, "kit_unpacked", by=by, count=promise.count)
    return promise


@transaction.atomic
def say_carrying(night: Night, *, room: str, member: Member | None = None, by: Member) -> Carrying:
    """Say how much somebody can carry to a night; empty takes it back. The last word counts.

    Raises:
        NotYoursToDo: somebody else's answer, and not an organiser.
        PromiseRefused: with every reason.
    """
    who = member or by
    if not can_answer_for(by, night, who):
        raise NotYoursToDo(_("Everyone answers for themselves; organisers also for others."))
    wrong = []
    if room not in ("", *Carrying.Room.values):
        wrong.append(Violation(_("Say a pocket, a bag, a box or a car."), "room", "unknown"))
    if night.cancelled_at is not None:
        wrong.append(Violation(_("This night was cancelled."), code="cancelled"))
    if wrong:
        raise PromiseRefused(wrong)
    said, _made = Carrying.objects.update_or_create(
        night=night, member=who, defaults={"room": room, "said_at": timezone.now()}
    )
    return said


def lock_promise(promise: Promise, by: Member) -> tuple[Promise, bool]:
    """The promise as it is now, and whether it stands; its holding is locked, which every act on it waits for."""
    holding = lock_holding(promise.holding)
    locked = Promise.objects.select_related("night", "member").get(pk=promise.pk)
    locked.holding = holding
    if not permissions.can_withdraw_promise(by, locked):
        raise NotYoursToDo(_("Everyone sees to their own promises; who keeps the stores also to those of others."))
    return locked, locked.withdrawn_at is None


def loan_of(holding: Holding, who: Member) -> Loan | None:
    """The loan by which a member has pieces of the holding at home, the one with the most."""
    handed = Loan.objects.filter(holding=holding, borrower=who, handed_at__isnull=False)
    loan: Loan | None = handed.outstanding().order_by("-outstanding", "pk").first()  # type: ignore[misc]
    return loan


def games_of(promise: Promise) -> dict[int, int]:
    return dict(PromiseTable.objects.filter(promise=promise).values_list("game", "count"))


def wrong_with_games(night: Night, count: int, games: Mapping[int, int]) -> list[Violation]:
    wrong = []
    known = set(games_of_night(night).filter(pk__in=games).values_list("pk", flat=True)) if games else set()
    if set(games) - known:
        wrong.append(Violation(_("Choose games of this night."), "games", "unknown"))
    if any(pieces < 1 for pieces in games.values()) or sum(games.values()) > count:
        wrong.append(Violation(_("What the games get adds up to no more than you bring."), "games", "range"))
    return wrong


def wrong_with_night(night: Night, holding: Holding, who: Member) -> list[Violation]:
    wrong = []
    if night.club_id != holding.club_id:
        wrong.append(Violation(_("Choose a night of this club."), "night", "unknown"))
    elif night.cancelled_at is not None:
        wrong.append(Violation(_("This night was cancelled."), "night", "cancelled"))
    elif night.on < timezone.localdate(timezone=holding.club.zone):
        wrong.append(Violation(_("This night is over."), "night", "past"))
    if who.left_at is not None:
        wrong.append(Violation(_("Choose somebody who is in the club."), "member", "unknown"))
    if holding.retired_at is not None:
        wrong.append(Violation(_("This was put away. Take it out again first."), code="retired"))
    return wrong


def wrong_with_free(
    holding: Holding, night: Night, count: int, loan: Loan | None, before: Promise | None
) -> list[Violation]:
    """What is promised for the same day is gone, but for the promise that this one takes the place of."""
    if loan is not None:
        free: int = loan.outstanding  # type: ignore[attr-defined]
    else:
        today = timezone.localdate(timezone=holding.club.zone)
        balance = balance_of(holding, Window.of_day(night.on, today=today), but=before)
        free = balance.spare
    if count <= free:
        return []
    words = _("Only %(free)s of these are free on that day.") % {"free": free}
    return [Violation(words, "count", "too_many")]
