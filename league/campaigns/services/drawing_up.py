"""Drawing a war up before it starts: its map, its factions, who holds what at the beginning, its rules.

All of it is one document. Whoever writes says which version they looked at, so that two people at it together do not
undo each other; writing what stands there already is no writing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Seat
from league.campaigns.permissions import can_draw_up, can_found
from league.campaigns.queries.drawing_up import drawn_of, map_faults, usual_rules
from league.campaigns.queries.seats import seat_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, lock_campaign
from league.clubs.models import Club, Member
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines import war
from league.engines.documents.campaign import read_campaign, write_campaign
from league.engines.documents.map import MapDocument
from league.engines.documents.map import write_map as map_as_data
from league.engines.documents.reading import BadDocument, Fault, faults_by_schema
from league.engines.maps import Map
from league.errors import NotYoursToDo, Violation
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of

__all__ = [
    "being_drawn_up",
    "change_about",
    "found_campaign",
    "free_key",
    "import_campaign",
    "map_schema_faults",
    "refuse_document",
    "set_factions",
    "set_rules",
    "set_start",
    "write_beginning",
    "write_map",
]

NAME_MOST, ABOUT_MOST, KEY_MOST, FAULTS_SHOWN = 80, 4000, 40, 100


@transaction.atomic
def found_campaign(
    club: Club,
    *,
    edition: Edition,
    name: str,
    about: str = "",
    is_public: bool = False,
    submission: UUID,
    by: Member,
) -> Campaign:
    """Begin a campaign: an empty map, no factions, the usual rules.

    Raises:
        NotYoursToDo: neither an umpire nor an organiser.
        CampaignRefused: with everything that is wrong.
        SubmissionReused
    """
    name, about = name.strip(), about.strip()
    digest = digest_of([club.pk, by.pk, edition.pk, name, about, is_public])
    if again := earlier(Campaign, submission, digest):
        return again
    refuse_others(club, by)
    if faults := [*faults_of_about(club, name, about), *faults_of_edition(club, edition)]:
        raise CampaignRefused(faults)
    began = war.Campaign(
        name=name,
        map=Map(name=name, regions=(), roads=()),
        ruleset=rules_of(edition),
        rules=usual_rules(),
        factions=(),
        forces=(),
    )
    facts = {"edition": edition, "about": about, "is_public": is_public}
    return _written_once(club, began, submission, digest, act="campaign_founded", by=by, **facts)


@transaction.atomic
def import_campaign(
    club: Club, *, edition: Edition, document: Any, about: str = "", submission: UUID, by: Member
) -> Campaign:
    """Begin a campaign with the map, the factions, the start and the rules of a campaign document.

    It is drawn up further from there. The ruleset is the club's edition and not the document's; rosters enlist anew,
    since the forces of a document have none; facts of a war that was fought are not taken over.

    Raises: as `found_campaign`; CampaignRefused with everything wrong with the document.
    """
    refuse_others(club, by)
    try:
        told = read_campaign(document).campaign
    except BadDocument as failure:
        raise CampaignRefused(refuse_document(failure.faults)) from None
    digest = digest_of([club.pk, by.pk, edition.pk, write_campaign(told), about.strip()])
    if again := earlier(Campaign, submission, digest):
        return again
    if faults := [*faults_of_about(club, told.name, about), *faults_of_edition(club, edition)]:
        raise CampaignRefused(faults)
    began = replace(told, ruleset=rules_of(edition), forces=())
    checked(began)
    facts = {"edition": edition, "about": about.strip()}
    return _written_once(club, began, submission, digest, act="campaign_imported", by=by, **facts)


def _written_once(
    club: Club, began: war.Campaign, submission: UUID, digest: str, *, act: str, by: Member, **facts: Any
) -> Campaign:
    now = timezone.now()
    try:
        campaign, is_new = write_once(
            Campaign,
            submission,
            digest,
            club=club,
            name=began.name,
            document=write_campaign(began),
            created_by=by,
            created_at=now,
            **facts,
        )
    except IntegrityError:
        raise CampaignRefused(name_taken()) from None
    if is_new:
        log_act(club, act, campaign, by=by, at=now, name=campaign.name)
    return campaign


def refuse_others(club: Club, by: Member) -> None:
    if by.club_id != club.pk or not can_found(by):
        raise NotYoursToDo(_("Only umpires and organisers begin campaigns."))


def being_drawn_up(campaign: Campaign, *, by: Member) -> Campaign:
    """The campaign, locked, if it has not started and this member may draw it up.

    Raises:
        NotYoursToDo, CampaignMovedOn
    """
    if not can_draw_up(by, campaign, seat_of(by, campaign)):
        raise NotYoursToDo(
            _("A campaign is drawn up by its founder, by organisers and by umpires who lead no faction.")
        )
    current = lock_campaign(campaign)
    if current.started_at is not None:
        raise CampaignMovedOn(_("The campaign has started; how it began stands for good."))
    return current


@transaction.atomic
def change_about(campaign: Campaign, *, name: str, about: str, is_public: bool, by: Member) -> Campaign:
    """Change what a campaign is called, what is said about it, and whether anyone may follow it.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
    """
    current = being_drawn_up(campaign, by=by)
    name, about = name.strip(), about.strip()
    if faults := faults_of_about(current.club, name, about, but=current):
        raise CampaignRefused(faults)
    if (name, about, is_public) == (current.name, current.about, current.is_public):
        return current
    current.document = write_campaign(replace(drawn_of(current), name=name))
    current.name, current.about, current.is_public = name, about, is_public
    current.save(update_fields=["name", "about", "is_public", "document"])
    log_act(current.club, "campaign_described", current, by=by)
    return current


@transaction.atomic
def write_map(
    campaign: Campaign, *, of: Map, holders: Mapping[str, str] | None = None, version: int | None = None, by: Member
) -> Campaign:
    """Put another map in place of the one there is. What lay in a region that is gone goes with it; forces do not.

    `holders` where a file says who holds what (region -> faction, by key); those of factions that do not exist are
    left out. `version` is that of the campaign one looked at.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: with everything wrong with the map, and every force that would have no place.
    """
    current = being_drawn_up(campaign, by=by)
    if faults := [*map_faults(of), *map_schema_faults(of)]:
        raise CampaignRefused(faults)
    began = drawn_of(current)
    left = of.region_by_key()
    homeless = [each for each in began.forces if each.region not in left]
    if homeless:
        words = _("%(force)s stands in a region that is not on this map. Put it elsewhere first.")
        raise CampaignRefused(Violation(words % {"force": each.name}, "map", "homeless") for each in homeless)
    holdings = began.holdings
    if holders is not None:
        known = {each.key for each in began.factions}
        told = [war.Holding(region=region, faction=faction) for region, faction in holders.items() if faction in known]
        holdings = (*(each for each in holdings if each.region not in holders), *told)
    changed = _settled(replace(began, map=of, holdings=holdings))
    return write_beginning(current, changed, act="map_drawn", version=version, by=by)


def map_schema_faults(of: Map) -> list[Violation]:
    """What the map document has against it: names and keys that are too long, more regions than it takes."""
    faults = faults_by_schema("map", map_as_data(MapDocument(map=of)))
    return [violation_of(each, "map") for each in faults][:FAULTS_SHOWN]


def _settled(began: war.Campaign) -> war.Campaign:
    """Without holdings, depots and stocks that have no place or no owner any more."""
    regions, factions = began.map.region_by_key(), {each.key for each in began.factions}

    def stays(row: war.Holding | war.Depot | war.Stock) -> bool:
        return row.region in regions and row.faction in factions

    holdings = tuple(sorted(filter(stays, began.holdings), key=lambda each: each.region))
    depots = tuple(sorted(filter(stays, began.depots), key=lambda each: each.region))
    held = {each.region: each.faction for each in holdings}
    kept = {each.region: each.faction for each in depots}
    stocks = tuple(
        each
        for each in sorted(began.stocks, key=lambda each: (each.region, each.faction))
        if stays(each)
        and (
            kept.get(each.region) == each.faction
            or (regions[each.region].produces and held.get(each.region) == each.faction)
        )
    )
    return replace(began, holdings=holdings, depots=depots, stocks=stocks)


@transaction.atomic
def set_factions(
    campaign: Campaign, *, factions: Sequence[war.Faction], version: int | None = None, by: Member
) -> Campaign:
    """Say who is at war. A faction without a key gets one. What a faction that is gone held is held by nobody.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: with everything that is wrong; a faction with forces or leaders stays.
    """
    current = being_drawn_up(campaign, by=by)
    began = drawn_of(current)
    keyed: list[war.Faction] = []
    for each in factions:
        taken = {*(other.key for other in factions), *(other.key for other in keyed)}
        key = each.key or free_key(each.name, taken, "faction")
        keyed.append(war.Faction(key=key, name=each.name.strip(), side=each.side.strip()))
    gone = [each for each in began.factions if each.key not in {other.key for other in keyed}]
    faults = [
        Violation(_("%(faction)s has forces; take them out first.") % {"faction": each.name}, "factions", "has_forces")
        for each in gone
        if any(force.faction == each.key for force in began.forces)
    ]
    led = set(Seat.objects.filter(campaign=current, left_at=None).values_list("faction", flat=True))
    faults += [
        Violation(_("%(faction)s has leaders; free their seats first.") % {"faction": each.name}, "factions", "is_led")
        for each in gone
        if each.key in led
    ]
    faults += map_faults(began.map, factions=keyed)
    faults += [
        violation_of(each)
        for each in faults_by_schema("map", map_as_data(MapDocument(map=began.map, factions=_for_map(keyed))))
    ]
    if faults:
        raise CampaignRefused(faults)
    changed = _settled(replace(began, factions=tuple(keyed)))
    return write_beginning(current, changed, act="factions_set", version=version, by=by)


def _for_map(factions: Iterable[war.Faction]) -> tuple[Any, ...]:
    """As the map document has them: the same three fields."""
    return tuple(factions)


@transaction.atomic
def set_start(
    campaign: Campaign,
    *,
    holdings: Iterable[war.Holding],
    depots: Iterable[war.Depot] = (),
    stocks: Iterable[war.Stock] = (),
    version: int | None = None,
    by: Member,
) -> Campaign:
    """Say who holds what at the beginning, where depots are, and what lies there.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
    """
    current = being_drawn_up(campaign, by=by)
    changed = replace(
        drawn_of(current),
        holdings=tuple(sorted(holdings, key=lambda each: each.region)),
        depots=tuple(sorted(depots, key=lambda each: each.region)),
        stocks=tuple(sorted((each for each in stocks if each.amount), key=lambda each: (each.region, each.faction))),
    )
    return write_beginning(current, changed, act="start_set", version=version, by=by)


@transaction.atomic
def set_rules(campaign: Campaign, *, rules: war.Rules, version: int | None = None, by: Member) -> Campaign:
    """Choose the rules of the war.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
    """
    current = being_drawn_up(campaign, by=by)
    return write_beginning(
        current, replace(drawn_of(current), rules=rules), act="war_rules_set", version=version, by=by
    )


def write_beginning(
    current: Campaign, began: war.Campaign, *, act: str, version: int | None, by: Member, **details: Any
) -> Campaign:
    """Write how the war begins over what stands there. `current` is locked.

    Raises:
        CampaignMovedOn: somebody else wrote since `version`.
        CampaignRefused: with everything wrong across its parts.
    """
    document = checked(began)
    if document == current.document:
        return current
    if version is not None and version != current.version:
        raise CampaignMovedOn(
            _("Somebody else has changed this campaign since you opened the page. Look at it anew before you save.")
        )
    current.document = document
    current.version += 1
    current.save(update_fields=["document", "version"])
    log_act(current.club, act, current, by=by, **details)
    return current


def checked(began: war.Campaign) -> dict[str, Any]:
    """The document of a beginning that can be read again.

    Raises:
        CampaignRefused: with everything that is wrong.
    """
    document = write_campaign(began)
    try:
        read_campaign(document)
    except BadDocument as failure:
        raise CampaignRefused(refuse_document(failure.faults)) from None
    return document


def refuse_document(faults: Sequence[Fault], within: str = "") -> list[Violation]:
    """The faults of a document as violations: the first hundred, and how many more."""
    told = [violation_of(each, within) for each in faults[:FAULTS_SHOWN]]
    if len(faults) > FAULTS_SHOWN:
        told.append(Violation(_("And %(more)s faults more.") % {"more": len(faults) - FAULTS_SHOWN}, within, "more"))
    return told


def violation_of(fault: Fault, within: str = "") -> Violation:
    """A fault of a document as a violation; its place in dots."""
    steps = [step for step in (within, *fault.place.split("/")) if step]
    return Violation(str(fault), ".".join(steps), "document")


def free_key(name: str, taken: Iterable[str], otherwise: str) -> str:
    """A name for programs out of a name for people, unlike any taken."""
    known = set(taken)
    stem = slugify(name)[: KEY_MOST - 5].strip("-_") or otherwise
    key, number = stem, 1
    while key in known:
        number += 1
        key = f"{stem}-{number}"
    return key


def name_taken() -> Violation:
    return Violation(_("There is a campaign of this name already."), "name", "taken")


def faults_of_about(club: Club, name: str, about: str, *, but: Campaign | None = None) -> list[Violation]:
    faults = []
    others = Campaign.objects.filter(club=club)
    others = others.exclude(pk=but.pk) if but else others
    if not name:
        faults.append(Violation(_("A campaign needs a name."), "name", "required"))
    elif len(name) > NAME_MOST:
        faults.append(Violation(_("Keep this under %(most)s characters.") % {"most": NAME_MOST}, "name", "long"))
    elif others.filter(name=name).exists():
        faults.append(name_taken())
    if len(about) > ABOUT_MOST:
        faults.append(Violation(_("Keep this under %(most)s characters.") % {"most": ABOUT_MOST}, "about", "long"))
    return faults


def faults_of_edition(club: Club, edition: Edition) -> list[Violation]:
    if edition.ruleset.club_id != club.pk:
        return [Violation(_("This ruleset is not one of the club's."), "ruleset", "not_of_club")]
    return []
