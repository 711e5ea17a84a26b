"""JSON out: the one canonical form of a season document."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

from league.engines.documents.reading import in_schema_order, schema_of
from league.engines.documents.season_formats import write_pairing
from league.engines.documents.season_parts import (
    Counts,
    SeasonAdjustment,
    SeasonDivision,
    SeasonDocument,
    SeasonEntrant,
    SeasonGame,
    SeasonRound,
    SeasonSide,
)
from league.engines.documents.season_read import FORMAT, OPTIONS, in_order
from league.engines.standings import Bonus, Rules, TieBreak

__all__ = ["dump", "write_rules", "write_season"]


def dump(document: SeasonDocument) -> bytes:
    """The document as bytes: keys in the schema's order, two spaces of indent, UTF-8, one line feed at the end."""
    return (json.dumps(write_season(document), indent=2, ensure_ascii=False) + "\n").encode()


def write_season(season: SeasonDocument) -> dict[str, Any]:
    """The season as plain JSON values, keys in the schema's order. Every property is said, but those of seasons that
    are drafted, which are left out where they say nothing: a season typed in needs none of them."""
    season = in_order(season)
    document = {
        "format": FORMAT,
        "name": season.name,
        "club": season.club,
        "starts_on": season.starts_on.isoformat(),
        "ends_on": _day(season.ends_on),
        "seed": season.seed,
        "rules": write_rules(season.rules, season.counts),
        "entrants": [_entrant(each) for each in season.entrants],
        "rounds": [_round(each) for each in season.rounds],
        "games": [_game(each) for each in season.games],
        "adjustments": [_adjustment(each) for each in season.adjustments],
    }
    if season.pairing.format != "typed":
        document["pairing"] = write_pairing(season.pairing)
    if season.divisions:
        document["divisions"] = [_division(each) for each in season.divisions]
    schema = schema_of("season")
    ordered: dict[str, Any] = in_schema_order(document, schema, schema)
    return ordered


def write_rules(rules: Rules, counts: Counts) -> dict[str, Any]:
    """The rules as `read_rules` takes them; the seed stands elsewhere in the document."""
    scheme = rules.scheme
    return {
        "scheme": {
            "win_x2": scheme.win_x2,
            "draw_x2": scheme.draw_x2,
            "loss_x2": scheme.loss_x2,
            "bye_x2": scheme.bye_x2,
            "forfeit_win_x2": scheme.forfeit_win_x2,
            "forfeit_loss_x2": scheme.forfeit_loss_x2,
            "absent_x2": scheme.absent_x2,
            "showing_up_x2": scheme.showing_up_x2,
            "bonuses": [_bonus(each) for each in scheme.bonuses],
        },
        "tie_breaks": [_tie_break(each) for each in rules.tie_breaks],
        "unplayed_policy": rules.unplayed_policy,
        "leavers": rules.leavers,
        "rank_by": rules.rank_by,
        "counts": counts,
    }


def _bonus(bonus: Bonus) -> dict[str, Any]:
    return {
        "kind": bonus.kind,
        "points_x2": bonus.points_x2,
        "threshold": bonus.threshold,
        "count": bonus.count,
        "name": bonus.name,
    }


def _tie_break(tie_break: TieBreak) -> dict[str, Any]:
    options: dict[str, Any] = {
        "pieces": list(tie_break.pieces),
        "reapply": tie_break.reapply,
        "wait": tie_break.wait,
        "with_unplayed": tie_break.with_unplayed,
        "count": tie_break.count,
    }
    return {"name": tie_break.name, **{name: options[name] for name in OPTIONS.get(tie_break.name, ())}}


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _division(division: SeasonDivision) -> dict[str, Any]:
    return {
        "id": division.id,
        "name": division.name,
        "level": division.level,
        "promotes": division.promotes,
        "relegates": division.relegates,
    }


def _said(options: Mapping[str, Any]) -> dict[str, Any]:
    """Those that say something."""
    return {name: value for name, value in options.items() if value}


def _entrant(entrant: SeasonEntrant) -> dict[str, Any]:
    left = entrant.left
    return {
        "id": entrant.id,
        "name": entrant.name,
        "players": list(entrant.players),
        "left": left and {"after_round": left.after_round, "on": _day(left.on), "reason": left.reason},
        **_said(
            {
                "division": entrant.division,
                "joined_after_round": entrant.joined_after_round,
                "party": entrant.party,
                "newcomer": entrant.newcomer,
                "seed": entrant.seed,
            }
        ),
    }


def _round(each: SeasonRound) -> dict[str, Any]:
    return {"number": each.number, "on": _day(each.on), "note": each.note}


def _game(game: SeasonGame) -> dict[str, Any]:
    return {
        "id": game.id,
        "round": game.round,
        "on": _day(game.on),
        **_said({"postponed_until": _day(game.postponed_until)}),
        "scenario": game.scenario,
        "report": game.report,
        "sides": [_side(side) for side in game.sides],
    }


def _side(side: SeasonSide) -> dict[str, Any]:
    return {
        "entrant": side.entrant,
        "score": side.score,
        "outcome": side.outcome,
        "conceded": side.conceded,
        "counts": dict(side.counts),
        "value_destroyed": side.value_destroyed,
        "value_lost": side.value_lost,
        "unplayed": side.unplayed,
    }


def _adjustment(adjustment: SeasonAdjustment) -> dict[str, Any]:
    return {
        "entrant": adjustment.entrant,
        "points_x2": adjustment.points_x2,
        "after_round": adjustment.after_round,
        "reason": adjustment.reason,
        "on": _day(adjustment.on),
    }
