"""From a game to what it asks of the kit box: each demand with its reasons.

What asks for what is the ruleset's to say (`league.engines.rulesets.kit`); here it is counted out for the units that are
on the table.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from league.engines.kit.counting import Counted, Side, Unit, count_markers, count_need, named_sides
from league.engines.kit.items import BESIDE_FIGURES
from league.engines.kit.model import Demand
from league.engines.rulesets import Category, Kit, Make, Need, Ruleset, Sharing, StandIn, TableSize, Wanted

__all__ = ["Asked", "Game", "Peak", "Side", "Unit", "needs_of", "tools_at_once"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Peak:
    """How many of a need of markers were in use at once, as reports tell; for one side if the sides' are told apart,
    otherwise for the whole table. `why` is a sentence."""

    need: str
    count: int
    why: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Game:
    """What is played at a table. `scale_mm`: the figures on it, where they are not those the ruleset speaks of."""

    table: str
    ruleset: Ruleset
    sides: tuple[Side, ...]
    scenario: str = ""
    scale_mm: int | None = None
    peaks: tuple[Peak, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """A demand and what may meet it. `side` is whose it is, empty for the whole table."""

    demand: Demand
    need: str
    wanted: Wanted
    sharing: Sharing = "own"
    side: str = ""
    make: Make = ""
    stand_ins: tuple[StandIn, ...] = ()


def needs_of(game: Game) -> tuple[Asked, ...]:
    """Everything the game asks for, in the ruleset's order; what it asks nothing of is left out."""
    return tuple(asked for need in game.ruleset.kit.needs for asked in _asked(need, game) if asked.demand.count)


def tools_at_once(asked: Iterable[Asked], category: Category) -> int:
    """How many tools of a sort (dice, templates, rulers) are in use at one table at once: they are handed about, so of what
    one side or the whole table needs in turn the most counts, and the sides' own add up.
    """
    most: defaultdict[tuple[str, str], int] = defaultdict(int)
    for each in asked:
        if each.wanted.category == category:
            # What must be told apart is not handed about.
            lot = each.demand.key if each.sharing == "apart" else ""
            most[each.side, lot] = max(most[each.side, lot], each.demand.count)
    return sum(most.values())


def _asked(need: Need, game: Game) -> Iterator[Asked]:
    if need.scenarios and game.scenario not in need.scenarios:
        return
    for side, counted in _counts(need, game):
        yield Asked(
            demand=Demand(
                key="/".join(part for part in (game.table, need.key, side.key if side else "") if part),
                table=game.table,
                name=f"{need.name} ({side.name})" if side else need.name,
                count=counted.count,
                importance=need.importance,
                why=counted.why,
            ),
            need=need.key,
            wanted=_with_game(need.wanted, game),
            sharing=need.sharing,
            side=side.key if side else "",
            make=need.make,
            stand_ins=tuple(each for each in game.ruleset.kit.stand_ins if each.need == need.key),
        )


def _counts(need: Need, game: Game) -> Iterator[tuple[Side | None, Counted]]:
    """How many, and whose."""
    peak = next((each for each in game.peaks if each.need == need.key), None)
    if need.per == "markers" and need.sharing != "apart":
        counted = _reported(peak) or count_markers(need, game.sides)
        yield None, _with_spare(counted, need)
    elif need.per == "table":
        yield None, _with_spare(count_need(need, Side(key="", units=_units(game.sides))), need)
    elif need.sharing == "shared":
        counts = [count_need(need, side) for side in game.sides]
        counted = max(counts, key=lambda each: each.count, default=Counted(count=0))
        if len(counts) > 1:
            counted = replace(counted, why=(*counted.why, "The sides use the same, in turn."))
        yield None, _with_spare(counted, need)
    else:
        for side in named_sides(game.sides):
            counted = (_reported(peak) if need.per == "markers" else None) or count_need(need, side)
            yield side, _with_spare(counted, need)


def _units(sides: Sequence[Side]) -> tuple[Unit, ...]:
    return tuple(unit for side in sides for unit in side.units)


def _reported(peak: Peak | None) -> Counted | None:
    if peak is None:
        return None
    return Counted(count=peak.count, why=(peak.why or f"Reports tell of up to {peak.count} in use at once.",))


def _with_spare(counted: Counted, need: Need) -> Counted:
    """No more than are enough, then the spare ones on top. What is not asked for needs no spare."""
    if not counted.count:
        return counted
    count, why = counted.count, list(counted.why)
    if need.most is not None and count > need.most:
        count = need.most
        why.append(f"{count} {'is' if count == 1 else 'are'} enough.")
    if need.spare:
        count += need.spare
        why.append(f"{need.spare} to spare: {count}.")
    return Counted(count=count, why=tuple(why))


def _with_game(wanted: Wanted, game: Game) -> Wanted:
    """What is asked for, with the figures' height and the table's size where the need leaves them open."""
    kit: Kit = game.ruleset.kit
    if wanted.category in BESIDE_FIGURES:
        wanted = replace(
            wanted,
            scale_mm=wanted.scale_mm or game.scale_mm or kit.scale_mm,
            scale_tolerance_mm=max(wanted.scale_tolerance_mm, kit.scale_tolerance_mm),
        )
    table = _table_of(game)
    if wanted.category == "mat" and wanted.size_mm is None and table is not None:
        wanted = replace(wanted, size_mm=table.width_mm, depth_mm=table.depth_mm)
    return wanted


def _table_of(game: Game) -> TableSize | None:
    scenario = game.ruleset.scenario(game.scenario)
    return scenario.table if scenario else None
