"""Balance: what the reports say about scenarios, tables and factions, and what they do not.

`shares` counts: the attackers' share per scenario or table, faction against faction, each with the number of games
and Wilson's interval. `fit` allows for the players: a Bradley-Terry fit of everybody's strength together with what
each side is worth between equals, so that a good player's favourite scenario is not called unfair. Nothing is
`unbalanced` while its interval contains even odds.
"""

from .fit import fit
from .model import BadGames, By, Effect, Fit, Interval, NoFit, Share, SidedGame, Strength
from .shares import shares, wilson

__all__ = [
    "BadGames",
    "By",
    "Effect",
    "Fit",
    "Interval",
    "NoFit",
    "Share",
    "SidedGame",
    "Strength",
    "fit",
    "shares",
    "wilson",
]
