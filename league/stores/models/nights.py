"""What members promise to bring to a night, and how much they can carry."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from league.battles.models import Game
from league.clubs.models import Member, Night, Submitted
from league.stores.models.holdings import Holding
from league.stores.models.movements import Loan


class Promise(Submitted):
    """A member brings pieces of a holding to a night. A change of mind is a withdrawal and, at will, a new promise.

    With a `loan` the pieces are among those the member has borrowed, so they are no longer asked of the owner.
    """

    night = models.ForeignKey(Night, on_delete=models.PROTECT, related_name="promises")
    holding = models.ForeignKey(Holding, on_delete=models.PROTECT, related_name="promises")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="promises")
    loan = models.ForeignKey(Loan, on_delete=models.PROTECT, related_name="promises", null=True, blank=True)
    count = models.PositiveIntegerField(_("how many"))
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    promised_at = models.DateTimeField()
    packed_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(count__gte=1), name="promise_is_of_something"),
            models.UniqueConstraint(
                fields=["night", "holding", "member"],
                condition=Q(withdrawn_at=None),
                name="one_standing_promise_a_holding",
            ),
        ]
        indexes = [
            models.Index(fields=["holding", "night"], condition=Q(withdrawn_at=None), name="promise_standing"),
        ]

    def __str__(self) -> str:
        return f"{self.member_id}: {self.count} of {self.holding_id}"


class PromiseTable(models.Model):
    """How many of the promised pieces are meant for one game: what was packed for it stays with it where it can."""

    promise = models.ForeignKey(Promise, on_delete=models.PROTECT, related_name="tables")
    game = models.ForeignKey(Game, on_delete=models.PROTECT, related_name="promised_kit")
    count = models.PositiveIntegerField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(count__gte=1), name="promise_for_a_game_is_of_something"),
            models.UniqueConstraint(fields=["promise", "game"], name="promise_names_a_game_once"),
        ]

    def __str__(self) -> str:
        return f"{self.promise_id}: {self.count} for {self.game_id}"


class Carrying(models.Model):
    """What a member last said they can carry to a night. No row, or an empty answer: they did not say."""

    class Room(models.TextChoices):
        POCKET = "pocket", _("what goes in a pocket")
        BAG = "bag", _("a bag")
        BOX = "box", _("a large box")
        CAR = "car", _("a car boot")

    night = models.ForeignKey(Night, on_delete=models.PROTECT, related_name="carrying")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="carrying")
    room = models.CharField(_("what I can carry"), max_length=8, choices=Room.choices, blank=True)
    said_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["night", "member"], name="one_carrying_a_night"),
            models.CheckConstraint(
                condition=Q(room__in=["", "pocket", "bag", "box", "car"]), name="carrying_room_is_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member_id}: {self.room}"


class PackingReminder(models.Model):
    """A member was sent what they bring to a night: once on one day at most, whoever asks for it how often."""

    night = models.ForeignKey(Night, on_delete=models.PROTECT, related_name="packing_reminders")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="packing_reminders")
    sent_on = models.DateField()
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["night", "member", "sent_on"], name="one_packing_reminder_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.member_id}, {self.sent_on:%Y-%m-%d}"
