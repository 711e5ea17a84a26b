"""The club room in JSON. Read shapes list every key; write shapes refuse a key they do not know."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from accounts.models import User
from league.api import Day, Moment, RowId, StrictSerializer, Text, Whole, YesNo
from league.clubs.models import Attendance, Club, Invitation, LogEntry, Member, Night, Role, Table, Venue
from league.clubs.permissions import can_run_club
from league.clubs.queries import InvitationState, words_of

__all__ = [
    "AnswerSerializer",
    "AttendanceSerializer",
    "ClubSerializer",
    "ClubWriteSerializer",
    "GuestSerializer",
    "InvitationSerializer",
    "InviteSerializer",
    "InvitedSerializer",
    "JuniorSerializer",
    "LogEntrySerializer",
    "MeSerializer",
    "MemberNameSerializer",
    "MemberSerializer",
    "MyClubSerializer",
    "NewClubSerializer",
    "NightSerializer",
    "NightWriteSerializer",
    "OfficesSerializer",
    "PrivacySerializer",
    "TableSerializer",
    "TableWriteSerializer",
    "VenueChangeSerializer",
    "VenueSerializer",
    "VenueWriteSerializer",
]


class RolesField(serializers.ListField):
    child = serializers.ChoiceField(choices=Role.choices)


class MembershipSerializer(serializers.ModelSerializer):
    """Who the person who asks is in one club."""

    roles = RolesField(read_only=True)

    class Meta:
        model = Member
        fields = ["id", "name", "roles", "shows_page", "shows_results", "shows_rosters"]
        read_only_fields = fields


class ClubSerializer(serializers.ModelSerializer):
    class Meta:
        model = Club
        fields = ["id", "slug", "name", "about", "time_zone", "is_public", "created_at"]
        read_only_fields = fields


class MyClubSerializer(ClubSerializer):
    me = serializers.SerializerMethodField()

    class Meta(ClubSerializer.Meta):
        fields = [*ClubSerializer.Meta.fields, "me"]
        read_only_fields = fields

    @extend_schema_field(MembershipSerializer)
    def get_me(self, club: Any) -> Any:
        return MembershipSerializer(club.mine[0]).data


class MeSerializer(serializers.ModelSerializer):
    """The person who asks, and their clubs."""

    clubs = MyClubSerializer(many=True, read_only=True)

    class Meta:
        model = User
        fields = ["id", "email", "name", "clubs"]
        read_only_fields = fields


class NewClubSerializer(StrictSerializer):
    name = Text(max_length=80)
    slug = Text(max_length=40, help_text="The club's address: small letters, digits and single hyphens.")
    member_name = Text(max_length=80, help_text="What the club calls its founder.")


class ClubWriteSerializer(StrictSerializer):
    name = Text(max_length=80)
    about = Text(max_length=2000, allow_blank=True)
    time_zone = Text(max_length=64, help_text="A name of the tz database, such as Europe/London.")
    is_public = YesNo()


class MemberSerializer(serializers.ModelSerializer):
    """A person of the club. `is_junior` and `guardian_contact` are there for organisers only."""

    roles = RolesField(read_only=True)
    is_guest = serializers.BooleanField(read_only=True)
    is_junior = serializers.BooleanField(read_only=True, required=False, help_text="For organisers only.")
    guardian_contact = serializers.CharField(read_only=True, required=False, help_text="For organisers only.")

    class Meta:
        model = Member
        fields = [
            "id",
            "name",
            "roles",
            "is_guest",
            "joined_at",
            "shows_page",
            "shows_results",
            "shows_rosters",
            "is_junior",
            "guardian_contact",
        ]
        read_only_fields = fields

    def to_representation(self, instance: Member) -> dict[str, Any]:
        shown = super().to_representation(instance)
        if not can_run_club(self.context.get("member")):
            del shown["is_junior"], shown["guardian_contact"]
        return shown


class GuestSerializer(StrictSerializer):
    name = Text(max_length=80)


class MemberNameSerializer(StrictSerializer):
    name = Text(max_length=80)


class OfficesSerializer(StrictSerializer):
    is_organiser = YesNo()
    is_umpire = YesNo()
    is_quartermaster = YesNo()


class JuniorSerializer(StrictSerializer):
    is_junior = YesNo()
    guardian_contact = Text(max_length=200, allow_blank=True)


class PrivacySerializer(StrictSerializer):
    shows_page = YesNo()
    shows_results = YesNo()
    shows_rosters = YesNo()


class InvitationSerializer(serializers.ModelSerializer):
    state = serializers.ChoiceField(choices=InvitationState.choices, read_only=True)

    class Meta:
        model = Invitation
        fields = [
            "id",
            "note",
            "guest",
            "makes_organiser",
            "makes_umpire",
            "makes_quartermaster",
            "uses_allowed",
            "uses",
            "created_by",
            "created_at",
            "expires_at",
            "revoked_at",
            "state",
        ]
        read_only_fields = fields


class InviteSerializer(StrictSerializer):
    note = Text(max_length=80, allow_blank=True, default="")
    uses_allowed = Whole(min_value=1, max_value=100, default=1)
    days = Whole(min_value=1, max_value=90, default=14)
    makes_organiser = YesNo(default=False)
    makes_umpire = YesNo(default=False)
    makes_quartermaster = YesNo(default=False)
    guest = RowId(
        queryset=Member.objects.none(), default=None, allow_null=True, help_text="The guest who is to become a member."
    )

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if "club" in self.context:
            fields["guest"].queryset = Member.objects.filter(club=self.context["club"])
        return fields


class InvitedSerializer(serializers.Serializer):
    id = serializers.IntegerField()
    link = serializers.URLField(help_text="Shown in this answer and never again.")
    expires_at = serializers.DateTimeField()


class VenueSerializer(serializers.ModelSerializer):
    table_count = serializers.IntegerField(read_only=True)

    class Meta:
        model = Venue
        fields = ["id", "name", "address", "note", "closed_at", "table_count"]
        read_only_fields = fields


class VenueWriteSerializer(StrictSerializer):
    name = Text(max_length=80)
    address = Text(max_length=400, allow_blank=True, default="")
    note = Text(max_length=1000, allow_blank=True, default="")


class VenueChangeSerializer(VenueWriteSerializer):
    is_closed = YesNo(default=False)


class TableSerializer(serializers.ModelSerializer):
    class Meta:
        model = Table
        fields = ["id", "number", "width_mm", "depth_mm", "note"]
        read_only_fields = fields


class TableWriteSerializer(StrictSerializer):
    number = Whole(min_value=1, max_value=999)
    width_mm = Whole(min_value=300, max_value=10_000)
    depth_mm = Whole(min_value=300, max_value=10_000)
    note = Text(max_length=120, allow_blank=True, default="")


class NightSerializer(serializers.ModelSerializer):
    starts_at = Moment(read_only=True)
    ends_at = Moment(read_only=True, allow_null=True)
    coming = serializers.IntegerField(read_only=True, help_text="How many said they come.")

    class Meta:
        model = Night
        fields = ["id", "venue", "on", "starts_at", "ends_at", "title", "note", "cancelled_at", "coming"]
        read_only_fields = fields


class NightWriteSerializer(StrictSerializer):
    venue = RowId(queryset=Venue.objects.none())
    on = Day()
    starts_at = Moment()
    ends_at = Moment(default=None, allow_null=True)
    title = Text(max_length=80, allow_blank=True, default="")
    note = Text(max_length=1000, allow_blank=True, default="")

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if "club" in self.context:
            fields["venue"].queryset = Venue.objects.filter(club=self.context["club"])
        return fields


class AttendanceSerializer(serializers.Serializer):
    """What one person of the club last said; `answer` is empty when they said nothing."""

    member = serializers.IntegerField(source="member.pk")
    name = serializers.CharField(source="member.name")
    answer = serializers.ChoiceField(choices=Attendance.Answer.choices, allow_blank=True)
    said_at = serializers.DateTimeField(allow_null=True)


class AnswerSerializer(StrictSerializer):
    answer = serializers.ChoiceField(choices=Attendance.Answer.choices)
    member = RowId(
        queryset=Member.objects.none(), default=None, allow_null=True, help_text="Who it is about; myself if left out."
    )

    def get_fields(self) -> dict[str, Any]:
        fields = super().get_fields()
        if "club" in self.context:
            fields["member"].queryset = Member.objects.present().filter(club=self.context["club"])
        return fields


class LogEntrySerializer(serializers.ModelSerializer):
    by_name = serializers.CharField(source="by.name", default="", read_only=True)
    words = serializers.SerializerMethodField()

    class Meta:
        model = LogEntry
        fields = ["id", "at", "by", "by_name", "act", "subject", "words"]
        read_only_fields = fields

    def get_words(self, entry: LogEntry) -> str:
        return words_of(entry)
