"""How the rounds of a season come about, in sentences a member understands."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from league.engines.documents.season import FormatName, Pairing
from league.engines.pairing import CriterionName

__all__ = ["CRITERION_WORDS", "format_in_words"]

CRITERION_WORDS: Mapping[CriterionName, str | Promise] = {
    "repeat": gettext_lazy("nobody meets the same opponent twice"),
    "bye": gettext_lazy("nobody has a second bye"),
    "party": gettext_lazy("two of one household or travelling party do not meet"),
    "newcomer": gettext_lazy("newcomers do not meet the two strongest"),
    "role_limit": gettext_lazy("nobody has a role three times running or far more often than the other"),
    "bye_low": gettext_lazy("the bye goes to the bottom of the table"),
    "distance": gettext_lazy("opponents are near in points"),
    "floats": gettext_lazy("nobody is paired up or down again and again"),
    "roles": gettext_lazy("attacking and defending are in balance"),
}
PAIR = 2


def format_in_words(pairing: Pairing) -> list[str]:
    """The rules of the format, one sentence or two a paragraph."""
    return WORDS[pairing.format](pairing)


def of_typed(_pairing: Pairing) -> list[str]:
    return [_("An organiser types in who meets whom.")]


def of_swiss(pairing: Pairing) -> list[str]:
    told = [
        ngettext("%(count)s round is planned.", "%(count)s rounds are planned.", pairing.rounds)
        % {"count": pairing.rounds},
        _(
            "Every round pairs those who have done about equally well. Of all possible rounds the best one is taken, by "
            "the criteria below: the first comes before everything after it. Lots decide between equally good rounds."
        ),
    ]
    if pairing.sides > PAIR:
        told.append(
            _("%(sides)s meet in one game, or as near to that as the numbers allow.") % {"sides": pairing.sides}
        )
    told.append(
        _("With an odd number one entrant has a bye. Who enters late is paired from the next round on.")
        if pairing.sides == PAIR
        else _("Who enters late is paired from the next round on.")
    )
    return told


def of_round_robin(pairing: Pairing) -> list[str]:
    twice = pairing.format == "double_round_robin"
    return [
        _("Everybody meets everybody twice, once in each role.") if twice else _("Everybody meets everybody once."),
        _(
            "The rounds follow the published Berger tables, numbered by the seeding and then by lot. With an odd number "
            "one has a bye in every round."
        ),
        _("All rounds are drawn up at once; who comes after that plays next season."),
    ]


def of_knockout(pairing: Pairing) -> list[str]:
    told = [
        _(
            "Who loses is out. The best two by the seeding can meet only in the final, the best four only in the "
            "semi-finals, and so on; who has no place in the seeding comes after, by lot."
        ),
        _("Where entrants are missing to a full bracket, the best have a bye in the first round."),
        _("A draw sends on whoever has the higher score, and of equal scores the one seeded higher."),
        _("If neither comes, neither goes on. Whoever was to meet one who left goes on."),
    ]
    if pairing.third_place:
        told.append(_("Those who lose the semi-finals play for the third place."))
    return told


def of_groups(pairing: Pairing) -> list[str]:
    return [
        _(
            "First there are %(groups)s groups, drawn by the seeding forwards and backwards in turn. In a group "
            "everybody meets everybody."
        )
        % {"groups": pairing.groups},
        _("The best %(advance)s of every group go on to a knock-out.") % {"advance": pairing.advance},
        *of_knockout(pairing),
    ]


def of_open(pairing: Pairing) -> list[str]:
    told = [_("Play whom you like, as often as you like.")]
    if pairing.best_of is not None:
        told.append(
            ngettext(
                "Only the best result of everybody counts.",
                "Only the best %(count)s results of everybody count.",
                pairing.best_of,
            )
            % {"count": pairing.best_of}
        )
    if pairing.most_against is not None:
        told.append(
            ngettext(
                "Of games between the same opponents only the first counts.",
                "Of games between the same opponents only the first %(count)s count.",
                pairing.most_against,
            )
            % {"count": pairing.most_against}
        )
    if pairing.least_games:
        told.append(
            ngettext(
                "It takes %(count)s game to be placed; everybody else stands below.",
                "It takes %(count)s games to be placed; everybody else stands below.",
                pairing.least_games,
            )
            % {"count": pairing.least_games}
        )
    return told


def of_ladder(pairing: Pairing) -> list[str]:
    return [
        _("Everybody has a rung. At first they stand in the order of the seeding, and then of entering."),
        ngettext(
            "One may challenge whoever is one rung above.",
            "One may challenge whoever is up to %(count)s rungs above.",
            pairing.reach,
        )
        % {"count": pairing.reach},
        _("A challenger who wins takes the rung of the other; everybody from there down moves down one."),
        _("A draw or a loss changes nothing."),
    ]


WORDS: Mapping[FormatName, Callable[[Pairing], list[str]]] = {
    "typed": of_typed,
    "swiss": of_swiss,
    "round_robin": of_round_robin,
    "double_round_robin": of_round_robin,
    "knockout": of_knockout,
    "groups_knockout": of_groups,
    "open": of_open,
    "ladder": of_ladder,
}
