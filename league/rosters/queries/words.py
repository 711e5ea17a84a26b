"""What an engagement did to a unit, in the reader's language."""

from __future__ import annotations

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext_lazy

from league.engines.rulesets import Ruleset
from league.engines.strength import Change

__all__ = ["change_in_words"]

# ngettext_lazy takes the number it counts by from the facts, under the name given last.
PHRASES = {
    "fielded": ngettext_lazy(
        "took the field, %(experience)s experience gained",
        "took the field, %(experience)s experience gained",
        "experience",
    ),
    "destroyed": gettext_lazy("destroyed"),
    "routed": gettext_lazy("routed"),
    "back": ngettext_lazy(
        "%(figures)s figure back for the next battle", "%(figures)s figures back for the next battle", "figures"
    ),
    "out": ngettext_lazy("%(figures)s out for %(games)s battle", "%(figures)s out for %(games)s battles", "games"),
    "lost": ngettext_lazy("%(figures)s figure lost for good", "%(figures)s figures lost for good", "figures"),
    "awaiting_dice": ngettext_lazy(
        "%(figures)s figure waits for its dice", "%(figures)s figures wait for their dice", "figures"
    ),
    "unit_out": ngettext_lazy(
        "the whole unit stays away for %(games)s battle, %(figures)s unhurt among it",
        "the whole unit stays away for %(games)s battles, %(figures)s unhurt among it",
        "games",
    ),
    "unit_gone": gettext_lazy("the unit is gone"),
    "returned": ngettext_lazy("%(figures)s figure returned", "%(figures)s figures returned", "figures"),
    "overstated": ngettext_lazy(
        "%(figures)s figure more reported lost than stood there; not counted",
        "%(figures)s figures more reported lost than stood there; not counted",
        "figures",
    ),
    "could_not_field": gettext_lazy("was on the list of those who fought, but nobody of it could take the field"),
    "joined": ngettext_lazy("%(figures)s recruit joined", "%(figures)s recruits joined", "figures"),
    "left": ngettext_lazy(
        "%(figures)s figure left without a fight", "%(figures)s figures left without a fight", "figures"
    ),
}


def change_in_words(change: Change, rules: Ruleset) -> str:
    """One change as a phrase, with the dice and the table that decided it; `rules` are those of the battle."""
    facts = {"figures": change.figures, "games": change.games, "experience": change.experience}
    words = str(PHRASES[change.what] % facts)
    if not change.rolls:
        return words
    dice = ", ".join(str(roll) for roll in change.rolls)
    table = next((each.name for each in rules.casualty_tables if each.key == change.table), change.table)
    return _("%(words)s (dice %(dice)s, %(table)s)") % {"words": words, "dice": dice, "table": table}
