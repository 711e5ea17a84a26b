"""What every template may say: half points, days, states, the way around a club.

Load with `{% load club %}`.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django import template
from django.db.models import Model
from django.forms import BoundField
from django.template.base import NodeList, Parser, Token
from django.template.context import RequestContext
from django.urls import NoReverseMatch, reverse
from django.utils import formats, timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from league.web import day_words, half_points, with_fractions
from league.wording import faults_of

register = template.Library()

# Pages that belong to a part of the club although their address does not begin with it.
PARTS = {
    "reports": "games",
    "rulesets": "rosters",
    "venues": "nights",
    "players": "members",
    "invitations": "members",
    "book": "desk",
}


@register.filter
def x2(value: int | None) -> str:
    """Half-points as people write them: 6 -> "3", 7 -> "3½"; nothing stays nothing."""
    return "" if value is None else half_points(value)


@register.filter
def fractions(text: str) -> str:
    """A number written with decimals, as `x2` writes it: "28.5" -> "28½"."""
    return with_fractions(text)


@register.filter
def day(value: date | datetime | None) -> SafeString | str:
    """A day as a `<time>` element, weekday first: "Thu 14 November 2030"; an hour is told in the club's zone."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        value = timezone.localtime(value).date() if timezone.is_aware(value) else value.date()
    return format_html('<time datetime="{}">{}</time>', value.isoformat(), day_words(value))


@register.filter
def short_day(value: date | datetime | None) -> SafeString | str:
    """A day in a column of days: "14/11/2030" in the reader's own order of day and month."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        value = timezone.localtime(value).date() if timezone.is_aware(value) else value.date()
    return format_html(
        '<time datetime="{}">{}</time>', value.isoformat(), formats.date_format(value, "SHORT_DATE_FORMAT")
    )


@register.filter
def faults(field: BoundField) -> list[str]:
    """What is wrong with a field, in our words: `{% for message in field|faults %}`."""
    return list(faults_of(field))


@register.simple_tag
def badge(state: str, words: str = "") -> SafeString:
    """A small stamp: `{% badge report.state report.get_state_display %}`. The words tell it, the border repeats it."""
    return format_html('<span class="badge" data-state="{}">{}</span>', state, words or state)


@register.filter
def state_badge(row: Model, field: str = "state") -> SafeString:
    """The stamp of a column with choices: `{{ report|state_badge }}`, `{{ game|state_badge:"stage" }}`."""
    return badge(str(getattr(row, field)), str(getattr(row, f"get_{field}_display")()))


@register.inclusion_tag("nav_link.html", takes_context=True)
def nav_link(context: RequestContext, name: str, words: str, kind: str = "") -> dict[str, Any]:
    """One entry of the club's navigation, marked where it leads to the page, or the part, being read."""
    try:
        address = reverse(name, kwargs={"club": context["club"].slug})
    except NoReverseMatch:
        return {}
    request = context.get("request")
    front = reverse("club", kwargs={"club": context["club"].slug})
    part = request.path.removeprefix(front).partition("/")[0] if request is not None else ""
    return {
        "address": address,
        "words": words,
        "kind": kind,
        "here": request is not None and (request.path.startswith(address) or PARTS.get(part) == name),
    }


class HoldNode(template.Node):
    def __init__(self, name: str, nodelist: NodeList) -> None:
        self.name = name
        self.nodelist = nodelist

    def render(self, context: template.Context) -> str:
        context[self.name] = mark_safe(self.nodelist.render(context).strip())  # noqa: S308 - already escaped, or markup of a template
        return ""


@register.tag
def hold(parser: Parser, token: Token) -> HoldNode:
    """`{% hold name %}…{% endhold %}` keeps what it encloses, so that one block can serve `<title>` and `<h1>`."""
    _tag, name = token.split_contents()
    nodelist = parser.parse(("endhold",))
    parser.delete_first_token()
    return HoldNode(name, nodelist)
