"""What a battle nobody could play would come to, by Lanchester's laws as this club's own reports bear them out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.war import War, war_of
from league.clubs.models import Club
from league.clubs.services.submissions import digest_of
from league.engines import war
from league.engines.attrition import Fought, fit
from league.engines.war.fought import fought_of
from league.engines.war.simulate import Foretold, foretell, laws_of

__all__ = ["Preview", "fought_in", "laws_of_club", "preview_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Preview:
    """What is shown before anyone accepts it; `digest` names it, so that what is accepted is what was seen."""

    foretold: Foretold
    digest: str


def preview_of(now: War, battle: str) -> Preview:
    """The chances, expected losses and their spread.

    Raises:
        CannotSimulate: there is no such open battle, or it has more than two sides.
    """
    foretold = foretell(now.began, now.now, battle, laws=laws_of_club(now.campaign.club))
    return Preview(foretold=foretold, digest=digest_of([now.turn, battle, repr(foretold)]))


def laws_of_club(club: Club) -> war.Laws:
    """Fitted to every battle of the club's campaigns that was really fought, where there are enough; else the default."""
    return laws_of(fit(fought_in(club)))


def fought_in(club: Club) -> Iterator[Fought]:
    told = Fact.objects.in_force().filter(kind=Fact.Kind.OUTCOME, report__isnull=False, campaign__club=club)
    for campaign in Campaign.objects.filter(club=club, pk__in=told.values("campaign")).order_by("pk"):
        now = war_of(campaign)
        yield from fought_of(now.began, now.facts, now.states)
