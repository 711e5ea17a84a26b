"""The forecast engine: what is still possible, and how likely it is.

`outlook_of` takes a season as the standings engine knows it (entrants, games, adjustments, rules) with its open
`Fixture`s, rounds still to be drawn, and what everybody may expect of everybody, from ratings or even odds. Then:

* `odds` draws many seasons at random and tells the chance of every place with its standard error (100,000 seasons of
  40 entrants and 100 open games in about a second); `exact_odds` counts all the seasons there are, if they are few;
* `prospects` says who is through and who is out whatever happens, on points alone and never by chance;
* `needs_of` says what each way to end of the next game means, and which other games must help.

Of all engines this one alone builds on another: what a season's games are worth is the standings engine's to say.

What is not foreseen: forfeits; tie-breaks (those level on points share the place by lot, or as they stand today).
Whether somebody can still be caught is hard to decide where a win is worth more than two draws; the search is exact
within its limit, far beyond a club's season, and past it the verdict is `undecided`, not a guess.
"""

from .knockout import KnockoutOdds, knockout_odds
from .model import (
    BadForecast,
    Bounds,
    Case,
    Chance,
    Condition,
    Expectation,
    Fixture,
    Level,
    Needs,
    Odds,
    Outlook,
    Prospect,
    Result,
    Verdict,
)
from .needs import needs_of
from .odds import exact_odds, odds
from .outlook import even_odds, outlook_of
from .prospects import prospect, prospects

__all__ = [
    "BadForecast",
    "Bounds",
    "Case",
    "Chance",
    "Condition",
    "Expectation",
    "Fixture",
    "KnockoutOdds",
    "Level",
    "Needs",
    "Odds",
    "Outlook",
    "Prospect",
    "Result",
    "Verdict",
    "even_odds",
    "exact_odds",
    "knockout_odds",
    "needs_of",
    "odds",
    "outlook_of",
    "prospect",
    "prospects",
]
