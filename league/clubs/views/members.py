"""The people of a club."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.filters import MemberFilter
from league.clubs.forms import GuestForm, JuniorForm, NameForm, OfficesForm, PrivacyForm
from league.clubs.models import Member
from league.clubs.permissions import can_change_privacy, can_remove, can_rename, can_run_club, can_see_guardian
from league.clubs.queries import is_junior_anywhere, members_of
from league.clubs.scope import InClub
from league.clubs.services.members import (
    add_guest,
    change_name,
    change_offices,
    change_privacy,
    leave_club,
    mark_junior,
)
from league.clubs.tables import MemberTable
from league.clubs.views.clubs import OrganiserForm
from league.web import TablePage

__all__ = [
    "GuestNew",
    "LeaveClub",
    "MemberEdit",
    "MemberJunior",
    "MemberName",
    "MemberRemove",
    "MembersPage",
    "MyPrivacy",
]


class MembersPage(InClub, TablePage):
    table_class = MemberTable
    template_name = "clubs/members.html"
    title = gettext_lazy("Members")
    csv_name = "members"

    def get_table_data(self) -> QuerySet[Member]:
        self.filterset = MemberFilter(self.request.GET, members_of(self.club))
        return self.filterset.qs

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club, "runs": can_run_club(self.member)}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(**context)
        return {**context, "filter": self.filterset, "runs": can_run_club(self.member)}


class GuestNew(OrganiserForm):
    form_class = GuestForm
    title = gettext_lazy("Add a guest")
    button = gettext_lazy("Add the guest")
    extra_context = {
        "intro": gettext_lazy("A guest has a name and no account. An invitation makes a member of them later.")
    }

    def act(self, form: forms.BaseForm) -> Member:
        return add_guest(self.club, name=form.cleaned_data["name"], by=self.member)

    def get_success_url(self) -> str:
        return self.address("members")


class OfMember(OrganiserForm):
    """A form about one person of the club."""

    def get_row(self) -> Member:
        if not hasattr(self, "row"):
            rows = Member.objects.visible_to(self.request.user).select_related("club")
            self.row = get_object_or_404(rows, club=self.club, pk=self.kwargs["pk"])
        return self.row

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {"row": self.get_row(), **super().get_context_data(**context)}

    def get_success_url(self) -> str:
        return self.address("members")


class MemberEdit(OfMember):
    form_class = OfficesForm
    template_name = "clubs/member_edit.html"
    done_message = gettext_lazy("The offices are saved.")

    @property
    def title(self) -> str:
        return _("Offices of %(name)s") % {"name": self.get_row().name}

    def get_initial(self) -> dict[str, Any]:
        return {field: getattr(self.get_row(), field) for field in OfficesForm.base_fields}

    def act(self, form: forms.BaseForm) -> Member:
        return change_offices(self.get_row(), **form.cleaned_data, by=self.member)


class MemberName(OfMember):
    form_class = NameForm
    done_message = gettext_lazy("The name is changed.")

    @property
    def title(self) -> str:
        return _("Change the name of %(name)s") % {"name": self.get_row().name}

    def allows(self) -> bool:
        return can_rename(self.member, self.get_row())

    def get_initial(self) -> dict[str, Any]:
        return {"name": self.get_row().name}

    def act(self, form: forms.BaseForm) -> Member:
        return change_name(self.get_row(), name=form.cleaned_data["name"], by=self.member)


class MemberJunior(OfMember):
    form_class = JuniorForm
    done_message = gettext_lazy("Saved.")
    extra_context = {
        "intro": gettext_lazy(
            "Keep only what you need: no date of birth, no school, no address. Ask a guardian before you write "
            "their contact down, and follow the law of your country about the data of minors."
        )
    }

    @property
    def title(self) -> str:
        return _("Is %(name)s under 18?") % {"name": self.get_row().name}

    def allows(self) -> bool:
        return can_see_guardian(self.member, self.get_row())

    def get_initial(self) -> dict[str, Any]:
        return {field: getattr(self.get_row(), field) for field in JuniorForm.base_fields}

    def act(self, form: forms.BaseForm) -> Member:
        return mark_junior(self.get_row(), **form.cleaned_data, by=self.member)


class MemberRemove(OfMember):
    form_class = forms.Form
    template_name = "confirm.html"
    button = gettext_lazy("Take off the list")
    done_message = gettext_lazy("Done. Games and results stay.")

    @property
    def title(self) -> str:
        return _("Take %(name)s off the list of members?") % {"name": self.get_row().name}

    def allows(self) -> bool:
        return can_run_club(self.member) and can_remove(self.member, self.get_row())

    def act(self, form: forms.BaseForm) -> Member:
        return leave_club(self.get_row(), by=self.member)


class MyPrivacy(OrganiserForm):
    """The choices of the member who looks, nobody else's."""

    form_class = PrivacyForm
    template_name = "clubs/my_privacy.html"
    title = gettext_lazy("What others may see of me")
    done_message = gettext_lazy("Your choice is saved.")

    def allows(self) -> bool:
        return self.member is not None and can_change_privacy(self.member, self.member)

    def get_initial(self) -> dict[str, Any]:
        return {field: getattr(self.member, field) for field in PrivacyForm.base_fields}

    def act(self, form: forms.BaseForm) -> Member:
        return change_privacy(self.member, **form.cleaned_data, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {"is_junior": is_junior_anywhere(self.member), **super().get_context_data(**context)}

    def get_success_url(self) -> str:
        return self.address("my-privacy")


class LeaveClub(OrganiserForm):
    back_to = "my-privacy"
    form_class = forms.Form
    template_name = "confirm.html"
    button = gettext_lazy("Leave the club")
    done_message = gettext_lazy("You have left the club.")
    extra_context = {
        "intro": gettext_lazy("Your games and results stay in the club's book. A new invitation lets you back in.")
    }

    @property
    def title(self) -> str:
        return _("Leave %(club)s?") % {"club": self.club.name}

    def allows(self) -> bool:
        return self.member is not None

    def act(self, form: forms.BaseForm) -> Member:
        return leave_club(self.member, by=self.member)

    def get_success_url(self) -> str:
        return reverse("home")
