"""Games, planned or played, and the battle reports that say how they went."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Case, CharField, Exists, OuterRef, Q, Subquery, Value, When
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Member, Night, OfClubQuerySet, Submitted, Table
from league.rosters.models import Engagement, Roster, Snapshot
from league.rulesets.models import Edition

if TYPE_CHECKING:
    from accounts.models import User


class GameState(models.TextChoices):
    """Where a game stands: before its report by itself, afterwards by the last word of the report."""

    PLANNED = "planned", _("planned")
    STARTED = "started", _("being fought")
    CANCELLED = "cancelled", _("cancelled")
    AWAITING = "awaiting", _("waits for the opponent")
    CONFIRMED = "confirmed", _("confirmed")
    DISPUTED = "disputed", _("disputed")
    SETTLED = "settled", _("settled by the umpire")
    VOID = "void", _("struck out by the umpire")


class GameQuerySet(OfClubQuerySet):
    def visible_to(self, user: User) -> GameQuerySet:
        return self.filter(club__in=Club.objects.joined_by(user))

    def with_state(self) -> GameQuerySet:
        """Annotate `state` (a `GameState`) and `report_id`, the last word on the game or None."""
        last = Report.objects.filter(game=OuterRef("pk")).current().with_state()
        return self.annotate(report_id=Subquery(last.values("pk")[:1])).annotate(
            state=Case(
                When(cancelled_at__isnull=False, then=Value(GameState.CANCELLED)),
                When(report_id__isnull=False, then=Subquery(last.values("state")[:1])),
                When(started_at__isnull=False, then=Value(GameState.STARTED)),
                default=Value(GameState.PLANNED),
                output_field=CharField(),
            )
        )


class Game(Submitted):
    """A battle between two or more sides.

    `seed` is drawn when the game is planned and its SHA-256 (`seed_hash`) is shown at once, so that dice the site
    draws later can be checked by both players; the seed itself is shown once dice were drawn from it.
    """

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="games")
    edition = models.ForeignKey(Edition, on_delete=models.PROTECT, related_name="games")
    scenario = models.CharField(_("scenario"), max_length=40, blank=True)
    night = models.ForeignKey(Night, on_delete=models.PROTECT, related_name="games", null=True, blank=True)
    table = models.ForeignKey(Table, on_delete=models.PROTECT, related_name="games", null=True, blank=True)
    on = models.DateField(_("date"))
    note = models.TextField(_("note"), max_length=2000, blank=True)
    seed = models.CharField(max_length=64, editable=False)
    seed_hash = models.CharField(max_length=64, editable=False)
    created_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    created_at = models.DateTimeField()
    started_at = models.DateTimeField(null=True, blank=True)
    cancelled_at = models.DateTimeField(null=True, blank=True)

    objects = GameQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["club", "on"], name="game_by_date")]

    def __str__(self) -> str:
        return _("Game %(number)s") % {"number": self.pk}


class Side(models.Model):
    """One side of a game; `role` is the key of the scenario's side (attacker, defender)."""

    game = models.ForeignKey(Game, on_delete=models.PROTECT, related_name="sides")
    position = models.PositiveSmallIntegerField()
    role = models.CharField(max_length=40, blank=True)
    roster = models.ForeignKey(Roster, on_delete=models.PROTECT, related_name="sides", null=True, blank=True)
    snapshot = models.OneToOneField(Snapshot, on_delete=models.PROTECT, related_name="side", null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["game", "position"], name="side_position_once_in_a_game")]

    def __str__(self) -> str:
        return f"{self.game_id}/{self.position}"


class SidePlayer(models.Model):
    """A member on a side. `game` repeats the side's, so that the database keeps a member off two sides."""

    game = models.ForeignKey(Game, on_delete=models.PROTECT, related_name="players")
    side = models.ForeignKey(Side, on_delete=models.PROTECT, related_name="players")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="appearances")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["game", "member"], name="member_on_one_side_of_a_game")]

    def __str__(self) -> str:
        return f"{self.side_id}: {self.member_id}"


class ReportState(models.TextChoices):
    AWAITING = "awaiting", _("waits for the opponent")
    CONFIRMED = "confirmed", _("confirmed")
    DISPUTED = "disputed", _("disputed")
    SETTLED = "settled", _("settled by the umpire")
    VOID = "void", _("struck out by the umpire")
    SUPERSEDED = "superseded", _("corrected")


class ReportQuerySet(models.QuerySet["Report"]):
    def visible_to(self, user: User) -> ReportQuerySet:
        return self.filter(game__in=Game.objects.visible_to(user))

    def current(self) -> ReportQuerySet:
        """The last word on each game: no correction stands after it."""
        return self.filter(correction=None)

    def with_state(self) -> ReportQuerySet:
        """Annotate `state`, the report's `ReportState`, from what followed it."""
        answers = Answer.objects.filter(report=OuterRef("pk"))
        return self.annotate(
            state=Case(
                When(Q(correction__isnull=False), then=Value(ReportState.SUPERSEDED)),
                When(Q(ruling__verdict=Ruling.Verdict.VOID), then=Value(ReportState.VOID)),
                When(Q(ruling__verdict=Ruling.Verdict.STANDS), then=Value(ReportState.SETTLED)),
                When(Exists(answers.filter(verdict=Answer.Verdict.DISPUTED)), then=Value(ReportState.DISPUTED)),
                When(Exists(answers.filter(verdict=Answer.Verdict.CONFIRMED)), then=Value(ReportState.CONFIRMED)),
                default=Value(ReportState.AWAITING),
                output_field=CharField(),
            )
        )


class Report(Submitted):
    """What was written down about a game. Never changed: a correction is a new report that supersedes it."""

    game = models.ForeignKey(Game, on_delete=models.PROTECT, related_name="reports")
    supersedes = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="correction", null=True, blank=True
    )
    reason = models.CharField(_("why it is corrected"), max_length=200, blank=True)
    is_full = models.BooleanField(default=False)
    fought_on = models.DateField(_("fought on"))
    rounds_played = models.PositiveSmallIntegerField(_("rounds played"), null=True, blank=True)
    markers_peak = models.PositiveSmallIntegerField(
        _("most suppression markers at once"), null=True, blank=True, help_text=_("On the whole table, both sides.")
    )
    notes = models.TextField(_("notes"), max_length=5000, blank=True)
    filed_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    filed_at = models.DateTimeField()

    objects = ReportQuerySet.as_manager()

    class Meta:
        constraints = [
            # A game has one first report; every other supersedes an earlier one (one-to-one), so two cannot race.
            models.UniqueConstraint(fields=["game"], condition=Q(supersedes=None), name="one_first_report_a_game"),
        ]

    def __str__(self) -> str:
        return _("Report %(number)s") % {"number": self.pk}


class SideResult(models.Model):
    """How one side came out of it, by one report. `value_destroyed` are the points of enemy units it destroyed."""

    report = models.ForeignKey(Report, on_delete=models.PROTECT, related_name="results")
    side = models.ForeignKey(Side, on_delete=models.PROTECT, related_name="results")
    score = models.PositiveIntegerField(_("score"), null=True, blank=True)
    conceded = models.BooleanField(_("conceded"), default=False)
    outcome = models.CharField(max_length=4)
    value_destroyed = models.PositiveIntegerField(default=0)
    value_lost = models.PositiveIntegerField(default=0)
    engagement = models.OneToOneField(
        Engagement, on_delete=models.PROTECT, related_name="result", null=True, blank=True
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["report", "side"], name="one_result_a_side"),
            models.CheckConstraint(condition=Q(outcome__in=["win", "draw", "loss"]), name="side_outcome_is_known"),
        ]

    def __str__(self) -> str:
        return f"{self.side_id}: {self.score}"


class ObjectiveCount(models.Model):
    """How often a side reached one of the scenario's objectives."""

    result = models.ForeignKey(SideResult, on_delete=models.PROTECT, related_name="objectives")
    objective = models.CharField(max_length=40)
    count = models.PositiveSmallIntegerField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["result", "objective"], name="one_count_an_objective")]

    def __str__(self) -> str:
        return f"{self.objective}: {self.count}"


class Answer(models.Model):
    """What an opponent said to a report."""

    class Verdict(models.TextChoices):
        CONFIRMED = "confirmed", _("confirmed")
        DISPUTED = "disputed", _("disputed")

    report = models.ForeignKey(Report, on_delete=models.PROTECT, related_name="answers")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    verdict = models.CharField(max_length=10, choices=Verdict.choices)
    text = models.TextField(max_length=2000, blank=True)
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["report", "member"], name="one_answer_a_report"),
            models.CheckConstraint(condition=Q(verdict="confirmed") | ~Q(text=""), name="dispute_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.report_id}: {self.verdict}"


class Ruling(models.Model):
    """An umpire's last word on a report."""

    class Verdict(models.TextChoices):
        STANDS = "stands", _("the report stands")
        VOID = "void", _("the report is struck out")

    report = models.OneToOneField(Report, on_delete=models.PROTECT, related_name="ruling")
    verdict = models.CharField(max_length=8, choices=Verdict.choices)
    text = models.TextField(_("reason"), max_length=2000)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [models.CheckConstraint(condition=~Q(text=""), name="ruling_says_why")]

    def __str__(self) -> str:
        return f"{self.report_id}: {self.verdict}"


class PhotoQuerySet(models.QuerySet["Photo"]):
    def visible_to(self, user: User) -> PhotoQuerySet:
        return self.filter(removed_at=None, game__in=Game.objects.visible_to(user))


class Photo(Submitted):
    """A picture of a game, re-encoded on arrival: bounded in size, without location or camera data."""

    game = models.ForeignKey(Game, on_delete=models.PROTECT, related_name="photos")
    file = models.FileField(upload_to="photos")
    width = models.PositiveSmallIntegerField()
    height = models.PositiveSmallIntegerField()
    caption = models.CharField(_("caption"), max_length=200, blank=True)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    removed_at = models.DateTimeField(null=True, blank=True)

    objects = PhotoQuerySet.as_manager()

    def __str__(self) -> str:
        return self.caption or str(self.pk)
