"""What a reader may call the entrants of a season."""

from __future__ import annotations

from collections import defaultdict

from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.queries import names_for
from league.seasons.models import Season

__all__ = ["entrant_names", "entrant_numbers"]


def entrant_names(season: Season, viewer: Member | None) -> dict[str, str]:
    """Each entrant's name by its key, as the viewer may know it; at most three queries.

    Club mates read the names as entered. A stranger reads a team's name, but of a single player only what the player
    allows, since an entrant of one is usually called after them; of one without known players, nothing.
    """
    rows = list(season.entrants.order_by("pk").values_list("pk", "key", "name"))
    if viewer is not None and viewer.left_at is None and viewer.club_id == season.club_id:
        return {key: name for _pk, key, name in rows}
    players: defaultdict[int, list[Member]] = defaultdict(list)
    for player in season.players.select_related("member"):
        players[player.entrant_id].append(player.member)
    alone = {pk: members[0] for pk, members in players.items() if len(members) == 1}
    shown = names_for(viewer, alone.values())
    return {
        key: _("Entrant %(pk)s") % {"pk": pk}
        if pk not in players
        else name
        if pk not in alone or shown[alone[pk].pk] == alone[pk].name
        else shown[alone[pk].pk]
        for pk, key, name in rows
    }


def own_entrants(season: Season, member: Member | None) -> frozenset[str]:
    """The keys of the entrants a member plays for; no query for a stranger."""
    if member is None:
        return frozenset()
    return frozenset(season.players.filter(member=member).values_list("entrant__key", flat=True))


def entrant_numbers(season: Season) -> dict[str, int]:
    """Each entrant's row number by its key. Pages for strangers go by it, since a key tells the name it was made of."""
    return dict(season.entrants.values_list("key", "pk"))
