"""A club and what it is made of: its people, its hall, its nights, its book of acts."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

if TYPE_CHECKING:
    from accounts.models import User


class Submitted(models.Model):
    """Something that may arrive twice: the client names it with a UUID, the unique constraint keeps it single."""

    submission = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    submission_digest = models.CharField(max_length=64, blank=True, editable=False)

    class Meta:
        abstract = True


class ClubQuerySet(models.QuerySet["Club"]):
    def joined_by(self, user: User) -> ClubQuerySet:
        """Clubs in which the person is a member today."""
        if not user.is_authenticated:
            return self.none()
        return self.filter(pk__in=Member.objects.present().filter(user=user.pk).values("club"))

    def visible_to(self, user: User) -> ClubQuerySet:
        return self.filter(Q(is_public=True) | Q(pk__in=Club.objects.joined_by(user).values("pk")))


class Club(models.Model):
    name = models.CharField(_("name"), max_length=80)
    slug = models.SlugField(_("address"), max_length=40, unique=True)
    about = models.TextField(_("about the club"), max_length=2000, blank=True)
    time_zone = models.CharField(_("time zone"), max_length=64, default="Europe/London")
    is_public = models.BooleanField(
        _("has public pages"),
        default=False,
        help_text=_("People who are not signed in may see the club's page, its seasons and league tables."),
    )
    created_at = models.DateTimeField(auto_now_add=True)

    objects = ClubQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        """Where the club's clocks are: what day it is there decides what "today" is."""
        return ZoneInfo(self.time_zone)


class Role(models.TextChoices):
    ORGANISER = "organiser", _("organiser")
    UMPIRE = "umpire", _("umpire")
    QUARTERMASTER = "quartermaster", _("quartermaster")
    MEMBER = "member", _("member")
    GUEST = "guest", _("guest")


class MemberQuerySet(models.QuerySet["Member"]):
    def present(self) -> MemberQuerySet:
        return self.filter(left_at=None)

    def visible_to(self, user: User) -> MemberQuerySet:
        """Club mates, and, for strangers, only those who allow a public page."""
        return self.filter(Q(club__in=Club.objects.joined_by(user)) | Q(pk__in=Member.objects.on_public_pages()))

    def on_public_pages(self) -> MemberQuerySet:
        """Members whose page anyone may see: they said so, the club has public pages, nobody marked them a junior.

        A junior in one club stays private in every club.
        """
        juniors = Member.objects.filter(is_junior=True, user__isnull=False)
        return (
            self.present()
            .filter(club__is_public=True, shows_page=True, is_junior=False)
            .exclude(user__in=juniors.values("user"))
        )


class Member(models.Model):
    """A person in a club. A guest is a member without an account: a name only."""

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="members")
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="memberships", null=True, blank=True
    )
    name = models.CharField(_("name"), max_length=80)
    is_organiser = models.BooleanField(_("organiser"), default=False)
    is_umpire = models.BooleanField(_("umpire"), default=False)
    is_quartermaster = models.BooleanField(_("quartermaster"), default=False)
    is_junior = models.BooleanField(
        _("under 18"), default=False, help_text=_("Keeps every page about this person private, whatever they allow.")
    )
    guardian_contact = models.CharField(
        _("guardian's contact"), max_length=200, blank=True, help_text=_("Seen by organisers only.")
    )
    shows_page = models.BooleanField(_("anyone may see my page and my name"), default=False)
    shows_results = models.BooleanField(_("with my results"), default=False)
    shows_rosters = models.BooleanField(_("with my rosters"), default=False)
    invitation = models.ForeignKey(
        "clubs.Invitation", on_delete=models.PROTECT, related_name="members", null=True, blank=True
    )
    joined_at = models.DateTimeField()
    left_at = models.DateTimeField(null=True, blank=True)

    objects = MemberQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["club", "user"], name="member_once_in_a_club"),
            models.CheckConstraint(
                condition=Q(user__isnull=False) | Q(is_organiser=False, is_umpire=False, is_quartermaster=False),
                name="guest_holds_no_office",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_guest(self) -> bool:
        return self.user_id is None

    @property
    def roles(self) -> list[Role]:
        """Every role held; a member without office is plainly a member."""
        if self.is_guest:
            return [Role.GUEST]
        held = [
            role
            for role, holds in (
                (Role.ORGANISER, self.is_organiser),
                (Role.UMPIRE, self.is_umpire),
                (Role.QUARTERMASTER, self.is_quartermaster),
            )
            if holds
        ]
        return held or [Role.MEMBER]


class OfClubQuerySet(models.QuerySet):  # type: ignore[type-arg]
    """Rows with a `club` column that members of that club see, and nobody else."""

    def visible_to(self, user: User) -> OfClubQuerySet:
        return self.filter(club__in=Club.objects.joined_by(user))


class Invitation(models.Model):
    """A link that lets people join. Only the digest of its secret is kept."""

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="invitations")
    digest = models.CharField(max_length=64, unique=True)
    note = models.CharField(_("who it is for"), max_length=80, blank=True)
    guest = models.ForeignKey(
        Member,
        on_delete=models.PROTECT,
        related_name="invitations",
        null=True,
        blank=True,
        verbose_name=_("guest"),
        help_text=_("Whoever joins by the link becomes this guest's member and keeps the guest's games."),
    )
    makes_organiser = models.BooleanField(_("organiser"), default=False)
    makes_umpire = models.BooleanField(_("umpire"), default=False)
    makes_quartermaster = models.BooleanField(_("quartermaster"), default=False)
    uses_allowed = models.PositiveSmallIntegerField(_("how many may join by it"), default=1)
    uses = models.PositiveSmallIntegerField(default=0, editable=False)
    created_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    expires_at = models.DateTimeField(_("expires"))
    revoked_at = models.DateTimeField(null=True, blank=True)

    objects = OfClubQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(uses__lte=F("uses_allowed")), name="invitation_not_overused"),
            models.CheckConstraint(
                condition=Q(guest=None) | Q(uses_allowed=1), name="invitation_of_a_guest_is_for_one"
            ),
        ]

    def __str__(self) -> str:
        return self.note or str(self.pk)


class Venue(models.Model):
    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="venues")
    name = models.CharField(_("name"), max_length=80)
    address = models.TextField(_("address"), max_length=400, blank=True)
    note = models.TextField(_("note"), max_length=1000, blank=True, help_text=_("Keys, parking, how to find the hall."))
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = OfClubQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["club", "name"], name="venue_name_once_in_a_club")]

    def __str__(self) -> str:
        return self.name


class Table(models.Model):
    """A gaming table, known by its number in a venue. Sizes are whole millimetres."""

    venue = models.ForeignKey(Venue, on_delete=models.PROTECT, related_name="tables")
    number = models.PositiveSmallIntegerField(_("number"), validators=[MinValueValidator(1)])
    width_mm = models.PositiveIntegerField(_("width"))
    depth_mm = models.PositiveIntegerField(_("depth"))
    note = models.CharField(_("note"), max_length=120, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["venue", "number"], name="table_number_once_in_a_venue"),
            models.CheckConstraint(condition=Q(number__gte=1), name="table_number_from_one"),
            models.CheckConstraint(
                condition=Q(width_mm__gte=300, width_mm__lte=10_000, depth_mm__gte=300, depth_mm__lte=10_000),
                name="table_size_is_plausible",
            ),
        ]

    def __str__(self) -> str:
        return _("Table %(number)s") % {"number": self.number}


class Night(models.Model):
    """One meeting of the club."""

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="nights")
    venue = models.ForeignKey(Venue, on_delete=models.PROTECT, related_name="nights")
    on = models.DateField(_("date"))
    starts_at = models.TimeField(_("from"))
    ends_at = models.TimeField(_("until"), null=True, blank=True)
    title = models.CharField(_("title"), max_length=80, blank=True)
    note = models.TextField(_("note"), max_length=1000, blank=True)
    cancelled_at = models.DateTimeField(null=True, blank=True)

    objects = OfClubQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["club", "venue", "on", "starts_at"], name="night_once_at_a_venue"),
        ]
        indexes = [models.Index(fields=["club", "on"], name="night_by_date")]

    def __str__(self) -> str:
        return self.title or f"{self.on:%Y-%m-%d}"


class Attendance(models.Model):
    """What a member last said about a night."""

    class Answer(models.TextChoices):
        COMING = "coming", _("coming")
        MAYBE = "maybe", _("perhaps")
        AWAY = "away", _("not coming")

    night = models.ForeignKey(Night, on_delete=models.PROTECT, related_name="attendance")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="attendance")
    answer = models.CharField(_("answer"), max_length=8, choices=Answer.choices)
    said_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["night", "member"], name="one_answer_a_night"),
            models.CheckConstraint(
                condition=Q(answer__in=["coming", "maybe", "away"]), name="attendance_answer_is_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member_id}: {self.answer}"


class LogEntry(models.Model):
    """Who did what, when. Written by the services, never changed.

    `act` is a stable code, `details` its facts; the words are made when it is shown, in the reader's language.
    `subject` names the row acted on, as "game:12".
    """

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="log")
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True)
    at = models.DateTimeField()
    act = models.CharField(max_length=40)
    subject = models.CharField(max_length=40)
    details = models.JSONField(default=dict)

    objects = OfClubQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["club", "subject"], name="log_by_subject")]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M} {self.act} {self.subject}"
