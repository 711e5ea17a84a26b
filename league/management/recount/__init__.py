"""Everything that is stored for speed, or could disagree, reckoned once more from the facts.

Each check yields one line for each mismatch and reads only. Nothing here knows how the services wrote what it reads:
where it can, it reckons another way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from league.management.recount import battles, campaigns, database, people, rosters, seasons, stores

__all__ = ["CHECKS", "mismatches"]

CHECKS: dict[str, Callable[[], Iterator[str]]] = {
    "the database file": database.sound,
    "rows stay within their club": people.within_clubs,
    "invitations and those who came by them": people.invitations,
    "clubs have an organiser": people.organisers,
    "snapshots and their points": rosters.snapshots,
    "engagements and the reports they come from": rosters.engagements,
    "casualties that can have been": rosters.casualties,
    "dice": rosters.dice,
    "rulesets": rosters.rulesets,
    "players and their sides": battles.players,
    "scores, outcomes and destroyed points": battles.results,
    "seeds and their hashes": battles.seeds,
    "photos": battles.photos,
    "entrants, seats and their rounds": seasons.seats,
    "pairings and their games": seasons.games,
    "standings and their reasons": seasons.standings_add_up,
    "the record of the kit": stores.movements,
    "loans and what is out of them": stores.loans,
    "promises and their nights": stores.promises,
    "wars replayed from nothing": campaigns.replays,
    "stocks of a war and their books": campaigns.stocks,
    "roll-calls of a war": campaigns.roll_calls,
    "rosters at war": campaigns.rosters,
    "dice of a war": campaigns.dice,
}


def mismatches() -> Iterator[str]:
    """Every mismatch of every check, as "check: what disagrees"."""
    for name, check in CHECKS.items():
        for line in check():
            yield f"{name}: {line}"
