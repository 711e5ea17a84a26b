"""What the club room's pages ask. Rules stand in the services; here is only how a thing is typed."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.db.models import Q
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Attendance, Club, Member, Venue
from league.clubs.queries import guests_of, members_of, venues_of
from league.engines import sizes

__all__ = [
    "AnswerForm",
    "ClubForm",
    "GuestForm",
    "InviteForm",
    "JoinForm",
    "JuniorForm",
    "NameForm",
    "NewClubForm",
    "NightForm",
    "OfficesForm",
    "PrivacyForm",
    "SizeField",
    "TableForm",
    "VenueEditForm",
    "VenueForm",
]

SIZE_ERRORS = {
    "required": _("Enter the size of the table, such as 6 x 4 ft."),
    "empty": _("Enter the size of the table, such as 6 x 4 ft."),
    "unreadable": _("Enter two lengths and their unit, such as 6 x 4 ft or 180 x 120 cm."),
    "two_sides": _("Enter two lengths with an x between them, such as 6 x 4 ft."),
    "no_unit": _("Say the unit as well: ft, in, cm, m or mm."),
    "unknown_unit": _("The unit is ft, in, cm, m or mm."),
    "zero": _("Both sides are longer than nothing."),
}


class SizeField(forms.CharField):
    """A size as people type it; cleaned to an `engines.sizes.Size`."""

    default_error_messages = SIZE_ERRORS

    def clean(self, value: Any) -> sizes.Size:
        try:
            return sizes.parse(super().clean(value))
        except sizes.NotASize as reason:
            raise forms.ValidationError(self.error_messages[reason.code], code=reason.code) from reason


class NewClubForm(forms.Form):
    name = forms.CharField(
        label=_("Name of the club"), max_length=80, error_messages={"required": _("Enter the club's name.")}
    )
    slug = forms.CharField(
        label=_("Address"),
        max_length=40,
        help_text=_("Small letters, digits and hyphens, such as weir-street. It cannot be changed later."),
        error_messages={"required": _("Enter an address for the club, such as weir-street.")},
    )
    member_name = forms.CharField(
        label=_("Your name in the club"),
        max_length=80,
        help_text=_("As your club mates call you; a nickname will do."),
        error_messages={"required": _("Enter the name your club mates call you.")},
    )


class ClubForm(forms.Form):
    name = forms.CharField(label=_("Name"), max_length=80, error_messages={"required": _("Enter the club's name.")})
    about = forms.CharField(
        label=_("About the club"), max_length=2000, required=False, widget=forms.Textarea({"rows": 5})
    )
    time_zone = forms.ChoiceField(label=_("Time zone"))
    is_public = forms.BooleanField(
        label=_("The club has public pages"),
        required=False,
        help_text=_("People who are not signed in may see the club's page, its seasons and league tables."),
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["time_zone"].choices = [(zone, zone) for zone in sorted(available_timezones())]


class GuestForm(forms.Form):
    name = forms.CharField(
        label=_("Name"),
        max_length=80,
        help_text=_("A first name or a nickname is enough."),
        error_messages={"required": _("Enter the guest's name.")},
    )


class NameForm(forms.Form):
    name = forms.CharField(
        label=_("Name in this club"),
        max_length=80,
        help_text=_("A nickname will do."),
        error_messages={"required": _("Enter a name.")},
    )


class OfficesForm(forms.Form):
    is_organiser = forms.BooleanField(
        label=_("Organiser"), required=False, help_text=_("Runs the club: people, venues, nights, seasons, rulesets.")
    )
    is_umpire = forms.BooleanField(
        label=_("Umpire"), required=False, help_text=_("Settles disputed reports and rules on the league.")
    )
    is_quartermaster = forms.BooleanField(
        label=_("Quartermaster"), required=False, help_text=_("Looks after the club's own kit.")
    )


class JuniorForm(forms.Form):
    is_junior = forms.BooleanField(
        label=_("Under 18"), required=False, help_text=_("Everything about this person is then private, always.")
    )
    guardian_contact = forms.CharField(
        label=_("Guardian's contact"),
        max_length=200,
        required=False,
        help_text=_("Seen by organisers only. It is deleted when the person grows up or leaves the club."),
    )


class PrivacyForm(forms.Form):
    shows_page = forms.BooleanField(
        label=_("Anyone may see my page and my name"),
        required=False,
        help_text=_("Otherwise strangers read “Player” and a number, and only where the club has public pages."),
    )
    shows_results = forms.BooleanField(label=_("with my results"), required=False)
    shows_rosters = forms.BooleanField(label=_("with my rosters"), required=False)


class InviteForm(forms.Form):
    note = forms.CharField(
        label=_("Who it is for"),
        max_length=80,
        required=False,
        help_text=_("Only organisers read this."),
    )
    guest = forms.ModelChoiceField(
        label=_("For a guest"),
        queryset=Member.objects.none(),
        required=False,
        empty_label=_("Nobody in particular"),
        help_text=_("Whoever joins by the link keeps this guest's games."),
    )
    uses_allowed = forms.IntegerField(label=_("How many may join by it"), initial=1, min_value=1, max_value=100)
    days = forms.IntegerField(label=_("Good for how many days"), initial=14, min_value=1, max_value=90)
    makes_organiser = forms.BooleanField(label=_("Makes the person an organiser"), required=False)
    makes_umpire = forms.BooleanField(label=_("Makes the person an umpire"), required=False)
    makes_quartermaster = forms.BooleanField(label=_("Makes the person a quartermaster"), required=False)

    def __init__(self, *args: Any, club: Club, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["guest"].queryset = guests_of(club)


class JoinForm(forms.Form):
    name = forms.CharField(
        label=_("Your name in the club"),
        max_length=80,
        help_text=_("As your club mates call you; a nickname will do."),
        error_messages={"required": _("Enter the name your club mates call you.")},
    )


class VenueForm(forms.Form):
    name = forms.CharField(label=_("Name"), max_length=80, error_messages={"required": _("Enter the venue's name.")})
    address = forms.CharField(label=_("Address"), max_length=400, required=False, widget=forms.Textarea({"rows": 3}))
    note = forms.CharField(
        label=_("Note"),
        max_length=1000,
        required=False,
        widget=forms.Textarea({"rows": 3}),
        help_text=_("Keys, parking, how to find the hall."),
    )


class VenueEditForm(VenueForm):
    is_closed = forms.BooleanField(
        label=_("We no longer play here"), required=False, help_text=_("Past nights and games stay.")
    )


class TableForm(forms.Form):
    number = forms.IntegerField(
        label=_("Number"), min_value=1, max_value=999, error_messages={"required": _("Enter the table's number.")}
    )
    size = SizeField(
        label=_("Size"), max_length=60, help_text=_("Such as 6 x 4 ft, 180 x 120 cm, 72 x 48 in or 1800 x 1200 mm.")
    )
    note = forms.CharField(label=_("Note"), max_length=120, required=False)

    def facts(self) -> dict[str, Any]:
        """What the service asks: the size as two sides in millimetres."""
        size = self.cleaned_data["size"]
        return {
            "number": self.cleaned_data["number"],
            "width_mm": size.width_mm,
            "depth_mm": size.depth_mm,
            "note": self.cleaned_data["note"],
        }


class NightForm(forms.Form):
    venue = forms.ModelChoiceField(
        label=_("Venue"),
        queryset=Venue.objects.none(),
        empty_label=_("choose"),
        error_messages={"required": _("Choose the venue.")},
    )
    on = forms.DateField(
        label=_("Date"),
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": _("Enter the date.")},
    )
    starts_at = forms.TimeField(
        label=_("From"),
        initial="19:00",
        widget=forms.TimeInput({"type": "time"}, format="%H:%M"),
        error_messages={"required": _("Enter when the night begins.")},
    )
    ends_at = forms.TimeField(
        label=_("Until"), required=False, widget=forms.TimeInput({"type": "time"}, format="%H:%M")
    )
    title = forms.CharField(label=_("Title"), max_length=80, required=False)
    note = forms.CharField(label=_("Note"), max_length=1000, required=False, widget=forms.Textarea({"rows": 3}))

    def __init__(self, *args: Any, club: Club, kept: Venue | None = None, **options: Any) -> None:
        """`kept` stays to choose although it is closed: the night's own venue."""
        super().__init__(*args, **options)
        venues = venues_of(club).filter(Q(closed_at=None) | Q(pk=kept.pk if kept else None))
        self.fields["venue"].queryset = venues
        if len(venues) == 1:
            self.fields["venue"].initial = venues[0]
        if not venues:
            address = reverse("venue-new", kwargs={"club": club.slug})
            self.fields["venue"].help_text = format_html('<a href="{}">{}</a>', address, _("Add a venue first."))


class AnswerForm(forms.Form):
    answer = forms.ChoiceField(
        label=_("Are you coming?"),
        choices=Attendance.Answer.choices,
        widget=forms.RadioSelect,
        error_messages={"required": _("Say coming, perhaps or not coming.")},
    )
    member = forms.ModelChoiceField(
        label=_("Who"), queryset=Member.objects.none(), required=False, widget=forms.HiddenInput
    )

    def __init__(self, *args: Any, club: Club, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["member"].queryset = members_of(club)
