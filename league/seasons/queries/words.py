"""A season's rules in sentences a member understands, and short names for the columns of its table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.standings import Bonus, Rules, Scheme, TieBreak
from league.web import half_points

__all__ = [
    "RuleLine",
    "column_head",
    "column_name",
    "column_words",
    "columns_in_words",
    "kind_words",
    "rules_in_words",
    "tie_break_name",
]

Words = str | Promise

NAMES: Mapping[str, Words] = {
    "rank": gettext_lazy("Place"),
    "played": gettext_lazy("Played"),
    "won": gettext_lazy("Won"),
    "drawn": gettext_lazy("Drawn"),
    "lost": gettext_lazy("Lost"),
    "unplayed": gettext_lazy("Unplayed"),
    "points": gettext_lazy("Points"),
    "points_per_game": gettext_lazy("Points per game"),
    "score_for": gettext_lazy("Score for"),
    "score_against": gettext_lazy("Score against"),
    "wins": gettext_lazy("Wins"),
    "direct_encounter": gettext_lazy("Direct encounter"),
    "buchholz": gettext_lazy("Buchholz"),
    "buchholz_cut1": gettext_lazy("Buchholz less the lowest"),
    "buchholz_cut2": gettext_lazy("Buchholz less the two lowest"),
    "buchholz_median1": gettext_lazy("Buchholz less lowest and highest"),
    "buchholz_median2": gettext_lazy("Buchholz less two lowest and two highest"),
    "sum_of_buchholz": gettext_lazy("Sum of Buchholz"),
    "sonneborn_berger": gettext_lazy("Sonneborn-Berger"),
    "progressive": gettext_lazy("Progressive score"),
    "score_difference": gettext_lazy("Score difference"),
    "score_average": gettext_lazy("Score average"),
    "value_difference": gettext_lazy("Value difference"),
    "drawn_lot": gettext_lazy("Drawn lot"),
}

# Heads of columns, where a whole name would push the table off the page; the page explains them below it.
SHORT: Mapping[str, Words] = {
    "points_per_game": gettext_lazy("Per game"),
    "direct_encounter": gettext_lazy("Direct"),
    "buchholz_cut1": gettext_lazy("Buchholz \N{MINUS SIGN}1"),
    "buchholz_cut2": gettext_lazy("Buchholz \N{MINUS SIGN}2"),
    "buchholz_median1": gettext_lazy("Median"),
    "buchholz_median2": gettext_lazy("Median 2"),
    "sum_of_buchholz": gettext_lazy("Sum Buch."),
    "sonneborn_berger": gettext_lazy("Sonn.-B."),
    "progressive": gettext_lazy("Progr."),
    "score_difference": gettext_lazy("Diff."),
    "score_for": gettext_lazy("For"),
    "score_average": gettext_lazy("Average"),
    "value_difference": gettext_lazy("Value"),
    "drawn_lot": gettext_lazy("Lot"),
}

SENTENCES: Mapping[str, Words] = {
    "rank": gettext_lazy("The place in the table: by points, then by each tie-break in its order."),
    "played": gettext_lazy("Games played; byes and forfeits are not among them."),
    "won": gettext_lazy("Games played and won."),
    "drawn": gettext_lazy("Games played and drawn."),
    "lost": gettext_lazy("Games played and lost."),
    "unplayed": gettext_lazy("Byes, forfeits and absences."),
    "points": gettext_lazy("What every result scored by the season's scheme, with bonuses and adjustments."),
    "points_per_game": gettext_lazy("Points divided by the games, byes and forfeits on record."),
    "score_for": gettext_lazy("The game's own score, added up over all games."),
    "score_against": gettext_lazy("The opponents' scores, added up over all games."),
    "wins": gettext_lazy("More games won stands first."),
    "buchholz": gettext_lazy(
        "The points of everybody one met, without adjustments, added up: a harder road stands first."
    ),
    "buchholz_cut1": gettext_lazy("The points of everybody one met, added up without the lowest."),
    "buchholz_cut2": gettext_lazy("The points of everybody one met, added up without the two lowest."),
    "buchholz_median1": gettext_lazy("The points of everybody one met, added up without the lowest and the highest."),
    "buchholz_median2": gettext_lazy(
        "The points of everybody one met, added up without the two lowest and the two highest."
    ),
    "sum_of_buchholz": gettext_lazy("The Buchholz of everybody one met, added up."),
    "sonneborn_berger": gettext_lazy(
        "The points of everybody one beat and half the points of everybody one drew with."
    ),
    "progressive": gettext_lazy("The points after each round, added up: early points weigh more."),
    "score_difference": gettext_lazy("The own score less the opponents', over all games."),
    "score_average": gettext_lazy("The own score divided by the opponents', over all games."),
    "value_difference": gettext_lazy("Points of enemy units destroyed less points of own units lost."),
    "drawn_lot": gettext_lazy("A lot, drawn from the season's seed: anyone can draw the same again."),
}

KINDS: Mapping[str, Words] = {
    "win": gettext_lazy("won"),
    "draw": gettext_lazy("drawn"),
    "loss": gettext_lazy("lost"),
    "bye": gettext_lazy("bye"),
    "forfeit_win": gettext_lazy("won by forfeit"),
    "forfeit_loss": gettext_lazy("lost by forfeit"),
    "absent": gettext_lazy("absent"),
    "showing_up": gettext_lazy("for showing up"),
    "adjustment": gettext_lazy("adjusted by an organiser"),
    "played": gettext_lazy("met"),
    "virtual_opponent": gettext_lazy("unplayed round: a virtual opponent"),
    "dummy_opponent": gettext_lazy("unplayed round: a dummy opponent"),
    "cut": gettext_lazy("left out"),
    "unplayed": gettext_lazy("unplayed"),
    "lot": gettext_lazy("the lot drawn"),
}

BONUS_KINDS: Mapping[str, Words] = {
    "margin": gettext_lazy("won by %(threshold)s or more"),
    "narrow_loss": gettext_lazy("lost by %(threshold)s or less"),
    "count_at_least": gettext_lazy("%(threshold)s or more of “%(count)s”"),
    "clean_sweep": gettext_lazy("every game of the season won, at least %(threshold)s played"),
}

PIECES: Mapping[str, Words] = {
    "points": gettext_lazy("points"),
    "score_difference": gettext_lazy("score difference"),
    "score_for": gettext_lazy("score"),
    "wins": gettext_lazy("wins"),
}

UNPLAYED: Mapping[str, Words] = {
    "as_scored": gettext_lazy(
        "An unplayed round adds nothing to Buchholz and Sonneborn-Berger; points stand as scored."
    ),
    "fide_2009": gettext_lazy("An unplayed round counts as one against a virtual opponent (FIDE rules of 2009)."),
    "fide_2023": gettext_lazy("An unplayed round counts by the FIDE tie-break regulations of 2023: a dummy opponent."),
}
LEAVERS: Mapping[str, Words] = {
    "keep": gettext_lazy("Results against entrants who leave stand."),
    "annul": gettext_lazy("Results of entrants who leave are annulled, as if they had never entered."),
}
COUNTS: Mapping[str, Words] = {
    "filed": gettext_lazy("A result counts as soon as it is filed, and stops counting while it is disputed."),
    "confirmed": gettext_lazy("A result counts once the opponent confirmed it or an umpire settled it."),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class RuleLine:
    """One rule: `what` it is about, `value` where there is a figure, `words` that explain it."""

    what: str
    words: str
    value: str = ""


def column_name(column: str) -> str:
    """The head of a column: `buchholz`, `count_total:flags`, `points`."""
    name, _sep, count = column.partition(":")
    if name == "count_total":
        return _("Total of %(count)s") % {"count": count}
    return str(NAMES.get(name, name))


def column_head(column: str) -> str:
    """The name of a column as short as it can be."""
    name, _sep, count = column.partition(":")
    return count if name == "count_total" else str(SHORT.get(name) or NAMES.get(name, name))


def columns_in_words(rules: Rules) -> list[RuleLine]:
    """What stands under each head of the table that does not say it by itself."""
    columns = [each.column for each in rules.tie_breaks]
    if rules.rank_by == "points_per_game":
        columns.insert(0, rules.rank_by)
    return [
        RuleLine(what=column_head(column), value=column_name(column), words=column_words(column, rules))
        for column in columns
    ]


def column_words(column: str, rules: Rules) -> str:
    """What a column means by these rules, in a sentence."""
    tie_break = next((each for each in rules.tie_breaks if each.column == column), None)
    if tie_break is not None:
        return tie_break_words(tie_break)
    return str(SENTENCES.get(column, ""))


def tie_break_name(tie_break: TieBreak) -> str:
    return column_name(tie_break.column)


def tie_break_words(tie_break: TieBreak) -> str:
    if tie_break.name == "count_total":
        return _("The count of “%(count)s” over all games.") % {"count": tie_break.count}
    if tie_break.name == "direct_encounter":
        return direct_words(tie_break)
    words = str(SENTENCES[tie_break.name])
    if tie_break.name == "wins" and tie_break.with_unplayed:
        words += " " + _("Byes and forfeits won count as wins.")
    return words


def direct_words(tie_break: TieBreak) -> str:
    pieces = ", ".join(str(PIECES[piece]) for piece in tie_break.pieces)
    words = [_("Only the games among those level: %(pieces)s.") % {"pieces": pieces}]
    if tie_break.wait:
        words.append(_("It waits until all of them have met."))
    if tie_break.reapply:
        words.append(_("Those it leaves level are compared again among themselves."))
    return " ".join(words)


def kind_words(kind: str) -> str:
    """The kind of a reason in words; a bonus says its name."""
    name, _sep, bonus = kind.partition(":")
    if name == "bonus":
        return _("bonus: %(name)s") % {"name": BONUS_TITLES.get(bonus, bonus)}
    return str(KINDS.get(kind, kind))


BONUS_TITLES: Mapping[str, Words] = {
    "margin": gettext_lazy("won clearly"),
    "narrow_loss": gettext_lazy("lost narrowly"),
    "count_at_least": gettext_lazy("count reached"),
    "clean_sweep": gettext_lazy("every game won"),
}


def bonus_words(bonus: Bonus) -> str:
    return str(BONUS_KINDS[bonus.kind]) % {"threshold": bonus.threshold, "count": bonus.count}


def scheme_in_words(scheme: Scheme) -> list[RuleLine]:
    told = [
        (_("Win"), scheme.win_x2, _("for a game won")),
        (_("Draw"), scheme.draw_x2, _("for a game drawn")),
        (_("Loss"), scheme.loss_x2, _("for a game lost")),
        (_("Bye"), scheme.bye_x2, _("for a round without an opponent")),
        (_("Forfeit won"), scheme.forfeit_win_x2, _("when the opponent does not play")),
        (_("Forfeit lost"), scheme.forfeit_loss_x2, _("for not playing although paired")),
        (_("Absent"), scheme.absent_x2, _("for a round one stays away from")),
    ]
    if scheme.showing_up_x2:
        told.append((_("Showing up"), scheme.showing_up_x2, _("on top, for every game actually played")))
    lines = [RuleLine(what=what, value=half_points(points), words=words) for what, points, words in told]
    return lines + [
        RuleLine(
            what=bonus.name or str(BONUS_TITLES[bonus.kind]),
            value=half_points(bonus.points_x2),
            words=bonus_words(bonus),
        )
        for bonus in scheme.bonuses
    ]


def rules_in_words(rules: Rules, counts: str) -> dict[str, list[RuleLine]]:
    """Every rule of the season explained: the scheme, the tie-breaks in order, the rest."""
    by = _("points per game") if rules.rank_by == "points_per_game" else _("points")
    return {
        "scheme": scheme_in_words(rules.scheme),
        "tie_breaks": [RuleLine(what=tie_break_name(each), words=tie_break_words(each)) for each in rules.tie_breaks],
        "rest": [
            RuleLine(what=_("Order"), words=_("The table is ranked by %(by)s.") % {"by": by}),
            RuleLine(what=_("Results"), words=str(COUNTS[counts])),
            RuleLine(what=_("Unplayed rounds"), words=str(UNPLAYED[rules.unplayed_policy])),
            RuleLine(what=_("Leavers"), words=str(LEAVERS[rules.leavers])),
        ],
    }
