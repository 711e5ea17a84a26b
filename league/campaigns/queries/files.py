"""A war as one document."""

from __future__ import annotations

import json

from league.campaigns.queries.war import War
from league.engines.documents.campaign import write_campaign

__all__ = ["campaign_file"]


def campaign_file(now: War) -> bytes:
    """How the war began and every fact since, in canonical form: the same war is the same bytes. `manage.py replay`
    reads it. Seeds that are not told are not in it: they are no facts."""
    document = write_campaign(now.began, now.facts)
    return (json.dumps(document, sort_keys=True, indent=1, ensure_ascii=False) + "\n").encode()
