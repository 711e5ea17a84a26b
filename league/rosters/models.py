"""Forces, their units, and the record of what happened to each unit in battle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, OfClubQuerySet, Submitted
from league.rulesets.models import Edition, Ruleset

if TYPE_CHECKING:
    from accounts.models import User


class RosterQuerySet(OfClubQuerySet):
    def visible_to(self, user: User) -> RosterQuerySet:
        """Rosters of one's clubs, and those whose owner shows them to anyone."""
        shown = Member.objects.on_public_pages().filter(shows_rosters=True)
        return self.filter(Q(club__in=Club.objects.joined_by(user)) | Q(owner__in=shown))


class Roster(Submitted):
    """A force one member leads from game to game."""

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="rosters")
    owner = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="rosters")
    ruleset = models.ForeignKey(Ruleset, on_delete=models.PROTECT, related_name="rosters")
    name = models.CharField(_("name"), max_length=80)
    faction = models.CharField(_("faction"), max_length=80, blank=True)
    points_limit = models.PositiveIntegerField(_("points limit"), null=True, blank=True)
    note = models.TextField(_("note"), max_length=2000, blank=True)
    copied_from = models.ForeignKey("self", on_delete=models.PROTECT, related_name="copies", null=True, blank=True)
    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField()
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = RosterQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["club", "owner"], name="roster_by_owner")]

    def __str__(self) -> str:
        return self.name


class Unit(models.Model):
    """One unit as its owner wrote it down. What it is worth today is a fold over its engagements."""

    roster = models.ForeignKey(Roster, on_delete=models.PROTECT, related_name="units")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(_("name"), max_length=80)
    unit_class = models.CharField(_("class"), max_length=40)
    figures = models.PositiveSmallIntegerField(_("figures"))
    quality = models.CharField(_("quality"), max_length=40, blank=True)
    points = models.PositiveIntegerField(_("points"))
    gear = models.JSONField(_("gear"), default=list, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(figures__gte=1), name="unit_has_figures")]

    def __str__(self) -> str:
        return self.name


class Snapshot(models.Model):
    """A roster as it took the field, frozen; `document` holds every unit with the strength it had that day."""

    roster = models.ForeignKey(Roster, on_delete=models.PROTECT, related_name="snapshots")
    edition = models.ForeignKey(Edition, on_delete=models.PROTECT, related_name="+")
    document = models.JSONField()
    points = models.PositiveIntegerField()
    taken_at = models.DateTimeField()
    taken_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)

    def __str__(self) -> str:
        return f"{self.roster_id} {self.taken_at:%Y-%m-%d}"


class EngagementQuerySet(models.QuerySet["Engagement"]):
    def standing(self) -> EngagementQuerySet:
        """Engagements that count: not replaced by a correction, not struck out by an umpire."""
        return self.filter(set_aside_at=None)


class Engagement(models.Model):
    """A roster's part in one battle, as its service record knows it.

    `sequence` is the server's order of the roster's battles. A correction sets the old engagement aside and takes
    its place in the order, so a mended report six weeks old mends everything after it.
    """

    roster = models.ForeignKey(Roster, on_delete=models.PROTECT, related_name="engagements")
    snapshot = models.ForeignKey(Snapshot, on_delete=models.PROTECT, related_name="engagements")
    sequence = models.PositiveIntegerField()
    title = models.CharField(max_length=200)
    fought_on = models.DateField()
    outcome = models.CharField(max_length=4, blank=True)
    recorded_at = models.DateTimeField()
    set_aside_at = models.DateTimeField(null=True, blank=True)

    objects = EngagementQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["roster", "sequence"], condition=Q(set_aside_at=None), name="one_standing_engagement_in_order"
            ),
            models.CheckConstraint(
                condition=Q(outcome__in=["", "win", "draw", "loss"]), name="engagement_outcome_known"
            ),
        ]

    def __str__(self) -> str:
        return self.title


class MusterQuerySet(models.QuerySet["Muster"]):
    def standing(self) -> MusterQuerySet:
        """Musters that count: not set aside since the war they belong to was reckoned anew."""
        return self.filter(set_aside_at=None)


class Muster(models.Model):
    """What the roll-call between two battles found in one unit: recruits that joined, figures that left unfought.

    `sequence` shares the order of the roster's engagements.
    """

    unit = models.ForeignKey(Unit, on_delete=models.PROTECT, related_name="musters")
    sequence = models.PositiveIntegerField()
    title = models.CharField(max_length=200)
    held_on = models.DateField()
    joined = models.PositiveSmallIntegerField(default=0)
    left = models.PositiveSmallIntegerField(default=0)
    recorded_at = models.DateTimeField()
    set_aside_at = models.DateTimeField(null=True, blank=True)

    objects = MusterQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["unit", "sequence"], condition=Q(set_aside_at=None), name="one_standing_muster_in_order"
            ),
            models.CheckConstraint(condition=Q(joined__gt=0) | Q(left__gt=0), name="muster_says_something"),
        ]

    def __str__(self) -> str:
        return self.title


class Casualty(models.Model):
    """What one unit lost in one engagement."""

    engagement = models.ForeignKey(Engagement, on_delete=models.PROTECT, related_name="casualties")
    unit = models.ForeignKey(Unit, on_delete=models.PROTECT, related_name="casualties")
    figures_lost = models.PositiveSmallIntegerField(_("figures lost"), default=0)
    destroyed = models.BooleanField(_("destroyed"), default=False)
    routed = models.BooleanField(_("routed"), default=False)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["engagement", "unit"], name="one_casualty_line_a_unit"),
            models.CheckConstraint(
                condition=Q(figures_lost__gt=0) | Q(destroyed=True) | Q(routed=True), name="casualty_says_something"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.unit_id}: {self.figures_lost}"


class Rolls(models.Model):
    """The dice that decided one casualty's fate: thrown on the table and typed in, or drawn from the game's seed.

    Written once. For drawn dice `seed` and `label` let anyone repeat the draw (`league.engines.fates.draw_rolls`).
    """

    class Source(models.TextChoices):
        TABLE = "table", _("thrown on the table")
        DRAWN = "drawn", _("drawn by the site")

    casualty = models.OneToOneField(Casualty, on_delete=models.PROTECT, related_name="rolls")
    source = models.CharField(max_length=8, choices=Source.choices)
    results = models.JSONField()
    seed = models.CharField(max_length=64, blank=True)
    label = models.CharField(max_length=80, blank=True)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(source="table", seed="") | (Q(source="drawn") & ~Q(seed="")),
                name="drawn_rolls_name_their_seed",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.casualty_id}: {self.results}"
