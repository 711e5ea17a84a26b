"""The rules of a war as a form in plain words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.functional import Promise
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.campaigns.forms.maps import VersionedForm
from league.campaigns.queries.drawing_words import KINDS
from league.engines import war

__all__ = ["RulesForm"]

LARGE = 1_000_000
HUNDRED = 100


def number(label: Any, *, most: int = LARGE, least: int = 0, needed: bool = True, help_text: Any = "") -> Any:
    return forms.IntegerField(label=label, min_value=least, max_value=most, required=needed, help_text=help_text)


def choice(label: Any, choices: list[tuple[str, Any]], help_text: Any = "") -> Any:
    return forms.ChoiceField(label=label, choices=choices, help_text=help_text)


def yes(label: Any) -> Any:
    return forms.BooleanField(label=label, required=False)


class RulesForm(VersionedForm):
    """Every rule by a field; what this form has no field for (the worth of classes in a simulated battle, prices by
    quality, scenarios of a meeting) stays as it is."""

    victory_last_turn = number(_("The war ends after turn"), least=1, needed=False, help_text=_("Empty: never so."))
    victory_points = number(_("The war ends at points"), least=1, needed=False, help_text=_("Empty: never so."))
    victory_strongholds = yes(_("The war ends when one side holds every stronghold"))
    victory_per_worth = number(_("Points a turn for each point of a region's worth"))
    victory_per_stronghold = number(_("Points a turn for each stronghold"))
    victory_per_battle = number(_("Points for a battle won"))
    victory_per_surrender = number(_("Points for an enemy force that gives up"))

    short_lost_percent = number(_("Of a hundred figures a force short of supply loses each turn"), most=HUNDRED)
    short_effect_percent = number(
        _("What a force short of supply is worth in a battle nobody could play, in a hundred"), most=1000
    )
    short_may_move = yes(_("A force short of supply may move"))
    short_may_rebuild = yes(_("A force short of supply may take in recruits"))
    cut_off_lost_percent = number(_("Of a hundred figures a force cut off loses each turn"), most=HUNDRED)
    cut_off_effect_percent = number(
        _("What a force cut off is worth in a battle nobody could play, in a hundred"), most=1000
    )
    cut_off_may_move = yes(_("A force cut off may move"))
    cut_off_may_rebuild = yes(_("A force cut off may take in recruits"))

    battle_use_percent = number(
        _("Supply a battle uses, in a hundred of a force's need"),
        most=10_000,
        help_text=_("On top of the need itself."),
    )
    captured_percent = number(
        _("Of a hundred loads in a region that is taken, the taker gets"), most=HUNDRED, help_text=_("The rest spoils.")
    )
    depot_price = number(_("Loads a new depot costs"))
    depot_holds = number(_("Loads a depot holds"), needed=False, help_text=_("Empty: any number."))
    source_holds = number(_("Loads a source keeps without a depot"), needed=False, help_text=_("Empty: any number."))
    depots_most = number(_("Depots a faction may have"), needed=False, help_text=_("Empty: any number."))

    rebuild_at = choice(
        _("Where recruits may join a force"),
        [
            ("anywhere", _("anywhere")),
            ("held", _("in a region its own side holds")),
            ("stocked", _("at a depot or a source of supply")),
        ],
    )
    price = forms.DecimalField(
        label=_("Loads one recruit costs"), min_value=0, max_value=LARGE, decimal_places=2, max_digits=9
    )

    retreat_most = number(
        _("How many roads far a beaten force may go"),
        most=1000,
        help_text=_("To a supplied region; if none is so near, it gives up."),
    )
    drawn = choice(
        _("After a battle nobody won"),
        [("attacker", _("the attacker leaves")), ("both", _("both stay and fight on next turn"))],
    )
    dug_in_percent = number(
        _("What a defender who is dug in is worth in a battle nobody could play, in a hundred"), most=10_000
    )

    fog_from_regions = number(_("How many roads far one sees from one's own regions"), most=1000)
    fog_from_forces = number(_("How many roads far one sees from one's own forces"), most=1000)
    fog_sight = choice(
        _("What is seen of a foreign force"),
        [
            ("presence", _("that it is there")),
            ("size", _("that it is there, and about how many")),
            ("units", _("its units as they stand")),
        ],
    )
    fog_control = choice(
        _("Who holds a region is known to"), [("all", _("all")), ("seen", _("those who see the region"))]
    )
    fog_battles = choice(
        _("That there was a battle, and who won, is known to"),
        [("all", _("all")), ("seen", _("those who saw it"))],
    )
    fog_spectators = choice(
        _("Spectators are shown"),
        [("nothing", _("nothing")), ("revealed", _("what is revealed to all")), ("everything", _("everything"))],
    )
    fog_late = number(_("How many turns later spectators are shown it"), most=1000)

    def __init__(self, *args: Any, began: war.Campaign, **options: Any) -> None:
        rules = began.rules
        super().__init__(*args, **{**options, "initial": {**shown(rules), **(options.get("initial") or {})}})
        self.began = began
        self.terrains = [*sorted({each.terrain for each in began.map.regions if each.terrain}), *KINDS]
        scenarios = [(each.key, each.name) for each in began.ruleset.scenarios]
        for at, terrain in enumerate(self.terrains):
            ground = rules.ground(terrain)
            self.fields[f"scenarios_{at}"] = forms.MultipleChoiceField(
                label=_now("Scenarios"),
                choices=scenarios,
                required=False,
                widget=forms.CheckboxSelectMultiple,
                initial=ground.scenarios,
            )
            self.fields[f"defence_{at}"] = forms.IntegerField(
                label=_now("Worth of a defender, in a hundred"),
                min_value=0,
                max_value=10_000,
                initial=ground.defence_percent,
            )
            self.fields[f"law_{at}"] = forms.ChoiceField(
                label=_now("In a battle nobody could play"),
                choices=[("square", _now("all can shoot at all")), ("linear", _now("they meet man to man"))],
                initial=ground.law,
            )
            self.fields[f"depot_{at}"] = forms.BooleanField(
                label=_now("A depot may be built here"), required=False, initial=ground.depot
            )
        for at, each in enumerate(began.ruleset.unit_classes):
            cost = rules.price_x100(each.key, "")
            own = any(price.unit_class == each.key and not price.quality for price in rules.prices)
            self.fields[f"price_{at}"] = forms.DecimalField(
                label=_now("Loads a recruit of the class %(class)s costs") % {"class": each.name},
                min_value=0,
                max_value=LARGE,
                decimal_places=2,
                max_digits=9,
                required=False,
                initial=Decimal(cost) / HUNDRED if own and cost is not None else None,
                help_text=_now("Empty: as all others."),
            )

    def parts(self) -> Iterator[tuple[str | Promise, list[Any]]]:
        """The fields under their headings, but for those of terrains."""
        for title, names in PARTS:
            yield title, [self[name] for name in names]
        prices = [self[f"price_{at}"] for at, _each in enumerate(self.began.ruleset.unit_classes)]
        yield _("Recruits"), [self["rebuild_at"], self["price"], *prices]

    def grounds(self) -> Iterator[tuple[str | Promise, list[Any]]]:
        """The fields of each terrain of the map and each kind of road, under its name."""
        for at, terrain in enumerate(self.terrains):
            names = ["scenarios", "defence", "law", *([] if terrain in KINDS else ["depot"])]
            title = KINDS.get(terrain, terrain)
            yield title, [self[f"{name}_{at}"] for name in names]

    def rules(self) -> war.Rules:
        told, old = self.cleaned_data, self.began.rules
        return replace(
            old,
            short=war.Hardship(**_under("short_", told)),
            cut_off=war.Hardship(**_under("cut_off_", told)),
            fog=replace(old.fog, **_under("fog_", told)),
            victory=replace(old.victory, **_under("victory_", told)),
            prices=self._prices(),
            grounds=self._grounds(),
            **{name: told[name] for name in PLAIN},
        )

    def _prices(self) -> tuple[war.Price, ...]:
        """Those of a quality as they were, then those of a class, then that of all."""
        told = self.cleaned_data
        kept = [each for each in self.began.rules.prices if each.quality]
        classes = [
            war.Price(unit_class=each.key, per_figure_x100=int(told[f"price_{at}"] * HUNDRED))
            for at, each in enumerate(self.began.ruleset.unit_classes)
            if told.get(f"price_{at}") is not None
        ]
        return (*kept, *classes, war.Price(per_figure_x100=int(told["price"] * HUNDRED)))

    def _grounds(self) -> tuple[war.Ground, ...]:
        told, old = self.cleaned_data, self.began.rules
        made = []
        for at, terrain in enumerate(self.terrains):
            ground = replace(
                old.ground(terrain),
                scenarios=tuple(told[f"scenarios_{at}"]),
                defence_percent=told[f"defence_{at}"],
                law=told[f"law_{at}"],
                depot=told[f"depot_{at}"] if terrain not in KINDS else True,
            )
            if ground != war.Ground(terrain=terrain):
                made.append(ground)
        elsewhere = [each for each in old.grounds if each.terrain not in self.terrains]
        return (*made, *elsewhere)


def shown(rules: war.Rules) -> dict[str, Any]:
    """The rules as the form's fields have them."""
    told: dict[str, Any] = {name: getattr(rules, name) for name in PLAIN}
    for part in ("short", "cut_off", "fog", "victory"):
        value = getattr(rules, part)
        told |= {f"{part}_{name}": getattr(value, name) for name in value.__slots__}
    cost = rules.price_x100("", "")
    return {**told, "price": Decimal(cost if cost is not None else HUNDRED) / HUNDRED}


def _under(prefix: str, told: Mapping[str, Any]) -> dict[str, Any]:
    return {name.removeprefix(prefix): value for name, value in told.items() if name.startswith(prefix)}


PLAIN = (
    "battle_use_percent",
    "captured_percent",
    "depot_price",
    "depot_holds",
    "source_holds",
    "depots_most",
    "rebuild_at",
    "retreat_most",
    "drawn",
    "dug_in_percent",
)
NAMES = list(RulesForm.base_fields)
PARTS: tuple[tuple[str | Promise, tuple[str, ...]], ...] = (
    (_("Victory"), tuple(name for name in NAMES if name.startswith("victory_"))),
    (_("Hardship"), tuple(name for name in NAMES if name.startswith(("short_", "cut_off_")))),
    (
        _("Supply"),
        ("battle_use_percent", "captured_percent", "depot_price", "depot_holds", "source_holds", "depots_most"),
    ),
    (_("Battles"), ("retreat_most", "drawn", "dug_in_percent")),
    (_("What is seen"), tuple(name for name in NAMES if name.startswith("fog_"))),
)
