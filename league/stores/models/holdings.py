"""What somebody has of a kind, and where it lies."""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

from django.db import models
from django.db.models import OuterRef, Q, Subquery
from django.db.models.functions import Coalesce
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, OfClubQuerySet, Submitted, Venue
from league.stores.models.kinds import ItemKind

if TYPE_CHECKING:
    from accounts.models import User

# No letters and digits that are mistaken for each other when a label is read out.
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
LABEL_LENGTH = 10


def new_label() -> str:
    """A code for a printed label: about 49 bits, so that it is met by scanning it and not by guessing."""
    return "".join(secrets.choice(LETTERS) for _each in range(LABEL_LENGTH))


class Condition(models.TextChoices):
    GOOD = "good", _("good")
    WORN = "worn", _("worn, but serves")
    DAMAGED = "damaged", _("damaged")


class HoldingQuerySet(OfClubQuerySet):
    def visible_to(self, user: User) -> HoldingQuerySet:
        """Club mates see each other's kit, but not what its owner keeps to themselves."""
        if not user.is_authenticated:
            return self.none()
        return self.filter(club__in=Club.objects.joined_by(user)).filter(Q(is_private=False) | Q(owner__user=user.pk))

    def standing(self) -> HoldingQuerySet:
        return self.filter(retired_at=None)

    def with_balance(self) -> HoldingQuerySet:
        """Annotate `held` and `out`, from the last line of each holding's record."""
        from league.stores.models.movements import Movement  # noqa: PLC0415 - each model names the other

        last = Movement.objects.filter(holding=OuterRef("pk")).order_by("-sequence")
        holdings: HoldingQuerySet = self.annotate(
            held=Coalesce(Subquery(last.values("held_after")[:1]), 0),
            out=Coalesce(Subquery(last.values("out_after")[:1]), 0),
        )
        return holdings


class Holding(Submitted):
    """Pieces of one kind, alike in colour, scale and condition, with one owner (None: the club), in one place.

    How many there are is no column: it is the sum of the holding's movements. Holdings that lie together bear the
    same `label`, the code of the shelf's printed label. `venue` says they lie at that hall; otherwise they are with
    `keeper`, or else with their owner.
    """

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="holdings")
    kind = models.ForeignKey(ItemKind, on_delete=models.PROTECT, related_name="holdings")
    owner = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="holdings", null=True, blank=True)
    keeper = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="keeps", null=True, blank=True)
    venue = models.ForeignKey(Venue, on_delete=models.PROTECT, related_name="holdings", null=True, blank=True)
    place = models.CharField(_("where it lies"), max_length=120, blank=True)
    colour = models.CharField(_("colour"), max_length=40, blank=True)
    scale_mm = models.PositiveSmallIntegerField(_("scale in mm"), null=True, blank=True)
    condition = models.CharField(_("condition"), max_length=8, choices=Condition.choices, default=Condition.GOOD)
    kept = models.PositiveIntegerField(_("kept for own use"), default=0)
    is_private = models.BooleanField(_("only I see it"), default=False)
    note = models.TextField(_("note"), max_length=1000, blank=True)
    label = models.CharField(max_length=LABEL_LENGTH, default=new_label, editable=False)
    photo = models.FileField(upload_to="kit", blank=True)
    photo_width = models.PositiveSmallIntegerField(null=True, blank=True, editable=False)
    photo_height = models.PositiveSmallIntegerField(null=True, blank=True, editable=False)
    created_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    created_at = models.DateTimeField()
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = HoldingQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(condition__in=Condition.values), name="holding_condition_is_known"),
            models.CheckConstraint(
                condition=Q(is_private=False) | Q(owner__isnull=False), name="holding_of_the_club_is_open"
            ),
            models.CheckConstraint(
                condition=Q(scale_mm=None) | Q(scale_mm__gte=1, scale_mm__lte=200), name="holding_scale_is_plausible"
            ),
            models.CheckConstraint(condition=Q(venue=None) | Q(keeper=None), name="holding_lies_in_one_place"),
        ]
        indexes = [
            models.Index(
                fields=["club", "kind", "colour", "id"], condition=Q(retired_at=None), name="holding_to_search"
            ),
            models.Index(fields=["club", "label"], name="holding_by_label"),
        ]

    def __str__(self) -> str:
        return _("Holding %(number)s") % {"number": self.pk}
