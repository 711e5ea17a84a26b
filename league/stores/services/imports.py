"""A whole list of kit written down at once: all of it or nothing, and once however often it is sent."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from league.clubs.models import Club, Member
from league.clubs.services.log import log_act
from league.clubs.services.submissions import SubmissionReused
from league.engines.kit_text import ParsedPieces
from league.engines.kit_text.model import LINES_MOST
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Holding, ItemKind
from league.stores.services.holdings import HoldingFacts, add_holding

__all__ = ["import_kit"]


@transaction.atomic
def import_kit(
    club: Club, *, pieces: Sequence[ParsedPieces], owner: Member | None, submission: UUID, by: Member
) -> list[Holding]:
    """A holding for every line of a list, of one owner (None: the club), each with its first line of record.

    Raises:
        NotYoursToDo: `permissions.can_own_holdings_for` says for whom one may write.
        Refused: with every line that cannot be kept, by its number; then nothing is written.
        SubmissionReused: the submission's name came earlier with another list.
    """
    if not permissions.can_own_holdings_for(by, club, owner):
        raise NotYoursToDo(_("Write down your own kit; quartermasters also write down the club's and that of guests."))
    names = [uuid5(submission, str(place)) for place in range(LINES_MOST)]
    written = Holding.objects.filter(submission__in=names).count()
    if written and written != len(pieces):
        raise SubmissionReused(_("This was already sent once with other contents. Open the page anew and try again."))
    kinds = {kind.key: kind for kind in ItemKind.objects.filter(club=club).select_related("club")}
    made: list[Holding] = []
    wrong: list[Violation] = []
    for name, each in zip(names, pieces, strict=False):
        try:
            made.append(write_down(kinds[each.kind], each, owner=owner, submission=name, by=by))
        except SubmissionReused:
            raise
        except Refused as refusal:
            wrong += [
                Violation(f"{each.line_number}: {violation.message}", "text", violation.code)
                for violation in refusal.violations
            ]
    if not pieces:
        wrong.append(Violation(_("There is nothing on the list."), "text", "required"))
    if wrong:
        raise Refused(wrong)
    if not written and not all(each.is_private for each in made):
        log_act(club, "holdings_imported", made[0], by=by, count=len(made))
    return made


def write_down(kind: ItemKind, pieces: ParsedPieces, *, owner: Member | None, submission: UUID, by: Member) -> Holding:
    facts = HoldingFacts(
        place=pieces.place,
        colour=pieces.colour,
        scale_mm=pieces.scale_mm,
        condition=pieces.condition,
        kept=pieces.kept,
        is_private=pieces.is_private,
        note=pieces.note,
    )
    return add_holding(kind, owner=owner, count=pieces.count, facts=facts, is_listed=True, submission=submission, by=by)
