"""The rules a season begins with: what its ruleset says about scoring."""

from __future__ import annotations

from league.engines.documents.season_read import seed_number
from league.engines.rulesets import Ruleset
from league.engines.standings import Bonus, Rules, Scheme, TieBreak

__all__ = ["counts_of", "rules_for"]


def rules_for(ruleset: Ruleset, seed: str) -> Rules:
    """The scoring scheme and tie-breaks of a ruleset as the rules of a season; everything else as `Rules` has it."""
    scoring = ruleset.scoring
    return Rules(
        scheme=Scheme(
            win_x2=scoring.win_x2,
            draw_x2=scoring.draw_x2,
            loss_x2=scoring.loss_x2,
            bye_x2=scoring.bye_x2,
            forfeit_win_x2=scoring.forfeit_win_x2,
            forfeit_loss_x2=scoring.forfeit_loss_x2,
            absent_x2=scoring.absent_x2,
            showing_up_x2=scoring.showing_up_x2,
            bonuses=tuple(
                Bonus(
                    kind=bonus.kind,
                    points_x2=bonus.points_x2,
                    threshold=bonus.threshold,
                    count=bonus.count,
                    name=bonus.name,
                )
                for bonus in scoring.bonuses
            ),
        ),
        tie_breaks=tuple(tie_break_of(name) for name in scoring.tie_breaks),
        seed=seed_number(seed),
    )


def tie_break_of(column: str) -> TieBreak:
    """A tie-break by the name of its column: `wins`, `count_total:flags`."""
    name, _, count = column.partition(":")
    return TieBreak(name=name, count=count)  # type: ignore[arg-type]  # the ruleset was checked by its own schema


def counts_of(ruleset: Ruleset) -> dict[str, str]:
    """Every count its scenarios can report, by key, with its name."""
    return {objective.key: objective.name for scenario in ruleset.scenarios for objective in scenario.objectives}
