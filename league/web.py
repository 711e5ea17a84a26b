"""The shared half of every page: one form, one service, one redirect; the base table; what the browser may keep.

Knows no subject: rooms build on it, never the other way.
"""

from __future__ import annotations

import csv
import io
import re
import uuid
from collections.abc import Callable, Iterable
from datetime import date
from typing import Any

import django_tables2 as tables
from django import forms
from django.contrib import messages
from django.db.models.fields.files import FieldFile
from django.forms.renderers import TemplatesSetting
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import formats, timezone
from django.utils.translation import gettext as _
from django.views.generic import FormView, TemplateView
from django_tables2 import RequestConfig

from league.errors import NotYoursToDo, Refused

__all__ = [
    "ClubClockMiddleware",
    "Days",
    "Figures",
    "FormRenderer",
    "HalfPoints",
    "NoStoreMiddleware",
    "ServiceFormView",
    "SubmissionField",
    "Table",
    "TablePage",
    "add_refusal",
    "csrf_failure",
    "csv_of",
    "day_words",
    "half_points",
    "picture_response",
    "with_fractions",
]

PER_PAGE = 50
QUARTERS = re.compile(r"([-\N{MINUS SIGN}]?)(\d+)(?:\.(5|25|75))?")
FRACTIONS = {None: "", "25": "¼", "5": "½", "75": "¾"}
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


class FormRenderer(TemplatesSetting):
    form_template_name = "form.html"
    field_template_name = "field.html"
    formset_template_name = "formset.html"


class ClubClockMiddleware:
    """Begin every request in the site's time zone; a club's pages then switch to their own."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        timezone.deactivate()
        return self.get_response(request)


class NoStoreMiddleware:
    """Keep signed-in people's pages out of shared caches and out of the back button of a lent phone."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if getattr(request, "user", None) and request.user.is_authenticated and "Cache-Control" not in response:
            response["Cache-Control"] = "no-store"
        return response


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Say plainly that the page had grown stale; nothing was saved."""
    return render(request, "stale.html", status=403)


class SubmissionField(forms.UUIDField):
    """The hidden name a form gives its submission, so that a double tap is one act."""

    widget = forms.HiddenInput

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"initial": uuid.uuid4, "required": True, **options})


def add_refusal(form: forms.BaseForm, refusal: Refused) -> None:
    """Show every violation on the form, beside its field where the form has that field."""
    for field, words in refusal.by_field().items():
        for message in words:
            form.add_error(field if field in form.fields else None, message)


class ServiceFormView(FormView):
    """One form -> one service -> redirect. What was typed stays on the page when the service refuses."""

    done_message = ""
    http_method_names = ["get", "post", "head", "options"]  # a browser's form knows no PUT

    def act(self, form: forms.BaseForm) -> Any:
        """Call the one service; its result is kept as `self.result`."""
        raise NotImplementedError

    def form_valid(self, form: forms.BaseForm) -> HttpResponse:
        try:
            self.result = self.act(form)
        except Refused as refusal:
            add_refusal(form, refusal)
            response = self.form_invalid(form)
            if isinstance(refusal, NotYoursToDo):
                response.status_code = refusal.status
            return response
        if self.done_message:
            messages.success(self.request, self.done_message)
        return redirect(self.get_success_url())

    def form_invalid(self, form: forms.BaseForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_cancel_url(self) -> str:
        """Where "Back" leads; empty: there is no such link."""
        return ""

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {
            "title": getattr(self, "title", ""),
            "button": getattr(self, "button", _("Save")),
            "cancel_url": self.get_cancel_url(),
            **super().get_context_data(**context),
        }


def half_points(value_x2: int) -> str:
    """Points stored as twice their value, as people write them: 6 -> "3", 7 -> "3½", 1 -> "½"; below zero with a true minus."""
    whole, half = divmod(abs(value_x2), 2)
    sign = "\N{MINUS SIGN}" if value_x2 < 0 else ""
    return f"{sign}{whole if whole or not half else ''}{'½' if half else ''}"


def with_fractions(text: str) -> str:
    """A number written with decimals, as `half_points` writes it: "28.5" -> "28½", "-0.25" -> "−¼"; else as it is."""
    found = QUARTERS.fullmatch(text)
    if found is None:
        return text
    sign, whole, rest = found.groups()
    minus = "\N{MINUS SIGN}" if sign else ""
    return f"{minus}{'' if whole == '0' and rest else whole}{FRACTIONS[rest]}"


def day_words(value: date) -> str:
    """A day for a reader, weekday first: "Thu 14 November 2030", month and day in the reader's own order."""
    return f"{formats.date_format(value, 'D')} {formats.date_format(value, 'DATE_FORMAT')}"


class Days(tables.Column):
    """A column of days; in a CSV file by ISO 8601."""

    def render(self, value: date) -> str:
        return day_words(value)

    def value(self, value: date) -> str:
        return value.isoformat()


class Figures(tables.Column):
    """A column of whole numbers: set to the right, tabular; on a phone a small figure under its label."""

    def __init__(self, *args: Any, **options: Any) -> None:
        figure = {"th": {"class": "num"}, "td": {"class": "num"}, "tf": {"class": "num"}}
        super().__init__(*args, **{**options, "attrs": {**figure, **options.get("attrs", {})}})


class HalfPoints(Figures):
    """A column of half-points: "3½" on the page, 3.5 in a CSV file."""

    def render(self, value: int) -> str:
        return half_points(value)

    def value(self, value: int) -> float:
        return value / 2


class Table(tables.Table):
    """The base of every list: stacks into labelled lines on a phone, sorts by links, keeps figures aligned."""

    class Meta:
        template_name = "table.html"

    def __init__(self, *args: Any, **options: Any) -> None:
        # A cell without a value stays empty; on a phone its line is left out.
        super().__init__(*args, **{"default": "", **options})
        # django-tables2 hands no Meta down: a table with one of its own, or none, is a ledger all the same.
        if self.empty_text is None:
            self.empty_text = _("Nothing here yet.")
        classes = self.attrs.get("class", "").split()
        self.attrs["class"] = " ".join(dict.fromkeys(["ledger", *classes]))
        for bound in self.columns.columns.values():
            off_paper = {"class": "no-print"} if bound.column.exclude_from_export else {}  # what only a hand can press
            bound.column.attrs = {
                **bound.column.attrs,
                "th": {**off_paper, **bound.column.attrs.get("th", {})},
                "td": {"data-label": bound.header, **off_paper, **bound.column.attrs.get("td", {})},
            }


def picture_response(file: FieldFile, *, filename: str) -> FileResponse:
    """A kept picture, shown and never run: whatever the file might hold, the browser takes it for one in a sandbox.

    Raises:
        Http404: the file is no longer where pictures are kept.
    """
    try:
        opened = file.open("rb")
    except FileNotFoundError:
        raise Http404(_("The picture is no longer there.")) from None
    response = FileResponse(opened, content_type="image/jpeg", filename=filename)
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "sandbox; default-src 'none'"
    response["Cache-Control"] = "private, max-age=86400"
    return response


def csv_of(rows: Iterable[Iterable[object]]) -> str:
    """CSV by RFC 4180. A cell that a spreadsheet could take for a formula is disarmed with an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    for row in rows:
        writer.writerow([disarmed("" if cell is None else cell) for cell in row])
    return out.getvalue()


def disarmed(cell: object) -> object:
    """Numbers stay numbers; text that begins like a formula becomes plain text."""
    if isinstance(cell, int | float):
        return cell
    text = str(cell)
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text


class TablePage(TemplateView):
    """A page around one table: sorted and paged by the query string, the whole of it as CSV with `?format=csv`."""

    table_class: type[Table]
    template_name = "list.html"
    csv_name = "list"

    def get_table_data(self) -> Iterable[Any]:
        raise NotImplementedError

    def get_table_options(self) -> dict[str, Any]:
        return {}

    def get_table(self) -> Table:
        table = self.table_class(self.get_table_data(), request=self.request, **self.get_table_options())
        whole = self.request.GET.get("format") == "csv"
        RequestConfig(self.request, paginate=False if whole else {"per_page": PER_PAGE, "silent": True}).configure(
            table
        )
        return table

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {"title": getattr(self, "title", ""), "table": self.get_table(), **super().get_context_data(**context)}

    def render_to_response(self, context: dict[str, Any], **response: Any) -> HttpResponse:
        if self.request.GET.get("format") != "csv":
            return super().render_to_response(context, **response)
        answer = HttpResponse(csv_of(context["table"].as_values()), content_type="text/csv; charset=utf-8")
        answer["Content-Disposition"] = f'attachment; filename="{self.csv_name}.csv"'
        return answer
