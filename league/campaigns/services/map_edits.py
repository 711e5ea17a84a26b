"""A map that changes while the war is on: a fact like any other, with what becomes of what stood there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.drawing_up import map_faults
from league.campaigns.queries.drawing_up_edits import Homeless, homeless_of, storing
from league.campaigns.queries.facts import as_data
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.campaigns.services.drawing_up import map_schema_faults
from league.campaigns.services.facts import add_fact
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier
from league.engines import war
from league.engines.maps import Map
from league.errors import Violation

__all__ = ["edit_map"]

REASON_MOST = 1000


@transaction.atomic
def edit_map(
    campaign: Campaign,
    *,
    of: Map,
    effects: Sequence[war.Effect] = (),
    reason: str,
    turn: int,
    submission: UUID,
    by: Member,
) -> Fact:
    """Fight on upon another map from this turn's orders on.

    For every force and every stock on ground that goes, `effects` says what becomes of it: `PlaceForce` or
    `RemoveForce`; `GrantStock` elsewhere, where nothing is said of a stock it spoils.

    Raises:
        NotYoursToDo, CampaignMovedOn: `turn` is not the one being played, or its orders are carried out already.
        CampaignRefused: with everything wrong with the map, and every force nothing is said of.
        SubmissionReused
    """
    reason = reason.strip()
    edit = war.MapEdited(id=0, sequence=0, turn=turn, map=of, effects=tuple(effects), reason=reason)
    digest = digest_of([campaign.pk, by.pk, as_data(edit)])
    current = judged(campaign, by=by)
    if again := earlier(Fact, submission, digest):
        return again
    now = war_of(current)
    if turn != now.turn:
        raise CampaignMovedOn(_("The war is at turn %(turn)s by now.") % {"turn": now.turn})
    if now.now.phase != "orders":
        raise CampaignMovedOn(_("The orders of this turn are carried out already. The map changes once it is closed."))
    if faults := [*_of_reason(reason), *map_faults(of), *map_schema_faults(of)]:
        raise CampaignRefused(faults)
    if of == now.now.map:
        raise CampaignRefused(Violation(_("This map is the one there is."), "map", "unchanged"))
    if faults := _of_effects(now, of, effects):
        raise CampaignRefused(faults)
    at = timezone.now()
    row = add_fact(current, edit, by=by, at=at, submission=submission, digest=digest)
    log_act(current.club, "map_edited", current, by=by, at=at, turn=turn)
    return row


def _of_reason(reason: str) -> list[Violation]:
    if not reason:
        return [Violation(_("Say why the map changes; all may read it."), "reason", "required")]
    if len(reason) > REASON_MOST:
        return [Violation(_("Keep this under %(most)s characters.") % {"most": REASON_MOST}, "reason", "long")]
    return []


def _of_effects(now: War, of: Map, effects: Sequence[war.Effect]) -> list[Violation]:
    homeless = homeless_of(now, of)
    spoken = {each.force for each in effects if isinstance(each, war.PlaceForce | war.RemoveForce)}
    words = _("Say what becomes of %(force)s, which stands in a region that goes.")
    faults = [
        Violation(words % {"force": each.name}, "effects", "homeless")
        for each in homeless
        if each.what == "force" and each.key not in spoken
    ]
    for effect in effects:
        if isinstance(effect, war.PlaceForce | war.RemoveForce):
            faults += _of_force(now, of, effect)
        elif isinstance(effect, war.GrantStock):
            faults += _of_stock(now, of, effect)
        else:
            words = _("Only forces and supply on ground that goes are spoken of here; all else is a ruling.")
            faults.append(Violation(words, "effects", "other_effect"))
    return [*faults, *_too_much(homeless, effects)]


def _of_force(now: War, of: Map, effect: war.PlaceForce | war.RemoveForce) -> list[Violation]:
    faults = []
    if effect.force not in {each.key for each in now.now.standing}:
        words = _("There is no force %(force)s in the war.")
        faults.append(Violation(words % {"force": effect.force}, "effects", "unknown_force"))
    if isinstance(effect, war.PlaceForce) and of.region(effect.region) is None:
        words = _("%(region)s is no region of the new map.")
        faults.append(Violation(words % {"region": effect.region}, "effects", "unknown_region"))
    return faults


def _of_stock(now: War, of: Map, effect: war.GrantStock) -> list[Violation]:
    if effect.amount > 0 and effect.region in dict(storing(now, of, effect.faction)):
        return []
    words = _("No supply of %(faction)s can be taken to %(region)s.")
    return [Violation(words % {"faction": effect.faction, "region": effect.region}, "effects", "no_place")]


def _too_much(homeless: Sequence[Homeless], effects: Sequence[war.Effect]) -> list[Violation]:
    """No more can be carried off than lay on ground that goes."""
    there: Counter[str] = Counter()
    for each in homeless:
        there[each.faction] += each.loads
    taken: Counter[str] = Counter()
    for effect in effects:
        if isinstance(effect, war.GrantStock):
            taken[effect.faction] += effect.amount
    words = _("Only %(loads)s loads of %(faction)s lie on ground that goes.")
    return [
        Violation(words % {"loads": there[faction], "faction": faction}, "effects", "too_much")
        for faction, loads in sorted(taken.items())
        if loads > there[faction]
    ]
