"""The editions of a ruleset, and the rules an edition holds."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from importlib import resources
from typing import Any

from django.db.models import Count, Max, OuterRef, QuerySet, Subquery

from league.clubs.models import Club
from league.engines import rulesets as engine
from league.rulesets.models import Edition, Ruleset

__all__ = [
    "canonical",
    "current_edition",
    "current_editions",
    "editions_of",
    "rules_of",
    "rulesets_of",
    "shipped_documents",
]


def rulesets_of(club: Club, *, with_retired: bool = True) -> QuerySet[Ruleset]:
    """The club's rulesets, each with its current edition's `number`, when that was `changed_at`, its `roster_count`."""
    latest = Edition.objects.filter(ruleset=OuterRef("pk")).order_by("-number")
    rows: QuerySet[Ruleset] = Ruleset.objects.filter(club=club).annotate(
        number=Max("editions__number"),
        changed_at=Subquery(latest.values("created_at")[:1]),
        roster_count=Count("rosters", distinct=True),
    )
    return rows if with_retired else rows.filter(retired_at=None)


def editions_of(ruleset: Ruleset) -> QuerySet[Edition]:
    """Every edition, the newest first, without its document."""
    return Edition.objects.filter(ruleset=ruleset).select_related("created_by").defer("document").order_by("-number")


def current_edition(ruleset: Ruleset) -> Edition:
    """The newest edition; every ruleset has one from its first moment."""
    edition: Edition = Edition.objects.select_related("ruleset").filter(ruleset=ruleset).latest("number")
    return edition


def current_editions(ruleset_ids: Iterable[int]) -> dict[int, Edition]:
    """The newest edition of each ruleset by the ruleset's id: one query, whatever their number."""
    newest = Edition.objects.filter(ruleset=OuterRef("ruleset")).order_by("-number")
    rows = Edition.objects.filter(ruleset__in=set(ruleset_ids), pk=Subquery(newest.values("pk")[:1]))
    return {edition.ruleset_id: edition for edition in rows}


def rules_of(edition: Edition) -> engine.Ruleset:
    """The rules an edition holds. Read once per document and process: editions never change."""
    return _rules(json.dumps(edition.document, sort_keys=True))


@lru_cache(maxsize=256)
def _rules(document: str) -> engine.Ruleset:
    # Keyed by the text rather than by the row: a restored database may give a number to other rules.
    return engine.parse_ruleset(json.loads(document))


def canonical(document: Mapping[str, Any]) -> str:
    """The one text of a ruleset document: fields in the engine's order, two spaces, a newline at the end.

    Raises:
        league.engines.rulesets.BadRuleset: it is no ruleset.
    """
    written = engine.ruleset_to_document(engine.parse_ruleset(document))
    return json.dumps(written, ensure_ascii=False, indent=2) + "\n"


def shipped_documents() -> dict[str, dict[str, Any]]:
    """The example rulesets that come with the site, by the name of their file without `.json`."""
    return {name: json.loads(text) for name, text in _shipped_texts().items()}


@cache
def _shipped_texts() -> dict[str, str]:
    folder = resources.files("league.rulesets").joinpath("data")
    files = sorted((each for each in folder.iterdir() if each.name.endswith(".json")), key=lambda each: each.name)
    return {each.name.removesuffix(".json"): each.read_text(encoding="utf-8") for each in files}
