"""The record of the kit: every movement, every loan, every count of a shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models
from django.db.models import Case, CharField, F, OuterRef, Q, Subquery, Value, When
from django.db.models.functions import Coalesce
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, Submitted
from league.stores.models.holdings import LABEL_LENGTH, Holding

if TYPE_CHECKING:
    from accounts.models import User


class Act(models.TextChoices):
    RECEIVED = "received", _("received")
    BOUGHT = "bought", _("bought")
    MADE = "made", _("made")
    LENT = "lent", _("agreed to lend")
    HANDED_OVER = "handed_over", _("handed over")
    RETURNED = "returned", _("came back")
    CALLED_OFF = "called_off", _("loan called off")
    COUNTED = "counted", _("counted")
    LOST = "lost", _("lost")
    BROKEN = "broken", _("broken")
    USED_UP = "used_up", _("used up")
    GIVEN = "given", _("given away")


class LoanState(models.TextChoices):
    ASKED = "asked", _("asked for")
    REFUSED = "refused", _("refused")
    WITHDRAWN = "withdrawn", _("withdrawn")
    AGREED = "agreed", _("waits to be handed over")
    OUT = "out", _("out")
    BACK = "back", _("all back")


class LoanQuerySet(models.QuerySet["Loan"]):
    def visible_to(self, user: User) -> LoanQuerySet:
        """Loans of kit one may see, and one's own."""
        if not user.is_authenticated:
            return self.none()
        own = Q(borrower__user=user.pk, holding__club__in=Club.objects.joined_by(user))
        return self.filter(Q(holding__in=Holding.objects.visible_to(user)) | own)

    def with_state(self) -> LoanQuerySet:
        """Annotate `outstanding`, the pieces set aside or out by the last line of the loan's record, and `state`."""
        last = Movement.objects.filter(loan=OuterRef("pk")).order_by("-sequence").values("loan_out_after")[:1]
        return self.annotate(outstanding=Coalesce(Subquery(last), 0)).annotate(
            state=Case(
                When(refused_at__isnull=False, then=Value(LoanState.REFUSED)),
                When(withdrawn_at__isnull=False, then=Value(LoanState.WITHDRAWN)),
                When(agreed_at=None, then=Value(LoanState.ASKED)),
                When(handed_at=None, then=Value(LoanState.AGREED)),
                When(outstanding__gt=0, then=Value(LoanState.OUT)),
                default=Value(LoanState.BACK),
                output_field=CharField(),
            )
        )

    def outstanding(self) -> LoanQuerySet:
        """Agreed and not yet all back, handed over or not."""
        agreed: Any = self.with_state()
        loans: LoanQuerySet = agreed.filter(outstanding__gt=0)
        return loans


class Loan(Submitted):
    """A member borrows pieces of a holding. What is out of it today is the last line of its movements."""

    holding = models.ForeignKey(Holding, on_delete=models.PROTECT, related_name="loans")
    borrower = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="loans")
    count = models.PositiveIntegerField(_("how many"))
    due_on = models.DateField(_("back by"))
    note = models.CharField(_("what for"), max_length=200, blank=True)
    asked_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    agreed_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    agreed_at = models.DateTimeField(null=True, blank=True)
    handed_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    handed_at = models.DateTimeField(null=True, blank=True)
    refused_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    refused_at = models.DateTimeField(null=True, blank=True)
    withdrawn_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    reason = models.CharField(_("why not"), max_length=200, blank=True)
    reminded_at = models.DateTimeField(null=True, blank=True)

    objects = LoanQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(count__gte=1), name="loan_is_of_something"),
            models.CheckConstraint(
                condition=Q(handed_at=None) | Q(agreed_at__isnull=False), name="loan_handed_over_was_agreed"
            ),
            models.CheckConstraint(
                condition=Q(refused_at=None) | Q(agreed_at=None, withdrawn_at=None), name="loan_refused_was_not_agreed"
            ),
            models.CheckConstraint(
                condition=Q(withdrawn_at=None) | Q(handed_at=None), name="loan_withdrawn_was_not_handed_over"
            ),
        ]
        indexes = [models.Index(fields=["borrower", "due_on"], name="loan_by_borrower")]

    def __str__(self) -> str:
        return _("Loan %(number)s") % {"number": self.pk}


class ShelfCount(Submitted):
    """Somebody counted what lies under one label; each difference is a movement of act `counted`."""

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="shelf_counts")
    label = models.CharField(max_length=LABEL_LENGTH)
    reason = models.CharField(_("what explains a difference"), max_length=200, blank=True)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.label} {self.at:%Y-%m-%d}"


class Movement(Submitted):
    """One line of a holding's record. Written once, never changed, never deleted.

    `change` is what the holding gained or lost, `out_change` what was set aside for loans or came back from them.
    The balances after the line are part of it: two people who press at once want the same `sequence`, and the
    database lets one of them write; and no line can be written that would leave less than nothing.
    """

    holding = models.ForeignKey(Holding, on_delete=models.PROTECT, related_name="movements")
    sequence = models.PositiveIntegerField()
    act = models.CharField(max_length=12, choices=Act.choices)
    change = models.IntegerField(default=0)
    out_change = models.IntegerField(default=0)
    held_after = models.IntegerField()
    out_after = models.IntegerField()
    loan = models.ForeignKey(Loan, on_delete=models.PROTECT, related_name="movements", null=True, blank=True)
    loan_out_after = models.IntegerField(null=True, blank=True)
    shelf_count = models.ForeignKey(
        ShelfCount, on_delete=models.PROTECT, related_name="movements", null=True, blank=True
    )
    reason = models.CharField(_("reason"), max_length=200, blank=True)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["holding", "sequence"], name="movement_in_order"),
            models.UniqueConstraint(fields=["shelf_count", "holding"], name="movement_once_in_a_count"),
            models.CheckConstraint(condition=Q(act__in=Act.values), name="movement_act_is_known"),
            models.CheckConstraint(condition=Q(held_after__gte=0), name="movement_leaves_no_less_than_nothing"),
            models.CheckConstraint(
                condition=Q(out_after__gte=0, out_after__lte=F("held_after")), name="movement_lends_what_there_is"
            ),
            models.CheckConstraint(
                condition=Q(loan=None, loan_out_after=None, out_change=0)
                | Q(loan__isnull=False, loan_out_after__gte=0, loan_out_after__lte=F("out_after")),
                name="movement_of_a_loan_leaves_no_less_than_nothing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.holding_id}/{self.sequence} {self.act} {self.change:+d}"
