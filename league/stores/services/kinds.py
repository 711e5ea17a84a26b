"""The club's list of kinds: adding, describing, retiring; and the packs in which they are sold."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from league.clubs.models import Club, Member
from league.clubs.services.clubs import lock_club
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Category, ItemKind, PackOffer
from league.stores.queries.cautions import CAUTIONS
from league.stores.services.acts import log_act

__all__ = [
    "KindFacts",
    "KindRefused",
    "OfferRefused",
    "add_kind",
    "bring_back_kind",
    "change_kind",
    "offer_pack",
    "retire_kind",
    "withdraw_offer",
]

KEY = re.compile(r"[a-z0-9]+([_-][a-z0-9]+)*")
KEY_LONGEST = 60
SIDES_LEAST = 2
SIDES_MOST = 1000
SIZE_MOST_MM = 10_000
SIZES_MOST = 8
BULK_MOST_ML = 1_000_000
PACK_MOST = 100_000
PRICE_MOST = 10_000_000
OFFERS_MOST = 20


class KindRefused(Refused):
    """What was written cannot be kept as a kind."""


class OfferRefused(Refused):
    """What was written cannot be kept as a pack."""


@dataclass(frozen=True, kw_only=True, slots=True)
class KindFacts:
    """A kind as the club describes it; the fields are those of `ItemKind`."""

    name: str
    category: str
    use: str = ""
    sides: int | None = None
    sizes_mm: tuple[int, ...] = ()
    unit: str = ""
    bulk_ml: int = 0
    can_be_made: bool = False
    how_made: str = ""
    cautions: tuple[str, ...] = ()
    caution: str = ""


def written(facts: KindFacts) -> dict[str, object]:
    """The facts as columns of a kind's row."""
    columns = asdict(facts)
    for text in ("name", "use", "unit", "how_made", "caution"):
        columns[text] = columns[text].strip()
    return {
        **columns,
        "sizes_mm": list(facts.sizes_mm),
        "cautions": [key for key in CAUTIONS if key in facts.cautions],
    }


@transaction.atomic
def add_kind(club: Club, *, facts: KindFacts, key: str = "", submission: UUID, by: Member) -> ItemKind:
    """Add a kind to the club's list; without a `key` it is made from the name.

    Raises:
        NotYoursToDo: not a member of the club.
        KindRefused: with everything that cannot be kept.
        SubmissionReused: the submission's name came earlier with another kind.
    """
    if not permissions.can_add_kind(by, club):
        raise NotYoursToDo(_("Only members of the club add to its kinds of kit."))
    lock_club(club)
    digest = digest_of({"club": club.pk, "key": key, **asdict(facts)})
    if again := earlier(ItemKind, submission, digest):
        return again
    wrong = faults_of_kind(club, facts)
    if key and (len(key) > KEY_LONGEST or not KEY.fullmatch(key)):
        words = _("A short name is made of small letters, digits and single hyphens, at most 60.")
        wrong.append(Violation(words, "key", "malformed"))
    elif key and ItemKind.objects.filter(club=club, key=key).exists():
        wrong.append(Violation(_("The club has a kind of this short name already."), "key", "taken"))
    if wrong:
        raise KindRefused(wrong)
    now = timezone.now()
    kind, is_new = write_once(
        ItemKind,
        submission,
        digest,
        club=club,
        key=key or free_key(club, facts.name),
        created_by=by,
        created_at=now,
        **written(facts),
    )
    if is_new:
        log_act(club, "kind_added", kind, by=by, at=now, name=kind.name)
    return kind


@transaction.atomic
def change_kind(kind: ItemKind, *, facts: KindFacts, by: Member) -> ItemKind:
    """Describe a kind anew; its key, which other lists name, stays.

    Raises:
        NotYoursToDo: neither quartermaster nor organiser.
        KindRefused: with everything that cannot be kept.
    """
    refuse_unless_keeper(kind.club, by)
    lock_club(kind.club)
    if wrong := faults_of_kind(kind.club, facts, but=kind.pk):
        raise KindRefused(wrong)
    columns = written(facts)
    for name, value in columns.items():
        setattr(kind, name, value)
    kind.save(update_fields=list(columns))
    log_act(kind.club, "kind_changed", kind, by=by, name=kind.name)
    return kind


@transaction.atomic
def retire_kind(kind: ItemKind, *, by: Member) -> ItemKind:
    """Offer the kind no more for new holdings; what there is of it stays. Twice is once.

    Raises:
        NotYoursToDo: neither quartermaster nor organiser.
    """
    refuse_unless_keeper(kind.club, by)
    now = timezone.now()
    if ItemKind.objects.filter(pk=kind.pk, retired_at=None).update(retired_at=now):
        log_act(kind.club, "kind_retired", kind, by=by, at=now, name=kind.name)
    kind.refresh_from_db()
    return kind


@transaction.atomic
def bring_back_kind(kind: ItemKind, *, by: Member) -> ItemKind:
    """Offer a retired kind again; raises NotYoursToDo for others than quartermasters and organisers."""
    refuse_unless_keeper(kind.club, by)
    if ItemKind.objects.filter(pk=kind.pk, retired_at__isnull=False).update(retired_at=None):
        log_act(kind.club, "kind_brought_back", kind, by=by, name=kind.name)
    kind.refresh_from_db()
    return kind


@transaction.atomic
def offer_pack(kind: ItemKind, *, pieces: int, price_pence: int, note: str = "", by: Member) -> PackOffer:
    """Note a pack in which a kind is sold. The same pack once more is the pack that is there.

    Raises:
        NotYoursToDo: neither quartermaster nor organiser.
        OfferRefused: with every reason.
    """
    refuse_unless_keeper(kind.club, by)
    lock_club(kind.club)
    note = note.strip()
    standing = PackOffer.objects.filter(kind=kind, withdrawn_at=None)
    same = standing.filter(pieces=pieces, price_pence=price_pence, note=note).first()
    if same is not None:
        return same
    wrong = too_long(PackOffer, note=note)
    if not 1 <= pieces <= PACK_MOST:
        wrong.append(Violation(_("A pack holds 1 to %(most)s pieces.") % {"most": PACK_MOST}, "pieces", "range"))
    if not 0 <= price_pence <= PRICE_MOST:
        wrong.append(Violation(_("Give the price in pence, from nothing to 10 million."), "price_pence", "range"))
    if standing.count() >= OFFERS_MOST:
        wrong.append(Violation(_("A kind has at most %(most)s packs.") % {"most": OFFERS_MOST}, code="too_many"))
    if wrong:
        raise OfferRefused(wrong)
    now = timezone.now()
    offer = PackOffer.objects.create(
        kind=kind, pieces=pieces, price_pence=price_pence, note=note, added_by=by, added_at=now
    )
    log_act(kind.club, "pack_offered", kind, by=by, at=now, name=kind.name, pieces=pieces)
    return offer


@transaction.atomic
def withdraw_offer(offer: PackOffer, *, by: Member) -> None:
    """Strike out a pack that is sold no more. Twice is once; raises NotYoursToDo as `offer_pack` does."""
    kind = offer.kind
    refuse_unless_keeper(kind.club, by)
    now = timezone.now()
    if PackOffer.objects.filter(pk=offer.pk, withdrawn_at=None).update(withdrawn_at=now):
        log_act(kind.club, "pack_offer_withdrawn", kind, by=by, at=now, name=kind.name, pieces=offer.pieces)


def refuse_unless_keeper(club: Club, by: Member) -> None:
    if not permissions.can_keep_stores(by, club):
        raise NotYoursToDo(_("Only the club's quartermasters and organisers do this."))


def free_key(club: Club, name: str) -> str:
    """A key made from the name, with a number behind it where another kind bears it."""
    stem = slugify(name)[:50] or "kind"
    taken = set(ItemKind.objects.filter(club=club, key__startswith=stem).values_list("key", flat=True))
    key, number = stem, 2
    while key in taken:
        key, number = f"{stem}-{number}", number + 1
    return key


def faults_of_kind(club: Club, facts: KindFacts, *, but: int | None = None) -> list[Violation]:
    """Everything that keeps the facts from being a kind of the club; `but` is the kind they describe anew."""
    name, use = facts.name.strip(), facts.use.strip()
    texts = {"name": name, "use": use, "unit": facts.unit, "how_made": facts.how_made, "caution": facts.caution}
    wrong = too_long(ItemKind, **texts)
    if not name:
        wrong.append(Violation(_("Enter a name."), "name", "missing"))
    elif ItemKind.objects.filter(club=club, name__iexact=name).exclude(pk=but).exists():
        wrong.append(Violation(_("The club has a kind of this name already."), "name", "taken"))
    if facts.category not in Category.values:
        wrong.append(Violation(_("Choose what it is for."), "category", "unknown"))
    if use and not KEY.fullmatch(use):
        wrong.append(Violation(_("Use small letters, digits and hyphens only."), "use", "malformed"))
    return wrong + faults_of_numbers(facts)


def faults_of_numbers(facts: KindFacts) -> list[Violation]:
    wrong = []
    if facts.sides is not None and not SIDES_LEAST <= facts.sides <= SIDES_MOST:
        wrong.append(
            Violation(
                _("A die has %(least)s to %(most)s sides.") % {"least": SIDES_LEAST, "most": SIDES_MOST},
                "sides",
                "range",
            )
        )
    if facts.category == Category.DIE and facts.sides is None:
        wrong.append(Violation(_("Say how many sides the die has."), "sides", "missing"))
    if len(facts.sizes_mm) > SIZES_MOST:
        wrong.append(Violation(_("Name at most %(most)s sizes.") % {"most": SIZES_MOST}, "sizes_mm", "too_many"))
    if not all(1 <= size <= SIZE_MOST_MM for size in facts.sizes_mm):
        wrong.append(Violation(_("Sizes are whole millimetres, up to 10 m."), "sizes_mm", "range"))
    if not 0 <= facts.bulk_ml <= BULK_MOST_ML:
        wrong.append(Violation(_("A piece takes from nothing to a cubic metre."), "bulk_ml", "range"))
    return wrong + faults_of_cautions(facts.cautions)


def faults_of_cautions(keys: Iterable[str]) -> list[Violation]:
    return [
        Violation(_("There is no usual caution “%(key)s”.") % {"key": key}, "cautions", "unknown")
        for key in keys
        if key not in CAUTIONS
    ]
