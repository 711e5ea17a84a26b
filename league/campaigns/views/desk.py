"""The umpire's desk: one page for the turn, and a form or a button for each thing to be done."""

from __future__ import annotations

import secrets
from functools import cached_property
from typing import Any

from django.forms import Form
from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.campaigns.forms.desk import (
    AcceptForm,
    BookForm,
    ConcedeForm,
    DeadlineForm,
    ReasonForm,
    ReinforceForm,
    RollForm,
    RulingForm,
    TellForm,
)
from league.campaigns.models import Fact
from league.campaigns.queries.corrections import Correction, correction_of
from league.campaigns.queries.desk_page import battle_choices, desk_of, outlook_of, unit_choices
from league.campaigns.queries.difference_words import lines_of
from league.campaigns.queries.drawing_up import rosters_for
from league.campaigns.queries.simulations import preview_of
from league.campaigns.services.corrections import accept_replay, settle
from league.campaigns.services.fights import book_battle
from league.campaigns.services.outcomes import accept_simulation, concede_battle, postpone_battle, tell_outcome
from league.campaigns.services.reinforcing import reinforce
from league.campaigns.services.rolls import draw_rolls, enter_rolls
from league.campaigns.services.rulings import rule
from league.campaigns.services.turns import close_turn, end_campaign, reveal_orders, set_deadline
from league.campaigns.views.rows import CampaignAct, CampaignForm, OnWar
from league.clubs.queries.nights import upcoming
from league.engines import war
from league.engines.war.differences import still_different
from league.engines.war.simulate import CannotSimulate

__all__ = [
    "BattleBook",
    "BattleConcede",
    "BattlePostpone",
    "BattleSimulate",
    "BattleTell",
    "CorrectionPage",
    "CorrectionSettle",
    "DeadlineSet",
    "DeskPage",
    "DiceDraw",
    "DiceEnter",
    "ForceRaise",
    "OrdersReveal",
    "OutlookPage",
    "RulingNew",
    "TurnClose",
    "WarEnd",
]


class OnDesk(OnWar):
    """For the umpire of a campaign, who leads nobody in it."""

    def allows(self) -> bool:
        return self.judges

    def get_success_url(self) -> str:
        return self.path_to("campaign-desk")


class DeskPage(OnDesk, TemplateView):
    template_name = "campaigns/desk.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        desk = desk_of(self.seen, now=timezone.now())
        return super().get_context_data(desk=desk, title=_now("Umpire's desk"), **context)


class DeskForm(OnDesk, CampaignForm):
    @property
    def turn(self) -> int:
        return self.seen.war.turn


class DeskAct(OnDesk, CampaignAct):
    @property
    def turn(self) -> int:
        return self.seen.war.turn


class DeadlineSet(DeskForm):
    form_class = DeadlineForm
    title = _("When are the orders due?")
    done_message = _("The deadline is set.")

    def serve(self, form: Any) -> Any:
        return set_deadline(self.campaign, turn=self.turn, due_at=form.cleaned_data["due_at"], by=self.member)


class OrdersReveal(DeskForm):
    form_class = Form
    template_name = "confirm.html"
    title = _("Reveal the orders?")
    button = _("Reveal them")
    done_message = _("The orders are revealed, and games are planned where forces met.")
    extra_context = {"question": _("Whoever has given no orders holds where they are.")}

    def serve(self, form: Any) -> Any:
        return reveal_orders(self.campaign, turn=self.turn, by=self.member)


class TurnClose(DeskForm):
    form_class = Form
    template_name = "confirm.html"
    button = _("Close the turn")
    done_message = _("The turn is closed.")

    def serve(self, form: Any) -> Any:
        return close_turn(self.campaign, turn=self.turn, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        untold = desk_of(self.seen, now=timezone.now()).untold
        question = _now("What the reports say now is written down; the beaten fall back, regions change hands.")
        if untold:
            question += " " + _now("Battles nobody has told of go on in the next turn.")
        title = _now("Close turn %(turn)s?") % {"turn": self.turn}
        return super().get_context_data(title=title, question=question, **context)


class WarEnd(DeskForm):
    form_class = ReasonForm
    title = _("End the war before its time?")
    button = _("End the war")
    done_message = _("The war is over.")

    def serve(self, form: Any) -> Any:
        return end_campaign(self.campaign, reason=form.cleaned_data["reason"], by=self.member)


class DiceDraw(DeskAct):
    done_message = _("The dice are drawn from the turn's seed.")

    def act(self) -> list[Fact]:
        return draw_rolls(self.campaign, turn=self.turn, by=self.member)


class DiceEnter(DeskForm):
    """The dice wanted at a place in the list, thrown on a table."""

    form_class = RollForm
    done_message = _("The dice are written down.")

    @cached_property
    def wanted(self) -> war.RollNeeded:
        wanted = self.seen.war.now.rolls_needed
        if self.kwargs["place"] >= len(wanted):
            raise Http404
        return wanted[self.kwargs["place"]]

    def serve(self, form: Any) -> Fact:
        return enter_rolls(
            self.campaign,
            turn=self.turn,
            label=self.wanted.label,
            results=form.cleaned_data["results"],
            by=self.member,
        )

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        title = _now("%(count)s dice of %(sides)s sides") % {"count": self.wanted.count, "sides": self.wanted.sides}
        return super().get_context_data(title=title, intro=self.wanted.label, **context)


class OnBattle(DeskForm):
    @cached_property
    def battle(self) -> war.Battle:
        found = self.seen.war.now.battle(self.kwargs["battle"])
        if found is None:
            raise Http404
        return found

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        where = self.seen.regions.get(self.battle.region, self.battle.region)
        intro = _now("The battle at %(where)s") % {"where": where}
        return super().get_context_data(**{"intro": intro, **context})


class BattleBook(OnBattle):
    form_class = BookForm
    title = _("Plan the game")
    button = _("Plan it")
    done_message = _("The game is planned.")

    def get_form_kwargs(self) -> dict[str, Any]:
        nights = upcoming(self.club, timezone.localdate()).filter(cancelled_at=None)[:8]
        sides = sum(len(side.forces) for side in self.battle.sides)
        scenarios = [each for each in self.seen.war.began.ruleset.scenarios if len(each.sides) == sides]
        return {**super().get_form_kwargs(), "nights": nights, "scenarios": scenarios}

    def serve(self, form: Any) -> Any:
        told = form.cleaned_data
        return book_battle(
            self.campaign,
            battle=self.battle.id,
            on=told["on"],
            night=told["night"],
            scenario=told["scenario"] or None,
            by=self.member,
        )


class BattlePostpone(OnBattle):
    form_class = ReasonForm
    title = _("Put the battle off")
    button = _("Put it off")
    done_message = _("The battle waits for the next turn.")

    def serve(self, form: Any) -> Fact:
        return postpone_battle(self.campaign, battle=self.battle.id, reason=form.cleaned_data["reason"], by=self.member)


class BattleConcede(OnBattle):
    form_class = ConcedeForm
    title = _("Left without a fight")
    button = _("Book it")
    done_message = _("Nobody fell; the others will fall back.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "winners": battle_choices(self.seen, self.battle)}

    def serve(self, form: Any) -> Fact:
        told = form.cleaned_data
        return concede_battle(
            self.campaign, battle=self.battle.id, winner=told["winner"], reason=told["reason"], by=self.member
        )


class BattleTell(OnBattle):
    form_class = TellForm
    title = _("Tell how it ended")
    button = _("Book it")
    done_message = _("The battle is told.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {
            **super().get_form_kwargs(),
            "winners": battle_choices(self.seen, self.battle),
            "units": unit_choices(self.seen, self.battle),
        }

    def serve(self, form: Any) -> Fact:
        told = form.cleaned_data
        return tell_outcome(
            self.campaign,
            battle=self.battle.id,
            winner=told["winner"],
            losses=form.losses(),
            reason=told["reason"],
            by=self.member,
        )


class BattleSimulate(OnBattle):
    """What the battle would come to is shown first; accepting names what was shown."""

    form_class = AcceptForm
    template_name = "campaigns/desk_simulate.html"
    title = _("A battle nobody could play")
    button = _("Accept, and draw the outcome")
    done_message = _("The outcome is drawn from the turn's seed.")

    @cached_property
    def preview(self) -> Any:
        try:
            return preview_of(self.seen.war, self.battle.id)
        except CannotSimulate as failure:
            raise Http404 from failure

    def get_initial(self) -> dict[str, Any]:
        return {"seen": self.preview.digest}

    def serve(self, form: Any) -> Fact:
        return accept_simulation(self.campaign, battle=self.battle.id, seen=form.cleaned_data["seen"], by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        sides = [
            (
                ", ".join(self.seen.factions[key] for key in each.side.factions),
                ", ".join(self.seen.war.now.forces[key].name for key in each.side.forces),
                each,
            )
            for each in self.preview.foretold.sides
        ]
        return super().get_context_data(sides=sides, laws=self.preview.foretold.laws, **context)


class RulingNew(DeskForm):
    form_class = RulingForm
    template_name = "campaigns/desk_ruling.html"
    title = _("Give a ruling")
    button = _("So be it")
    done_message = _("The ruling stands in the chronicle.")

    def get_form_kwargs(self) -> dict[str, Any]:
        now = self.seen.war.now
        return {
            **super().get_form_kwargs(),
            "regions": [(each.key, each.name) for each in now.map.regions],
            "factions": list(self.seen.factions.items()),
            "forces": [(key, each.name) for key, each in now.forces.items() if each.gone != "destroyed"],
        }

    def serve(self, form: Any) -> Fact:
        told = form.cleaned_data
        return rule(
            self.campaign,
            turn=self.turn,
            reason=told["reason"],
            effects=form.effects(),
            submission=told["submission"],
            by=self.member,
        )


class ForceRaise(DeskForm):
    form_class = ReinforceForm
    title = _("A force enters the war")
    button = _("Let it enter")
    done_message = _("It is in the war and can be given orders.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {
            **super().get_form_kwargs(),
            "rosters": rosters_for(self.campaign),
            "regions": [(each.key, each.name) for each in self.seen.war.now.map.regions],
            "factions": list(self.seen.factions.items()),
        }

    def serve(self, form: Any) -> Fact:
        return reinforce(self.campaign, turn=self.turn, **form.cleaned_data, by=self.member)


class OnCorrection(DeskForm):
    @cached_property
    def correction(self) -> Correction:
        found = correction_of(self.seen.war, self.kwargs["fact"])
        if found is None:
            raise Http404
        return found

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        found = self.correction
        return super().get_context_data(
            correction=found,
            today=lines_of(self.seen, still_different(found.differences)),
            lines=lines_of(self.seen, found.differences),
            **context,
        )


class CorrectionPage(OnCorrection):
    """What a corrected report would change since, before anybody accepts it."""

    form_class = AcceptForm
    template_name = "campaigns/desk_correction.html"
    title = _("A report was corrected")
    button = _("Reckon the war anew")
    done_message = _("The war is reckoned anew.")

    def get_initial(self) -> dict[str, Any]:
        return {"seen": self.correction.digest}

    def serve(self, form: Any) -> Fact:
        return accept_replay(
            self.campaign, outcome=self.correction.fact.pk, seen=form.cleaned_data["seen"], by=self.member
        )


class CorrectionSettle(RulingNew):
    """Let the war stand and change today instead."""

    title = _("Settle it instead")
    button = _("Book the settlement")
    done_message = _("The settlement is booked; the war stands as it was.")

    @cached_property
    def correction(self) -> Correction:
        found = correction_of(self.seen.war, self.kwargs["fact"])
        if found is None:
            raise Http404
        return found

    def serve(self, form: Any) -> Fact:
        told = form.cleaned_data
        return settle(
            self.campaign,
            outcome=self.correction.fact.pk,
            seen=self.correction.digest,
            reason=told["reason"],
            effects=form.effects(),
            submission=told["submission"],
            by=self.member,
        )


class OutlookPage(OnDesk, TemplateView):
    """How the war may end, played on by chance, and who is being driven off."""

    template_name = "campaigns/desk_outlook.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        found = outlook_of(self.seen.war, seed=secrets.randbelow(2**32))
        odds = [(self.seen.factions[each.faction], each) for each in found.odds] if found else []
        handicaps = [(self.seen.factions[each.faction], each.points) for each in found.handicaps] if found else []
        driven = [self.seen.factions[key] for key in found.driven_off] if found else []
        return super().get_context_data(
            found=found, odds=odds, handicaps=handicaps, driven=driven, title=_now("How the war may end"), **context
        )
