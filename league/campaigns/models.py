"""A campaign: how the war began, who leads whom, and every fact since. The state of any turn is a fold over these."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from league.battles.models import Game, Report
from league.clubs.models import Club, Member, OfClubQuerySet, Submitted
from league.rosters.models import Engagement, Muster, Roster
from league.rulesets.models import Edition

if TYPE_CHECKING:
    from accounts.models import User


class CampaignQuerySet(OfClubQuerySet):
    def visible_to(self, user: User) -> CampaignQuerySet:
        """Campaigns of one's clubs, and those shown to anyone by clubs with public pages.

        That a campaign may be seen says nothing of what in it may be seen: that is for `queries.views` alone.
        """
        shown = Club.objects.filter(is_public=True)
        return self.filter(
            Q(club__in=Club.objects.joined_by(user)) | Q(club__in=shown, is_public=True, started_at__isnull=False)
        )


class Campaign(Submitted):
    """`document` is the war as it begins (`league.engines.documents`, a campaign without facts): it is written over
    while the campaign is drawn up (`version` counts the writings) and never again once it has started."""

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="campaigns")
    edition = models.ForeignKey(Edition, on_delete=models.PROTECT, related_name="campaigns")
    name = models.CharField(_("name"), max_length=80)
    about = models.TextField(_("about the war"), max_length=4000, blank=True)
    document = models.JSONField()
    version = models.PositiveIntegerField(default=1)
    is_public = models.BooleanField(
        _("anyone may follow it"),
        default=False,
        help_text=_("People who are not signed in see what spectators see, if the club has public pages."),
    )
    created_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    started_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = CampaignQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["club", "name"], name="campaign_name_once_in_a_club"),
            models.CheckConstraint(
                condition=Q(ended_at=None) | Q(started_at__isnull=False), name="campaign_ends_after_it_began"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Seat(models.Model):
    """A member who leads a faction, alone or with others. `faction` is its key in the campaign's document."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="seats")
    faction = models.CharField(max_length=40)
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="seats")
    taken_at = models.DateTimeField()
    left_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["campaign", "member"], condition=Q(left_at=None), name="member_leads_one_faction_of_a_campaign"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.faction}: {self.member_id}"


class Enlisted(models.Model):
    """A roster that fights in a campaign under the key of a force."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="enlisted")
    force = models.CharField(max_length=40)
    roster = models.ForeignKey(Roster, on_delete=models.PROTECT, related_name="enlisted")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["campaign", "force"], name="force_has_one_roster"),
            models.UniqueConstraint(fields=["campaign", "roster"], name="roster_is_one_force_of_a_campaign"),
        ]

    def __str__(self) -> str:
        return f"{self.force}: {self.roster_id}"


class Secret(models.Model):
    """The seed of a turn's dice, kept until the turn is over; its SHA-256 is a fact that all see before the orders."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="secrets")
    turn = models.PositiveSmallIntegerField()
    seed = models.CharField(max_length=64)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["campaign", "turn"], name="one_secret_a_turn")]

    def __str__(self) -> str:
        return f"{self.campaign_id}.{self.turn}"  # never the seed: this may end in a log line


class FactQuerySet(models.QuerySet["Fact"]):
    def in_force(self) -> FactQuerySet:
        """Facts that no later one took the place of."""
        return self.filter(superseded_by=None)


class Fact(Submitted):
    """One thing ordered, reported, rolled or ruled, as `league.engines.war.model` has it: `data` is its document.

    Never changed, never deleted. `sequence` is the server's order. A fact that supersedes another takes its place in
    the order. `report` is the battle report an outcome was taken from, `faction` whose orders a set is.
    """

    class Kind(models.TextChoices):
        ORDERS = "orders", _("orders")
        SEED = "seed", _("seed")
        REVEALED = "revealed", _("orders revealed")
        OUTCOME = "outcome", _("outcome of a battle")
        POSTPONED = "postponed", _("battle postponed")
        ROLL = "roll", _("dice")
        OUTSIDE = "outside", _("battle outside the war")
        RULING = "ruling", _("ruling")
        SETTLEMENT = "settlement", _("settlement")
        MAP_EDITED = "map_edited", _("map changed")
        CLOSED = "closed", _("turn closed")

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="facts")
    sequence = models.PositiveIntegerField()
    turn = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=12, choices=Kind.choices)
    data = models.JSONField()
    faction = models.CharField(max_length=40, blank=True)
    report = models.ForeignKey(Report, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    supersedes = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="superseded_by", null=True, blank=True
    )
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    at = models.DateTimeField()

    objects = FactQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["campaign", "sequence"], name="fact_has_its_place"),
            models.UniqueConstraint(
                fields=["campaign", "turn"], condition=Q(kind="revealed"), name="a_turn_is_revealed_once"
            ),
            models.UniqueConstraint(fields=["campaign", "turn"], condition=Q(kind="closed"), name="a_turn_closes_once"),
            models.CheckConstraint(condition=Q(kind="orders") ^ Q(faction=""), name="orders_are_a_factions"),
            models.CheckConstraint(condition=Q(turn__gte=1), name="turns_count_from_one"),
        ]

    def __str__(self) -> str:
        return f"{self.campaign_id}.{self.turn} {self.kind}"


class Fight(models.Model):
    """The game in which a battle of the war is fought. `battle` is the id that the fold gave the battle."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="fights")
    turn = models.PositiveSmallIntegerField()
    battle = models.CharField(max_length=80)
    game = models.OneToOneField(Game, on_delete=models.PROTECT, related_name="fight")
    called_off_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["campaign", "battle"], condition=Q(called_off_at=None), name="a_battle_is_fought_once"
            )
        ]

    def __str__(self) -> str:
        return self.battle


class RollCall(models.Model):
    """A muster that a turn of the war brought upon a roster's unit."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="roll_calls")
    turn = models.PositiveSmallIntegerField()
    muster = models.OneToOneField(Muster, on_delete=models.PROTECT, related_name="roll_call")

    def __str__(self) -> str:
        return f"{self.campaign_id}.{self.turn}: {self.muster_id}"


class Clash(models.Model):
    """A battle of the war that was not played as a game, on the record of one roster that stood in it."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="clashes")
    turn = models.PositiveSmallIntegerField()
    battle = models.CharField(max_length=80)
    engagement = models.OneToOneField(Engagement, on_delete=models.PROTECT, related_name="clash")

    def __str__(self) -> str:
        return f"{self.battle}: {self.engagement_id}"


class Deadline(models.Model):
    """When a turn's orders must be in. A later row of the same turn takes the place of an earlier one."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="deadlines")
    turn = models.PositiveSmallIntegerField()
    due_at = models.DateTimeField(_("orders are due"))
    set_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    set_at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["campaign", "turn"], name="deadline_by_turn")]

    def __str__(self) -> str:
        return f"{self.campaign_id}.{self.turn}: {self.due_at:%Y-%m-%d %H:%M}"


class StoryQuerySet(models.QuerySet["Story"]):
    def shown(self) -> StoryQuerySet:
        return self.filter(hidden_at=None)


class Story(Submitted):
    """What a member tells of a turn, beside the chronicle's facts. Words only; pictures hang on the games."""

    campaign = models.ForeignKey(Campaign, on_delete=models.PROTECT, related_name="stories")
    turn = models.PositiveSmallIntegerField()
    title = models.CharField(_("title"), max_length=120)
    text = models.TextField(_("story"), max_length=8000)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    hidden_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    hidden_at = models.DateTimeField(null=True, blank=True)

    objects = StoryQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(text=""), name="story_says_something"),
            models.CheckConstraint(
                condition=Q(hidden_at=None) | Q(hidden_at__gte=F("at")), name="story_is_hidden_after_it_is_told"
            ),
        ]

    def __str__(self) -> str:
        return self.title
