"""A league season: who takes part, who met whom, and the rules its table is reckoned by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.battles.models import Game
from league.clubs.models import Club, Member, OfClubQuerySet, Submitted, Table
from league.rulesets.models import Ruleset

if TYPE_CHECKING:
    from accounts.models import User


class SeasonQuerySet(OfClubQuerySet):
    def visible_to(self, user: User) -> SeasonQuerySet:
        """Seasons of one's clubs and of clubs with public pages."""
        return self.filter(club__in=Club.objects.visible_to(user))


class Season(Submitted):
    """`rules` are the rules of a season document (`league.engines.documents`) without `counts`, which is a column.

    `seed` is the text from which lots are drawn, fixed when the season is made. `format` says how its rounds come
    about, `pairing` has the options of that format (`league.engines.documents.season_formats`).
    """

    class Format(models.TextChoices):
        TYPED = "typed", _("typed in by hand")
        SWISS = "swiss", _("Swiss rounds")
        ROUND_ROBIN = "round_robin", _("round robin: everyone meets everyone")
        DOUBLE_ROUND_ROBIN = "double_round_robin", _("double round robin: everyone meets everyone twice")
        KNOCKOUT = "knockout", _("knock-out")
        GROUPS_KNOCKOUT = "groups_knockout", _("groups, then a knock-out")
        OPEN = "open", _("open season: play whom you like")
        LADDER = "ladder", _("challenge ladder")

    class Counts(models.TextChoices):
        FILED = "filed", _("as soon as it is filed")
        CONFIRMED = "confirmed", _("once the opponent or the umpire agreed")

    club = models.ForeignKey(Club, on_delete=models.PROTECT, related_name="seasons")
    ruleset = models.ForeignKey(Ruleset, on_delete=models.PROTECT, related_name="seasons")
    name = models.CharField(_("name"), max_length=80)
    starts_on = models.DateField(_("starts on"))
    ends_on = models.DateField(_("ends on"), null=True, blank=True)
    rules = models.JSONField()
    counts = models.CharField(_("a result counts"), max_length=10, choices=Counts.choices, default=Counts.FILED)
    seed = models.CharField(max_length=64)
    format = models.CharField(_("format"), max_length=20, choices=Format.choices, default=Format.TYPED)
    pairing = models.JSONField(default=dict, blank=True)
    club_named = models.CharField(
        max_length=80, blank=True, help_text="The club's name in the document it was imported from."
    )
    is_imported = models.BooleanField(default=False)
    created_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = SeasonQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["club", "name"], name="season_name_once_in_a_club"),
            models.CheckConstraint(
                condition=Q(ends_on=None) | Q(ends_on__gte=F("starts_on")), name="season_ends_after_it_starts"
            ),
            models.CheckConstraint(
                condition=Q(
                    format__in=[
                        "typed",
                        "swiss",
                        "round_robin",
                        "double_round_robin",
                        "knockout",
                        "groups_knockout",
                        "open",
                        "ladder",
                    ]
                ),
                name="season_format_is_known",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Division(models.Model):
    """A part of a season with a table of its own; `level` 1 is the highest. At the end of the season the first
    `promotes` go up a level and the last `relegates` go down.
    """

    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="divisions")
    key = models.CharField(max_length=40)
    name = models.CharField(_("name"), max_length=80)
    level = models.PositiveSmallIntegerField(_("level"))
    promotes = models.PositiveSmallIntegerField(_("how many go up"), default=0)
    relegates = models.PositiveSmallIntegerField(_("how many go down"), default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["season", "key"], name="division_key_once_in_a_season"),
            models.UniqueConstraint(fields=["season", "name"], name="division_name_once_in_a_season"),
            models.UniqueConstraint(fields=["season", "level"], name="division_level_once_in_a_season"),
            models.CheckConstraint(condition=Q(level__gte=1), name="division_level_from_one"),
        ]

    def __str__(self) -> str:
        return self.name


class Entrant(models.Model):
    """One player or one team in a season. `key` is its name in the season's document, fixed for good.

    `joined_after_round`: how many rounds were over when it entered. Entrants of the same `party`, a household or a
    journey shared, are not paired with each other while that can be helped. `seed_number` is its place in the seeding,
    None: by lot. Who left (`left_at`) is still in when the table is looked back at before `left_on` or `left_after_round`.
    """

    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="entrants")
    key = models.CharField(max_length=40)
    name = models.CharField(_("name"), max_length=80)
    entered_at = models.DateTimeField()
    left_at = models.DateTimeField(null=True, blank=True)
    left_on = models.DateField(null=True, blank=True)
    left_after_round = models.PositiveSmallIntegerField(null=True, blank=True)
    left_reason = models.CharField(_("why"), max_length=200, blank=True)
    division = models.ForeignKey(
        Division, on_delete=models.PROTECT, related_name="entrants", null=True, blank=True, verbose_name=_("division")
    )
    joined_after_round = models.PositiveSmallIntegerField(default=0)
    party = models.CharField(_("household or travelling party"), max_length=60, blank=True)
    is_newcomer = models.BooleanField(_("new to the game"), default=False)
    seed_number = models.PositiveSmallIntegerField(_("place in the seeding"), null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["season", "key"], name="entrant_key_once_in_a_season"),
            models.UniqueConstraint(fields=["season", "name"], name="entrant_name_once_in_a_season"),
        ]

    def __str__(self) -> str:
        return self.name


class EntrantPlayer(models.Model):
    """A member of an entrant. `season` repeats the entrant's, so that nobody plays for two."""

    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="players")
    entrant = models.ForeignKey(Entrant, on_delete=models.PROTECT, related_name="players")
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="entries")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["season", "member"], name="member_in_one_entrant_a_season")]

    def __str__(self) -> str:
        return f"{self.entrant_id}: {self.member_id}"


class Round(models.Model):
    """One round; number 0 is open play: games outside the rounds, any number an entrant.

    A drafted round is computed anew each time it is looked at, until it is published, once and for all. `paired_from`
    has what everybody's points were then, in half-points by the entrant's key, so that a later correction shows.
    """

    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="rounds")
    number = models.PositiveSmallIntegerField(_("round"))
    on = models.DateField(_("date"), null=True, blank=True)
    note = models.CharField(_("note"), max_length=200, blank=True)
    published_at = models.DateTimeField(null=True, blank=True)
    published_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    published_digest = models.CharField(max_length=64, blank=True)
    paired_from = models.JSONField(default=dict, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(published_at=None, published_by=None)
                | Q(published_at__isnull=False, published_by__isnull=False),
                name="round_published_by_somebody",
            ),
            models.UniqueConstraint(fields=["season", "number"], name="round_number_once_in_a_season"),
            models.CheckConstraint(condition=Q(number__lte=1000), name="round_number_in_bounds"),
        ]

    def __str__(self) -> str:
        return _now("Round %(number)s") % {"number": self.number} if self.number else _now("Open play")

    @property
    def is_open_play(self) -> bool:
        return self.number == 0


class Pairing(Submitted):
    """Who meets whom in a round. A bye has one side and no game.

    The seats that play are the sides of the game, in the same order. `key` is its name in the season's document, `on`
    the day agreed, None for the day of the round.
    """

    round = models.ForeignKey(Round, on_delete=models.PROTECT, related_name="pairings")
    key = models.CharField(max_length=40)
    position = models.PositiveIntegerField()
    on = models.DateField(_("date"), null=True, blank=True)
    postponed_until = models.DateField(_("postponed until"), null=True, blank=True)
    game = models.OneToOneField(Game, on_delete=models.PROTECT, related_name="pairing", null=True, blank=True)
    created_at = models.DateTimeField()
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["round", "key"], name="pairing_key_once_in_a_round")]

    def __str__(self) -> str:
        return f"{self.round_id}/{self.position}"


class Unplayed(models.TextChoices):
    """Why an entrant scored, or did not, without a battle."""

    BYE = "bye", _("bye")
    FORFEIT_WIN = "forfeit_win", _("won by forfeit")
    FORFEIT_LOSS = "forfeit_loss", _("lost by forfeit")
    ABSENT = "absent", _("asked not to play")


class PairingSide(models.Model):
    """An entrant's seat in a pairing. `round` repeats the pairing's, so that nobody sits twice in a round; in open
    play (`is_open`) one may.
    """

    round = models.ForeignKey(Round, on_delete=models.PROTECT, related_name="seats")
    pairing = models.ForeignKey(Pairing, on_delete=models.PROTECT, related_name="seats")
    entrant = models.ForeignKey(Entrant, on_delete=models.PROTECT, related_name="seats")
    position = models.PositiveSmallIntegerField()
    is_open = models.BooleanField(default=False)
    unplayed = models.CharField(max_length=12, choices=Unplayed.choices, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["round", "entrant"],
                condition=Q(removed_at=None, is_open=False),
                name="entrant_seated_once_in_a_round",
            ),
            models.UniqueConstraint(fields=["pairing", "position"], name="seat_position_once_in_a_pairing"),
            models.CheckConstraint(condition=Q(unplayed__in=["", *Unplayed.values]), name="unplayed_reason_is_known"),
        ]

    def __str__(self) -> str:
        return f"{self.pairing_id}: {self.entrant_id}"


class Pin(models.Model):
    """What an organiser fixed in a round before it is drafted: a pairing of two, a bye of one, or that whoever the one
    entrant meets plays at `table`. Taking it back keeps the row.
    """

    class Kind(models.TextChoices):
        PAIRING = "pairing", _("pairing")
        BYE = "bye", _("bye")
        TABLE = "table", _("table")

    round = models.ForeignKey(Round, on_delete=models.PROTECT, related_name="pins")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    table = models.ForeignKey(Table, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(kind__in=["pairing", "bye", "table"]), name="pin_kind_is_known"),
            models.CheckConstraint(
                condition=~Q(kind="table") | Q(table__isnull=False), name="pin_of_a_table_names_the_table"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.round_id}: {self.kind}"


class PinSeat(models.Model):
    """An entrant in a pin. `round` and `kind` repeat the pin's, so that nobody is pinned twice in a round."""

    pin = models.ForeignKey(Pin, on_delete=models.PROTECT, related_name="seats")
    round = models.ForeignKey(Round, on_delete=models.PROTECT, related_name="+")
    entrant = models.ForeignKey(Entrant, on_delete=models.PROTECT, related_name="+")
    position = models.PositiveSmallIntegerField()
    is_table = models.BooleanField(default=False)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["round", "entrant", "is_table"],
                condition=Q(removed_at=None),
                name="entrant_pinned_once_in_a_round",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.pin_id}: {self.entrant_id}"


class Adjustment(Submitted):
    """Points an organiser added or took, with the reason. Never changed; a second one can undo it."""

    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="adjustments")
    entrant = models.ForeignKey(Entrant, on_delete=models.PROTECT, related_name="adjustments")
    points_x2 = models.SmallIntegerField(_("half points"))
    after_round = models.PositiveSmallIntegerField(_("from round"), default=0)
    reason = models.CharField(_("reason"), max_length=200)
    by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    on = models.DateField(null=True, blank=True)
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(points_x2=0), name="adjustment_is_not_nothing"),
            models.CheckConstraint(condition=~Q(reason=""), name="adjustment_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.entrant_id}: {self.points_x2}/2"
