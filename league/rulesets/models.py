"""A club's description of a game system, kept as documents that never change once saved."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, OfClubQuerySet


class Ruleset(models.Model):
    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="rulesets")
    name = models.CharField(_("name"), max_length=80)
    retired_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField()

    objects = OfClubQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["club", "name"], name="ruleset_name_once_in_a_club")]

    def __str__(self) -> str:
        return self.name


class EditionQuerySet(models.QuerySet["Edition"]):
    def visible_to(self, user: object) -> EditionQuerySet:
        return self.filter(ruleset__in=Ruleset.objects.visible_to(user))  # type: ignore[arg-type]


class Edition(models.Model):
    """One state of a ruleset: a change makes the next edition, so that a game keeps the rules it was played by.

    `document` is what `league.engines.rulesets.parse_ruleset` reads.
    """

    ruleset = models.ForeignKey(Ruleset, on_delete=models.PROTECT, related_name="editions")
    number = models.PositiveIntegerField(_("edition"))
    document = models.JSONField()
    note = models.CharField(_("what changed"), max_length=200, blank=True)
    created_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    created_at = models.DateTimeField()

    objects = EditionQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["ruleset", "number"], name="edition_number_once")]

    def __str__(self) -> str:
        return f"{self.ruleset_id}.{self.number}"
