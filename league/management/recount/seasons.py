from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from django.db.models import Count, F, Q

from league.engines.standings import explain
from league.seasons.models import EntrantPlayer, Pairing, PairingSide, Season
from league.seasons.queries import standings

__all__ = ["games", "seats", "standings_add_up"]


def seats() -> Iterator[str]:
    for pk in EntrantPlayer.objects.exclude(season=F("entrant__season")).values_list("pk", flat=True):
        yield f"player {pk} of an entrant names another season than the entrant"
    astray = PairingSide.objects.exclude(round=F("pairing__round"), entrant__season=F("round__season"))
    for pk in astray.values_list("pk", flat=True):
        yield f"seat {pk} names a round or an entrant that its pairing does not belong to"
    emptied = PairingSide.objects.filter(Q(removed_at=None, pairing__removed_at__isnull=False))
    for pk in emptied.values_list("pk", flat=True):
        yield f"seat {pk} stands although its pairing was taken back"


def games() -> Iterator[str]:
    """A pairing's game has one side for each entrant who came to play."""
    playing = Count("seats", filter=Q(seats__unplayed="", seats__removed_at=None), distinct=True)
    rows = (
        Pairing.objects.filter(removed_at=None, game__isnull=False, game__cancelled_at=None)
        .annotate(playing=playing, sides=Count("game__sides", distinct=True))
        .exclude(playing=F("sides"))
    )
    for pairing in rows:
        yield f"pairing {pairing.pk} seats {pairing.playing} to play, its game {pairing.game_id} has {pairing.sides} sides"


def standings_add_up() -> Iterator[str]:
    """The reasons of every points cell add up to the points, and nobody stands above somebody with more."""
    for season in Season.objects.order_by("pk"):
        table = standings(season).table
        rows = list(table.rows)
        for row in rows:
            total = sum(Fraction(reason.contribution) for reason in explain(table, row.entrant_id, "points"))
            if total != row.points_x2:
                yield f"{season.name}: {row.name} has {row.points_x2} half points, the reasons come to {total}"
        if [row.rank for row in rows] != sorted(row.rank for row in rows):
            yield f"{season.name}: the ranks are out of order"
