"""Writing down what somebody has: where it lies, in what condition, how many are kept for own use."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Club, Member, Venue
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Condition, Holding, ItemKind, Movement, new_label
from league.stores.services.acts import log_holding
from league.stores.services.movements import (
    GAINS,
    PIECES_MOST,
    last_line,
    lock_holding,
    write_line,
    wrong_with_count,
)

__all__ = [
    "HoldingFacts",
    "HoldingRefused",
    "add_holding",
    "bring_back_holding",
    "change_holding",
    "faults_of_holding",
    "retire_holding",
]

SCALE_MOST = 200


class HoldingRefused(Refused):
    """What was written cannot be kept as a holding."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HoldingFacts:
    """A holding as its owner describes it; the fields are those of `Holding`.

    `label` is the code of the shelf it lies on, empty for a label of its own.
    """

    place: str = ""
    venue: Venue | None = None
    keeper: Member | None = None
    colour: str = ""
    scale_mm: int | None = None
    condition: str = Condition.GOOD
    kept: int = 0
    is_private: bool = False
    note: str = ""
    label: str = ""


TEXTS = ("place", "colour", "note")


def written(facts: HoldingFacts) -> dict[str, object]:
    """The facts as columns of a holding's row, but for its label."""
    columns: dict[str, object] = {name: getattr(facts, name) for name in HoldingFacts.__slots__ if name != "label"}
    return {**columns, **{name: getattr(facts, name).strip() for name in TEXTS}}


def digested(facts: HoldingFacts) -> dict[str, object]:
    named = {name: getattr(facts, name) for name in HoldingFacts.__slots__}
    return {**named, "venue": facts.venue and facts.venue.pk, "keeper": facts.keeper and facts.keeper.pk}


@transaction.atomic
def add_holding(
    kind: ItemKind,
    *,
    owner: Member | None,
    count: int,
    act: str = "received",
    reason: str = "",
    facts: HoldingFacts,
    is_listed: bool = False,
    submission: UUID,
    by: Member,
) -> Holding:
    """Write down pieces of a kind; `owner` None: they are the club's. The first line of their record says how they came.
    `is_listed`: they come with many others, and whoever takes in the list tells the book of acts.

    Raises:
        NotYoursToDo: `permissions.can_own_holdings_for` says for whom one may write.
        HoldingRefused: with everything that cannot be kept.
        SubmissionReused: the submission's name came earlier with another holding.
    """
    club = kind.club
    told = {"kind": kind.pk, "owner": owner and owner.pk, "count": count, "act": act, "reason": reason}
    digest = digest_of({**told, **digested(facts)})
    if again := earlier(Holding, submission, digest):
        return again
    if not permissions.can_own_holdings_for(by, club, owner):
        raise NotYoursToDo(_("Write down your own kit; quartermasters also write down the club's and that of guests."))
    wrong = [
        *wrong_with_count(count),
        *faults_of_holding(club, owner, facts),
        *too_long(Movement, reason=reason.strip()),
    ]
    if act not in GAINS:
        wrong.append(Violation(_("Say how the pieces came: received, bought or made."), "act", "unknown"))
    if kind.retired_at is not None:
        wrong.append(Violation(_("This kind is no longer on the club's list."), "kind", "retired"))
    if wrong:
        raise HoldingRefused(wrong)
    now = timezone.now()
    holding, is_new = write_once(
        Holding,
        submission,
        digest,
        club=club,
        kind=kind,
        owner=owner,
        label=facts.label or new_label(),
        created_by=by,
        created_at=now,
        **written(facts),
    )
    if is_new:
        write_line(holding, act=act, change=count, reason=reason.strip(), by=by, at=now)
        if not is_listed:
            log_holding(holding, "holding_added", by=by, at=now, count=count)
    return holding


@transaction.atomic
def change_holding(holding: Holding, *, facts: HoldingFacts, by: Member) -> Holding:
    """Describe a holding anew; how many there are is changed by its movements only.

    Raises:
        NotYoursToDo: neither the owner nor, for the club's and guests' kit, who keeps it.
        HoldingRefused: with everything that cannot be kept.
    """
    holding = lock_own(holding, by)
    wrong = faults_of_holding(holding.club, holding.owner, facts, was=holding)
    if wrong:
        raise HoldingRefused(wrong)
    columns = {**written(facts), "label": facts.label or holding.label}
    if all(getattr(holding, name) == value for name, value in columns.items()):
        return holding
    for name, value in columns.items():
        setattr(holding, name, value)
    holding.save(update_fields=list(columns))
    log_holding(holding, "holding_changed", by=by)
    return holding


@transaction.atomic
def retire_holding(holding: Holding, *, by: Member) -> Holding:
    """Put a holding away: it keeps its record, is found no more and lends nothing. Twice is once.

    Raises:
        NotYoursToDo: neither the owner nor, for the club's and guests' kit, who keeps it.
        HoldingRefused: some of it is lent.
    """
    holding = lock_own(holding, by)
    if holding.retired_at is not None:
        return holding
    last = last_line(holding)
    if last is not None and last.out_after:
        words = _("%(out)s of it are lent. Take them back or book them as lost first.") % {"out": last.out_after}
        raise HoldingRefused(Violation(words, code="lent"))
    holding.retired_at = timezone.now()
    holding.save(update_fields=["retired_at"])
    log_holding(holding, "holding_retired", by=by, at=holding.retired_at)
    return holding


@transaction.atomic
def bring_back_holding(holding: Holding, *, by: Member) -> Holding:
    """Take a holding out again; raises NotYoursToDo as `retire_holding` does."""
    holding = lock_own(holding, by)
    if holding.retired_at is not None:
        holding.retired_at = None
        holding.save(update_fields=["retired_at"])
        log_holding(holding, "holding_brought_back", by=by)
    return holding


def lock_own(holding: Holding, by: Member) -> Holding:
    locked = lock_holding(holding)
    if not permissions.can_keep_holding(by, locked):
        raise NotYoursToDo(_("Only its owner, or for the club's kit a quartermaster, changes this."))
    return locked


def faults_of_holding(
    club: Club, owner: Member | None, facts: HoldingFacts, *, was: Holding | None = None
) -> list[Violation]:
    """Everything that keeps the facts from being a holding of this owner; `was`: the holding they describe anew."""
    wrong = too_long(Holding, **{name: getattr(facts, name).strip() for name in TEXTS})
    if facts.scale_mm is not None and not 1 <= facts.scale_mm <= SCALE_MOST:
        words = _("Figures are 1 to %(most)s mm tall.") % {"most": SCALE_MOST}
        wrong.append(Violation(words, "scale_mm", "range"))
    if facts.condition not in Condition.values:
        wrong.append(Violation(_("Say good, worn or damaged."), "condition", "unknown"))
    if not 0 <= facts.kept <= PIECES_MOST:
        words = _("Give a number from 0 to %(most)s.") % {"most": PIECES_MOST}
        wrong.append(Violation(words, "kept", "range"))
    if facts.is_private and owner is None:
        wrong.append(Violation(_("What is the club's cannot be hidden from it."), "is_private", "clubs_own"))
    return wrong + faults_of_place(club, owner, facts, was) + faults_of_label(club, owner, facts)


def faults_of_place(club: Club, owner: Member | None, facts: HoldingFacts, was: Holding | None) -> list[Violation]:
    wrong = []
    if facts.venue is not None and facts.keeper is not None:
        wrong.append(Violation(_("It lies at the venue or with somebody, not both."), "keeper", "two_places"))
    if facts.venue is not None:
        if facts.venue.club_id != club.pk:
            wrong.append(Violation(_("Choose a venue of this club."), "venue", "unknown"))
        elif facts.venue.closed_at is not None and (was is None or was.venue_id != facts.venue.pk):
            wrong.append(Violation(_("This venue is closed."), "venue", "closed"))
    if facts.keeper is not None:
        if facts.keeper.club_id != club.pk or facts.keeper.left_at is not None:
            wrong.append(Violation(_("Choose somebody who is in the club."), "keeper", "unknown"))
        if owner is not None:
            words = _("A member's kit is with its owner; to leave it with somebody, lend it.")
            wrong.append(Violation(words, "keeper", "owned"))
    return wrong


def faults_of_label(club: Club, owner: Member | None, facts: HoldingFacts) -> list[Violation]:
    """A shelf is one owner's: whoever counts it must have the right to count all of it."""
    if not facts.label:
        return []
    beside = Holding.objects.filter(club=club, label=facts.label)
    if not beside.filter(owner=owner).exists():
        return [Violation(_("There is no shelf of this owner with this label."), "label", "unknown")]
    return []
