"""Describing a game system, revising it, retiring it. A revision is a new edition; no edition ever changes."""

from __future__ import annotations

from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Club, Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.engines import rulesets as engine
from league.errors import NotYoursToDo, Refused, Violation
from league.rulesets import permissions
from league.rulesets.models import Edition, Ruleset
from league.rulesets.queries import current_edition, refusals

__all__ = [
    "EditionMovedOn",
    "RulesetRefused",
    "bring_back_ruleset",
    "create_ruleset",
    "retire_ruleset",
    "revise_ruleset",
]

NOTE_LONGEST = 200

put_in_words(
    {
        "ruleset_created": gettext_lazy("described the ruleset %(name)s"),
        "ruleset_revised": gettext_lazy("made edition %(number)s of the ruleset %(name)s: %(note)s"),
        "ruleset_retired": gettext_lazy("retired the ruleset %(name)s"),
        "ruleset_brought_back": gettext_lazy("brought back the ruleset %(name)s"),
    }
)


class RulesetRefused(Refused):
    """The document describes no ruleset the club could have."""


class EditionMovedOn(Refused):
    """Somebody made another edition since the one that was being changed."""

    status = 409


@transaction.atomic
def create_ruleset(club: Club, *, document: object, by: Member) -> Ruleset:
    """Give the club a ruleset with its first edition; its name is the document's.

    The same document under the same name once more is the ruleset that is there.

    Raises:
        NotYoursToDo: neither organiser nor umpire.
        RulesetRefused: with every fault of the document, each with its place; or the name is taken.
    """
    refuse_strangers(club, by)
    written = checked(document)
    name = written["name"]
    namesake = Ruleset.objects.filter(club=club, name=name).first()
    if namesake is not None:
        return same_again(namesake, written)
    now = timezone.now()
    try:
        with transaction.atomic():
            ruleset = Ruleset.objects.create(club=club, name=name, created_at=now)
    except IntegrityError as race:
        raise RulesetRefused(taken(name)) from race
    Edition.objects.create(ruleset=ruleset, number=1, document=written, created_by=by, created_at=now)
    log_act(club, "ruleset_created", ruleset, by=by, at=now, name=name)
    return ruleset


@transaction.atomic
def revise_ruleset(ruleset: Ruleset, *, document: object, note: str, number: int | None = None, by: Member) -> Edition:
    """Make the next edition. Games, rosters on the table and seasons keep the edition they have.

    `number` is the edition that was changed; None stands for whichever is current. A document that says what the
    current edition says makes no new one, so that a second arrival finds the first one's edition.

    Raises:
        NotYoursToDo: neither organiser nor umpire.
        EditionMovedOn: `number` is not the current edition any more.
        RulesetRefused: with every fault of the document, each with its place; or the new name is taken.
    """
    refuse_strangers(ruleset.club, by)
    ruleset = Ruleset.objects.select_for_update(of=("self",), no_key=True).select_related("club").get(pk=ruleset.pk)
    current = current_edition(ruleset)
    written = checked(document, note=note)
    if written == current.document:
        return current
    if number is not None and number != current.number:
        words = _("Edition %(current)s was made meanwhile, and you were changing edition %(number)s.")
        raise EditionMovedOn(Violation(words % {"current": current.number, "number": number}, "number", "stale"))
    if Ruleset.objects.filter(club=ruleset.club_id, name=written["name"]).exclude(pk=ruleset.pk).exists():
        raise RulesetRefused(taken(written["name"]))
    now = timezone.now()
    edition = Edition.objects.create(
        ruleset=ruleset, number=current.number + 1, document=written, note=note.strip(), created_by=by, created_at=now
    )
    ruleset.name = written["name"]
    ruleset.save(update_fields=["name"])
    log_act(
        ruleset.club,
        "ruleset_revised",
        ruleset,
        by=by,
        at=now,
        name=ruleset.name,
        number=edition.number,
        note=edition.note,
    )
    return edition


@transaction.atomic
def retire_ruleset(ruleset: Ruleset, *, by: Member) -> Ruleset:
    """Take a ruleset out of use: nothing new is begun by it, what there is stays. Retiring twice is retiring once."""
    refuse_strangers(ruleset.club, by)
    now = timezone.now()
    if Ruleset.objects.filter(pk=ruleset.pk, retired_at=None).update(retired_at=now):
        log_act(ruleset.club, "ruleset_retired", ruleset, by=by, at=now, name=ruleset.name)
    ruleset.refresh_from_db()
    return ruleset


@transaction.atomic
def bring_back_ruleset(ruleset: Ruleset, *, by: Member) -> Ruleset:
    """Put a retired ruleset into use again."""
    refuse_strangers(ruleset.club, by)
    if Ruleset.objects.filter(pk=ruleset.pk, retired_at__isnull=False).update(retired_at=None):
        log_act(ruleset.club, "ruleset_brought_back", ruleset, by=by, name=ruleset.name)
    ruleset.refresh_from_db()
    return ruleset


def refuse_strangers(club: Club, by: Member) -> None:
    if by.club_id != club.pk or not permissions.can_write_rules(by):
        raise NotYoursToDo(_("Only the club's organisers and umpires write its rulesets."))


def checked(document: object, *, note: str = "") -> dict[str, Any]:
    """The document as it is kept; refuses with everything that is wrong with it and with the note."""
    wrong = []
    if len(note.strip()) > NOTE_LONGEST:
        wrong.append(Violation(_("Keep the note under %(most)s characters.") % {"most": NOTE_LONGEST}, "note", "long"))
    rules = None
    try:
        rules = engine.parse_ruleset(document)
    except engine.BadRuleset as bad:
        wrong += refusals(bad.violations, under="document")
    if rules is None or wrong:
        raise RulesetRefused(wrong)
    return engine.ruleset_to_document(rules)


def same_again(namesake: Ruleset, written: dict[str, Any]) -> Ruleset:
    if namesake.retired_at is None and current_edition(namesake).document == written:
        return namesake
    raise RulesetRefused(taken(namesake.name))


def taken(name: str) -> Violation:
    return Violation(_("The club has a ruleset called %(name)s already.") % {"name": name}, "document.name", "taken")
