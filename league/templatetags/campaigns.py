"""What templates of campaigns may say."""

from __future__ import annotations

from collections.abc import Iterable

from django import template

from league.campaigns.queries.play_page import FactionLine
from league.campaigns.queries.play_page import loads as in_loads

register = template.Library()


@register.filter
def loads(amount_x100: int) -> str:
    """Hundredths of a load as loads."""
    return in_loads(amount_x100)


@register.filter
def winners(factions: Iterable[FactionLine], keys: Iterable[str]) -> str:
    """The names of the factions that won."""
    wanted = set(keys)
    return ", ".join(each.name for each in factions if each.key in wanted)
