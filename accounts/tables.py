from __future__ import annotations

import django_tables2 as tables
from django.utils.translation import gettext_lazy as _

from accounts.models import ApiToken
from accounts.queries import TokenState
from league.web import Table

__all__ = ["TokenTable"]


class TokenTable(Table):
    name = tables.Column(verbose_name=_("What it is for"))
    may_write = tables.BooleanColumn(verbose_name=_("May write"), yesno=(_("reads and writes"), _("reads only")))
    created_at = tables.DateColumn(verbose_name=_("Made"))
    expires_at = tables.DateColumn(verbose_name=_("Expires"))
    used_at = tables.DateTimeColumn(verbose_name=_("Last used"), default=_("never"))
    state = tables.Column(verbose_name=_("State"))
    revoke = tables.TemplateColumn(
        template_name="accounts/token_revoke.html", verbose_name="", orderable=False, exclude_from_export=True
    )

    class Meta(Table.Meta):
        model = ApiToken
        fields = ("name", "may_write", "created_at", "expires_at", "used_at", "state")
        empty_text = _("No tokens. You need one only if a program of yours reads or writes here for you.")

    def render_state(self, value: str) -> str:
        return TokenState(value).label
