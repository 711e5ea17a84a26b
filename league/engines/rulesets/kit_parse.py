"""The `kit` part of a ruleset's document, read field by field."""

from __future__ import annotations

from league.engines.rulesets.kit import (
    CATEGORIES,
    IMPORTANCES,
    MAKES,
    PERS,
    SHARINGS,
    Extra,
    Kit,
    Need,
    StandIn,
    Wanted,
)
from league.engines.rulesets.reader import Reader

__all__ = ["COUNT_MOST", "LENGTH_MOST", "SCALE_MOST", "SIDES_MOST", "read_kit", "read_wanted", "usual_sharing"]

COUNT_MOST = 1_000
SIDES_LEAST, SIDES_MOST = 2, 100
LENGTH_MOST = 100_000
SCALE_MOST = 200
RANK_MOST = 9


def read_kit(read: Reader) -> Kit:
    kit = Kit(
        scale_mm=read.whole_or_none("scale_mm", least=1, most=SCALE_MOST),
        scale_tolerance_mm=read.whole("scale_tolerance_mm", most=SCALE_MOST, default=0),
        needs=tuple(_need(each) for each in read.items("needs")),
        stand_ins=tuple(_stand_in(each) for each in read.items("stand_ins")),
    )
    read.close()
    return kit


def read_wanted(read: Reader) -> Wanted:
    wanted = Wanted(
        category=read.choice("category", CATEGORIES),
        use=read.key_or_empty("use"),
        sides=read.whole_or_none("sides", least=SIDES_LEAST, most=SIDES_MOST),
        size_mm=read.whole_or_none("size_mm", least=1),
        depth_mm=read.whole_or_none("depth_mm", least=1),
        tolerance_mm=read.whole("tolerance_mm", most=COUNT_MOST, default=1),
        scale_mm=read.whole_or_none("scale_mm", least=1, most=SCALE_MOST),
        scale_tolerance_mm=read.whole("scale_tolerance_mm", most=SCALE_MOST, default=0),
        colour=read.line_or_empty("colour"),
    )
    read.close()
    return wanted


def usual_sharing(per: str) -> str:
    """What is asked for once a table is shared by nature; otherwise each side brings its own."""
    return "shared" if per == "table" else "own"


def _need(read: Reader) -> Need:
    per = read.choice("per", PERS)
    need = Need(
        key=read.key(),
        name=read.line(),
        wanted=read_wanted(read.part("wanted", required=True)),
        per=per,
        count=read.whole("count", most=COUNT_MOST, default=1),
        of=read.whole("of", least=1, most=COUNT_MOST, default=1),
        sharing=read.choice("sharing", SHARINGS, default=usual_sharing(per)),
        gear=read.lines("gear"),
        extras=tuple(_extra(each) for each in read.items("extras")),
        most=read.whole_or_none("most", least=1, most=COUNT_MOST),
        spare=read.whole("spare", most=COUNT_MOST, default=0),
        importance=read.choice("importance", IMPORTANCES, default="needed"),
        make=read.choice("make", MAKES, default=""),
        classes=read.keys("classes"),
        scenarios=read.keys("scenarios"),
    )
    read.close()
    return need


def _extra(read: Reader) -> Extra:
    extra = Extra(gear=read.line("gear"), count=read.whole("count", least=1, most=COUNT_MOST))
    read.close()
    return extra


def _stand_in(read: Reader) -> StandIn:
    stand_in = StandIn(
        need=read.key("need"),
        piece=read_wanted(read.part("piece", required=True)),
        takes=read.whole("takes", least=1, most=COUNT_MOST, default=1),
        covers=read.whole("covers", least=1, most=COUNT_MOST, default=1),
        rank=read.whole("rank", least=1, most=RANK_MOST, default=1),
        loss=read.whole("loss", most=COUNT_MOST, default=0),
        at_home=read.flag("at_home"),
        note=read.line_or_empty("note"),
    )
    read.close()
    return stand_in
