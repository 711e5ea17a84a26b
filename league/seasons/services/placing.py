"""What the draw looks at beside results: division, seeding, household or travelling party, newcomers."""

from __future__ import annotations

from typing import Literal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.errors import Violation
from league.seasons.models import Division, Entrant, Season
from league.seasons.queries.seeding import seeding_of
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["SeedBy", "place_entrant", "seed_everybody"]

SeedBy = Literal["rating", "lot"]

PARTY_MOST = 60
SEED_MOST = 10_000
# Formats whose whole plan follows from the seeding.
PLANNED = frozenset(
    {
        Season.Format.ROUND_ROBIN,
        Season.Format.DOUBLE_ROUND_ROBIN,
        Season.Format.KNOCKOUT,
        Season.Format.GROUPS_KNOCKOUT,
    }
)

put_in_words(
    {
        "entrant_placed": gettext_lazy("changed what the draw looks at for %(name)s"),
        "seeded_by_rating": gettext_lazy("seeded everybody by the club's ratings"),
        "seeded_by_lot": gettext_lazy("left the seeding to the lot"),
    }
)


@transaction.atomic
def place_entrant(
    entrant: Entrant,
    *,
    division: Division | None = None,
    party: str = "",
    is_newcomer: bool = False,
    seed_number: int | None = None,
    by: Member,
) -> Entrant:
    """Say what the draw looks at for an entrant. It holds from the next round on.

    Raises:
        NotYoursToDo, SeasonClosed
        SeasonRefused: with everything that is wrong; once a round of a format that is planned from the seeding is
            published, neither seeding nor division can change.
    """
    season = open_season(entrant.season, by=by)
    party = party.strip()
    faults = []
    if len(party) > PARTY_MOST:
        words = _("Keep the party under %(most)s characters.") % {"most": PARTY_MOST}
        faults.append(Violation(words, "party", "long"))
    if seed_number is not None and not 1 <= seed_number <= SEED_MOST:
        words = _("Places in the seeding count from 1 to %(most)s.") % {"most": SEED_MOST}
        faults.append(Violation(words, "seed_number", "range"))
    if division is not None and division.season_id != season.pk:
        faults.append(Violation(_("This division is not one of the season's."), "division", "not_of_season"))
    moved = (entrant.division_id, entrant.seed_number) != (division.pk if division else None, seed_number)
    if moved and is_drawn_up(season):
        faults.append(drawn_up("seed_number"))
    if faults:
        raise SeasonRefused(faults)
    entrant.division, entrant.party = division, party
    entrant.is_newcomer, entrant.seed_number = is_newcomer, seed_number
    entrant.save(update_fields=["division", "party", "is_newcomer", "seed_number"])
    log_act(season.club, "entrant_placed", season, by=by, entrant=entrant.pk, name=entrant.name)
    return entrant


@transaction.atomic
def seed_everybody(season: Season, *, order: SeedBy, by: Member) -> list[Entrant]:
    """Number the seeding of all who take part at once. By `rating`: the strongest by the club's ratings of today is 1,
    and who has none has no place; by `lot`: nobody has a place. Doing it twice is doing it once.

    Raises:
        NotYoursToDo, SeasonClosed
        SeasonRefused: a round planned from the seeding is published, or nobody is rated.
    """
    season = open_season(season, by=by)
    if is_drawn_up(season):
        raise SeasonRefused(drawn_up("order"))
    lines = seeding_of(season, today=timezone.localdate(timezone.now(), season.club.zone))
    rated = [line.entrant for line in lines if line.rating is not None] if order == "rating" else []
    if order == "rating" and not rated:
        words = _("Nobody who takes part has a rating yet; seed them by hand or by lot.")
        raise SeasonRefused(Violation(words, "order", "unrated"))
    season.entrants.update(seed_number=None)
    for number, entrant in enumerate(rated, start=1):
        entrant.seed_number = number
    Entrant.objects.bulk_update(rated, ["seed_number"])
    log_act(season.club, "seeded_by_rating" if rated else "seeded_by_lot", season, by=by)
    return rated


def is_drawn_up(season: Season) -> bool:
    """Whether rounds that follow from the seeding are published."""
    return season.format in PLANNED and season.rounds.filter(published_at__isnull=False).exists()


def drawn_up(field: str) -> Violation:
    return Violation(_("The rounds were drawn up from the seeding; it cannot change any more."), field, "under_way")
