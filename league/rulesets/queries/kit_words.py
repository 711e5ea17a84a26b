"""What a ruleset asks of the kit box, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from league.engines import rulesets as engine
from league.engines import sizes

__all__ = [
    "CATEGORIES",
    "IMPORTANCES",
    "MAKES",
    "PERS",
    "SHARINGS",
    "KitSheet",
    "NeedSheet",
    "how_many_in_words",
    "kit_sheet",
    "thing_in_words",
]

CATEGORIES = {
    "die": gettext_lazy("dice"),
    "token": gettext_lazy("tokens to draw"),
    "marker": gettext_lazy("markers"),
    "template": gettext_lazy("template"),
    "ruler": gettext_lazy("ruler, stick or tape"),
    "bag": gettext_lazy("draw bag"),
    "mat": gettext_lazy("mat"),
    "scenery": gettext_lazy("scenery"),
    "paper": gettext_lazy("paper"),
    "consumable": gettext_lazy("something that is used up"),
    "other": gettext_lazy("something else"),
}
PERS = {
    "table": gettext_lazy("once a table"),
    "side": gettext_lazy("for each side"),
    "unit": gettext_lazy("for each unit"),
    "figure": gettext_lazy("for each figure"),
    "gear": gettext_lazy("for each piece of the gear below"),
    "pool": gettext_lazy("dice that one unit throws at once, for each figure"),
    "markers": gettext_lazy("markers in use at once, for each unit"),
}
SHARINGS = {
    "own": gettext_lazy("each side has its own"),
    "apart": gettext_lazy("each its own, told apart by colour"),
    "shared": gettext_lazy("one lot that the sides use in turn"),
}
IMPORTANCES = {
    "needed": gettext_lazy("no game without it"),
    "wanted": gettext_lazy("missed if it is not there"),
    "pleasant": gettext_lazy("pleasant to have"),
}
MAKES = {
    "": gettext_lazy("it must be bought"),
    "print": gettext_lazy("it can be printed"),
    "make": gettext_lazy("it can be made by hand"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class NeedSheet:
    """A need as people read it; `limits` say when it is asked for at all."""

    name: str
    thing: str
    how_many: tuple[str, ...]
    limits: tuple[str, ...]
    importance: str
    stand_ins: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class KitSheet:
    figures: str
    needs: tuple[NeedSheet, ...]


def kit_sheet(rules: engine.Ruleset) -> KitSheet:
    return KitSheet(
        figures=figures_in_words(rules.kit), needs=tuple(need_sheet(each, rules) for each in rules.kit.needs)
    )


def figures_in_words(kit: engine.Kit) -> str:
    if kit.scale_mm is None:
        return ""
    words = _("Figures of %(scale)s mm.") % {"scale": kit.scale_mm}
    if not kit.scale_tolerance_mm:
        return words
    return _("%(words)s Scenery and markers made for figures up to %(off)s mm taller or smaller will do.") % {
        "words": words,
        "off": kit.scale_tolerance_mm,
    }


def need_sheet(need: engine.Need, rules: engine.Ruleset) -> NeedSheet:
    return NeedSheet(
        name=need.name,
        thing=thing_in_words(need.wanted),
        how_many=tuple(how_many_in_words(need)),
        limits=tuple(limits_in_words(need, rules)),
        importance=str(IMPORTANCES[need.importance]),
        stand_ins=tuple(stand_in_in_words(each) for each in rules.kit.stand_ins if each.need == need.key),
    )


def thing_in_words(wanted: engine.Wanted) -> str:
    """ "template, 3 in", "tokens to draw, activation"."""
    lengths = [length for length in (wanted.size_mm, wanted.depth_mm) if length is not None]
    parts = [str(CATEGORIES[wanted.category]), wanted.use.replace("_", " "), wanted.colour]
    if wanted.sides is not None:
        parts.append(_("%(sides)s sides") % {"sides": wanted.sides})
    if lengths:
        parts.append(f" {sizes.TIMES} ".join(sizes.lengths_as_text([length]) for length in lengths))
    if wanted.scale_mm is not None:
        parts.append(_("for figures of %(scale)s mm") % {"scale": wanted.scale_mm})
    return ", ".join(part for part in parts if part)


def how_many_in_words(need: engine.Need) -> Iterator[str]:
    is_once = need.per == "gear" and need.most == need.count == need.of == 1
    yield _("1, whatever their number") if is_once else ratio_in_words(need)
    for extra in need.extras:
        yield _("%(gear)s adds %(count)s") % {"gear": extra.gear, "count": extra.count}
    if need.most is not None and not is_once:
        yield ngettext("%(most)s is enough", "%(most)s are enough", need.most) % {"most": need.most}
    if need.spare:
        yield _("%(spare)s to spare") % {"spare": need.spare}
    if need.sharing != "own" and need.per != "table":
        yield str(SHARINGS[need.sharing])


def ratio_in_words(need: engine.Need) -> str:
    facts = {"count": need.count, "of": need.of, "what": counted_in_words(need)}
    if need.per == "table":
        return _("%(count)s for the table") % facts
    words = _("%(count)s for each %(what)s") if need.of == 1 else _("%(count)s for every %(of)s %(what)s")
    if need.per == "markers":
        return _("%(words)s, in use at once") % {"words": words % facts}
    if need.per == "pool":
        return _("%(words)s of the unit that throws most at once") % {"words": words % facts}
    return words % facts


def counted_in_words(need: engine.Need) -> str:
    if need.per == "side":
        return ngettext("side", "sides", need.of)
    if need.per == "gear":
        return ngettext("piece of gear", "pieces of gear", need.of)
    if need.per in {"figure", "pool"}:
        return ngettext("figure", "figures", need.of)
    return ngettext("unit", "units", need.of)


def limits_in_words(need: engine.Need, rules: engine.Ruleset) -> Iterator[str]:
    if need.gear:
        yield _("with %(gear)s") % {"gear": _(" or ").join(need.gear)}
    if need.classes:
        classes = [unit_class.name for unit_class in rules.unit_classes if unit_class.key in need.classes]
        yield _("only %(classes)s") % {"classes": ", ".join(classes)}
    if need.scenarios:
        scenarios = [scenario.name for scenario in rules.scenarios if scenario.key in need.scenarios]
        yield _("only in %(scenarios)s") % {"scenarios": ", ".join(scenarios)}


def stand_in_in_words(stand_in: engine.StandIn) -> str:
    words = stand_in.note or thing_in_words(stand_in.piece)
    if (stand_in.takes, stand_in.covers) != (1, 1):
        ratio = {"words": words, "takes": stand_in.takes, "covers": stand_in.covers}
        return _("%(words)s (%(takes)s for %(covers)s)") % ratio
    return words
