"""Making a season, changing its rules, closing it."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from datetime import date
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Club, Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines.documents.reading import BadDocument, Fault
from league.engines.documents.season import read_rules, write_rules
from league.errors import NotYoursToDo, Refused, Violation
from league.rulesets.models import Ruleset
from league.seasons import permissions
from league.seasons.models import Season

__all__ = ["SeasonClosed", "SeasonRefused", "change_rules", "close_season", "create_season"]

put_in_words(
    {
        "season_created": gettext_lazy("made the season %(name)s"),
        "season_imported": gettext_lazy("made the season %(name)s from a file"),
        "season_rules_changed": gettext_lazy("changed the rules: %(reason)s"),
        "season_closed": gettext_lazy("closed the season"),
        "entrant_entered": gettext_lazy("entered %(name)s"),
        "entrant_changed": gettext_lazy("changed who plays for %(name)s"),
        "entrant_left": gettext_lazy("took %(name)s out of the season: %(reason)s"),
        "entrant_returned": gettext_lazy("let %(name)s back in"),
        "round_added": gettext_lazy("added round %(number)s"),
        "open_play_allowed": gettext_lazy("allowed games outside the rounds"),
        "round_changed": gettext_lazy("changed round %(number)s"),
        "pairing_made": gettext_lazy("paired %(names)s in round %(number)s"),
        "pairing_removed": gettext_lazy("took back the pairing %(names)s in round %(number)s"),
        "pairing_marked": gettext_lazy("marked in round %(number)s: %(marks)s"),
        "points_adjusted": gettext_lazy("changed the points of %(name)s by %(points)s: %(reason)s"),
    }
)

NAME_MOST = 80
REASON_MOST = 200


class SeasonRefused(Refused):
    """What was asked of the season cannot be."""


class SeasonClosed(Refused):
    """The season is closed; its table is final."""

    status = 409


@transaction.atomic
def create_season(
    club: Club,
    *,
    ruleset: Ruleset,
    name: str,
    starts_on: date,
    ends_on: date | None = None,
    rules: Mapping[str, Any],
    counts: str | None = None,
    submission: UUID,
    by: Member,
) -> Season:
    """Make a season. `rules` are those of a season document; `counts` here stands before `counts` there.

    The seed of its lots is drawn now and kept.

    Raises:
        NotYoursToDo: not an organiser.
        SeasonRefused: with everything that is wrong.
        SubmissionReused: the submission's name came earlier with another season.
    """
    digest = digest_of([club.pk, by.pk, ruleset.pk, name, starts_on, ends_on, rules, counts])
    if again := earlier(Season, submission, digest):
        return again
    if by.club_id != club.pk or not permissions.can_start_season(by):
        raise NotYoursToDo(_("Only organisers make seasons."))
    name = name.strip()
    faults = [*faults_of_setting(club, ruleset, name, starts_on, ends_on)]
    seed = secrets.token_hex(8)
    checked: dict[str, Any] = {}
    try:
        checked = checked_rules(rules, counts, seed)
    except SeasonRefused as refusal:
        faults += refusal.violations
    if faults:
        raise SeasonRefused(faults)
    now = timezone.now()
    counts = checked.pop("counts")
    try:
        season, is_new = write_once(
            Season,
            submission,
            digest,
            club=club,
            ruleset=ruleset,
            name=name,
            starts_on=starts_on,
            ends_on=ends_on,
            rules=checked,
            counts=counts,
            seed=seed,
            created_at=now,
        )
    except IntegrityError:
        # The same name arrived twice at once and the other one was quicker.
        raise SeasonRefused(name_taken(name)) from None
    if not is_new:
        return season
    log_act(club, "season_created", season, by=by, at=now, name=name)
    return season


@transaction.atomic
def change_rules(
    season: Season, *, rules: Mapping[str, Any], counts: str | None = None, reason: str, by: Member
) -> Season:
    """Put other rules in the place of the season's; the table follows at once, looked back at or not.

    Raises:
        NotYoursToDo, SeasonClosed, SeasonRefused: with everything that is wrong.
    """
    season = open_season(season, by=by)
    reason = reason.strip()
    faults = [*faults_of_reason(reason)]
    checked: dict[str, Any] = {}
    try:
        checked = checked_rules(rules, counts, season.seed)
    except SeasonRefused as refusal:
        faults += refusal.violations
    if faults:
        raise SeasonRefused(faults)
    before = {**season.rules, "counts": season.counts}
    changed = sorted(key for key, value in checked.items() if before.get(key) != value)
    season.counts = checked.pop("counts")
    season.rules = checked
    season.save(update_fields=["rules", "counts"])
    log_act(season.club, "season_rules_changed", season, by=by, reason=reason, changed=changed, before=before)
    return season


@transaction.atomic
def close_season(season: Season, *, by: Member) -> Season:
    """End the season: nobody enters, no pairing is made, no points adjusted. Reports can still be corrected, and the
    table still follows them. Closing twice is closing once.
    """
    if not permissions.can_run_season(by, season):
        raise NotYoursToDo(_("Only organisers close a season."))
    now = timezone.now()
    if Season.objects.filter(pk=season.pk, closed_at=None).update(closed_at=now):
        season.closed_at = now
        log_act(season.club, "season_closed", season, by=by, at=now)
    else:
        season.refresh_from_db(fields=["closed_at"])
    return season


def open_season(season: Season, *, by: Member) -> Season:
    """The season as it is now, kept by this transaction, for an act that changes it.

    Raises:
        NotYoursToDo, SeasonClosed
    """
    locked = lock_season(season, by=by)
    if locked.closed_at is not None:
        raise SeasonClosed(_("%(name)s is closed.") % {"name": locked.name})
    return locked


def lock_season(season: Season, *, by: Member) -> Season:
    """As `open_season`, of a closed season too."""
    if not permissions.can_run_season(by, season):
        raise NotYoursToDo(_("Only organisers run a season."))
    rows = Season.objects.select_for_update(of=("self",), no_key=True).select_related("club", "ruleset")
    locked: Season = rows.get(pk=season.pk)
    return locked


def checked_rules(rules: Mapping[str, Any], counts: str | None, seed: str) -> dict[str, Any]:
    """The rules in full and in order, `counts` among them; SeasonRefused with everything wrong."""
    asked = dict(rules)
    if counts is not None:
        asked["counts"] = counts
    try:
        read = read_rules(asked, seed)
    except BadDocument as failure:
        raise SeasonRefused(violation_of(fault, "rules") for fault in failure.faults) from None
    return write_rules(read, asked.get("counts", "filed"))


def violation_of(fault: Fault, within: str = "") -> Violation:
    """A fault of a document as a violation; its place in dots."""
    steps = [step for step in (within, *fault.place.split("/")) if step]
    return Violation(fault.text, ".".join(steps), "document")


def faults_of_setting(
    club: Club, ruleset: Ruleset, name: str, starts_on: date, ends_on: date | None
) -> list[Violation]:
    faults = []
    if not name:
        faults.append(Violation(_("The season needs a name."), "name", "required"))
    elif len(name) > NAME_MOST:
        faults.append(Violation(_("Keep the name under %(most)s characters.") % {"most": NAME_MOST}, "name", "long"))
    elif Season.objects.filter(club=club, name=name).exists():
        faults.append(name_taken(name))
    if ends_on is not None and ends_on < starts_on:
        faults.append(Violation(_("The season ends before it starts."), "ends_on", "order"))
    if ruleset.club_id != club.pk:
        faults.append(Violation(_("This ruleset is not one of the club's."), "ruleset", "not_of_club"))
    elif ruleset.retired_at is not None:
        faults.append(Violation(_("The club no longer plays by it."), "ruleset", "retired"))
    return faults


def faults_of_reason(reason: str) -> list[Violation]:
    if not reason:
        return [Violation(_("Say why, for everybody to read."), "reason", "required")]
    if len(reason) > REASON_MOST:
        return [Violation(_("Keep the reason under %(most)s characters.") % {"most": REASON_MOST}, "reason", "long")]
    return []


def name_taken(name: str) -> Violation:
    return Violation(_("There is a season called %(name)s already.") % {"name": name}, "name", "taken")
