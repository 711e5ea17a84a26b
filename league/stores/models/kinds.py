"""What sorts of things a club's members own, lend and buy."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, OfClubQuerySet, Submitted


class Category(models.TextChoices):
    """What a thing is for on the table; the same words as the kit engine's."""

    DIE = "die", _("dice")
    TOKEN = "token", _("draw tokens")
    MARKER = "marker", _("markers")
    TEMPLATE = "template", _("blast templates")
    RULER = "ruler", _("rulers and tapes")
    BAG = "bag", _("draw bags")
    MAT = "mat", _("mats and cloths")
    SCENERY = "scenery", _("scenery")
    PAPER = "paper", _("paper forms")
    CONSUMABLE = "consumable", _("things that get used up")
    OTHER = "other", _("other kit")


class ItemKind(Submitted):
    """One sort of thing, as the club counts it.

    `use` names, in a ruleset's words, what the thing serves for ("suppression"), where its category does not say it
    all. `sizes_mm` are whole millimetres: across a template or a bag, along a ruler, both edges of a mat; a nested
    template has one for each circle it offers.
    """

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="item_kinds")
    key = models.SlugField(_("short name"), max_length=60, help_text=_("For imports and programs; unique in the club."))
    name = models.CharField(_("name"), max_length=80)
    category = models.CharField(_("what it is for"), max_length=12, choices=Category.choices)
    use = models.SlugField(_("serves as"), max_length=40, blank=True)
    sides = models.PositiveSmallIntegerField(_("sides"), null=True, blank=True)
    sizes_mm = models.JSONField(_("sizes in mm"), default=list, blank=True)
    unit = models.CharField(
        _("counted in"), max_length=40, blank=True, help_text=_("Pieces, unless you say otherwise.")
    )
    bulk_ml = models.PositiveIntegerField(
        _("room a piece takes, in ml"), default=0, help_text=_("A token takes about 1 ml, a shoe box about 10 000.")
    )
    can_be_made = models.BooleanField(_("can be made"), default=False)
    how_made = models.TextField(_("how it is made"), max_length=1000, blank=True)
    cautions = models.JSONField(_("usual cautions"), default=list, blank=True)
    caution = models.TextField(_("the club's own caution"), max_length=1000, blank=True)
    created_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    created_at = models.DateTimeField()
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = OfClubQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["club", "key"], name="item_kind_key_once_in_a_club"),
            models.UniqueConstraint(fields=["club", "name"], name="item_kind_name_once_in_a_club"),
            models.CheckConstraint(condition=Q(category__in=Category.values), name="item_kind_category_is_known"),
            models.CheckConstraint(
                condition=Q(sides=None) | Q(sides__gte=2, sides__lte=1000), name="item_kind_sides_are_plausible"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PackOffer(models.Model):
    """A pack in which a kind is sold: so many pieces for so many pence."""

    kind = models.ForeignKey(ItemKind, on_delete=models.PROTECT, related_name="offers")
    pieces = models.PositiveIntegerField(_("pieces"))
    price_pence = models.PositiveIntegerField(_("price in pence"))
    note = models.CharField(_("where"), max_length=120, blank=True)
    added_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    added_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(pieces__gte=1), name="pack_offer_has_pieces"),
            models.UniqueConstraint(
                fields=["kind", "pieces", "price_pence", "note"],
                condition=Q(withdrawn_at=None),
                name="pack_offer_stands_once",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.pieces} for {self.price_pence}"
