"""What the umpire of a campaign does, over the API."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.campaigns.endpoints.rows import OnWarApi, refusal_of
from league.campaigns.queries.corrections import corrections_of
from league.campaigns.queries.desk_page import desk_of
from league.campaigns.queries.difference_words import lines_of
from league.campaigns.queries.drawing_up import rosters_for
from league.campaigns.queries.simulations import preview_of
from league.campaigns.serializers import play as serializers
from league.campaigns.services.corrections import accept_replay, settle
from league.campaigns.services.fights import book_battle
from league.campaigns.services.outcomes import accept_simulation, concede_battle, postpone_battle, tell_outcome
from league.campaigns.services.reinforcing import reinforce
from league.campaigns.services.rolls import draw_rolls, enter_rolls
from league.campaigns.services.rulings import rule
from league.campaigns.services.turns import close_turn, reveal_orders, set_deadline
from league.clubs.endpoints.rows import body_of
from league.engines import war
from league.engines.documents.campaign import read_fact
from league.engines.documents.reading import BadDocument
from league.engines.war.simulate import CannotSimulate
from league.errors import Refused, Violation
from league.rosters.services.records import CasualtyLine

__all__ = [
    "BattleBook",
    "BattleConcede",
    "BattlePostpone",
    "BattleSimulation",
    "BattleTell",
    "Close",
    "CorrectionAccept",
    "CorrectionSettle",
    "Corrections",
    "Deadline",
    "Desk",
    "DrawRolls",
    "Reinforcements",
    "Reveal",
    "Rolls",
    "Rulings",
]

DONE = status.HTTP_204_NO_CONTENT
OBJECT = {(200, "application/json"): {"type": "object"}}


class Desk(OnWarApi, APIView):
    @extend_schema(summary="Read what a turn still waits for", responses=OBJECT)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Who has given orders, dice wanted, battles and how far each is. The umpire only."""
        self.require_umpire()
        desk = desk_of(self.seen, now=timezone.now())
        return Response(
            {
                "turn": desk.turn,
                "phase": desk.phase,
                "due_at": desk.deadline.due_at if desk.deadline else None,
                "factions": [{"faction": each.key, "has_ordered": each.has_ordered} for each in desk.factions],
                "rolls": [asdict(each) for each in desk.rolls],
                "battles": [
                    {
                        "battle": each.key,
                        "where": each.where,
                        "sides": each.sides,
                        "state": each.state,
                        "game": each.game.pk if each.game else None,
                        "obstacle": each.obstacle,
                        "is_open": each.is_open,
                    }
                    for each in desk.battles
                ],
                "corrections": [each.fact.pk for each in desk.corrections],
            }
        )


class UmpiresAct(OnWarApi, APIView):
    """One POST of the umpire's; 204 once it is done."""

    def done(self) -> Response:
        return Response(status=DONE)


class Deadline(UmpiresAct):
    @extend_schema(summary="Set when orders are due", request=serializers.DeadlineSerializer, responses={204: None})
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """The last word counts. The umpire only."""
        self.require_umpire()
        set_deadline(self.campaign, **body_of(serializers.DeadlineSerializer, request), by=self.member)
        return self.done()


class Reveal(UmpiresAct):
    @extend_schema(summary="Reveal a turn's orders", request=serializers.TurnSerializer, responses={204: None})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Whoever gave none holds. Twice is once. The umpire only."""
        self.require_umpire()
        reveal_orders(self.campaign, **body_of(serializers.TurnSerializer, request), by=self.member)
        return self.done()


class Close(UmpiresAct):
    @extend_schema(summary="Close a turn", request=serializers.TurnSerializer, responses={204: None})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Reports as they stand are written down and the aftermath follows. Twice is once. The umpire only."""
        self.require_umpire()
        close_turn(self.campaign, **body_of(serializers.TurnSerializer, request), by=self.member)
        return self.done()


class Rolls(UmpiresAct):
    @extend_schema(summary="Type in dice of the map", request=serializers.RollsSerializer, responses={204: None})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """As they showed on the table. The umpire only."""
        self.require_umpire()
        enter_rolls(self.campaign, **body_of(serializers.RollsSerializer, request), by=self.member)
        return self.done()


class DrawRolls(UmpiresAct):
    @extend_schema(summary="Draw the dice of the map", request=serializers.TurnSerializer, responses={204: None})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """From the turn's seed, whose SHA-256 was shown before the orders. The umpire only."""
        self.require_umpire()
        draw_rolls(self.campaign, **body_of(serializers.TurnSerializer, request), by=self.member)
        return self.done()


class BattleBook(UmpiresAct):
    @extend_schema(summary="Plan the game of a battle", request=serializers.BookSerializer, responses={204: None})
    def post(self, request: Any, *, battle: str, **_kwargs: Any) -> Response:
        """On a night, or on a day by arrangement. The umpire only."""
        self.require_umpire()
        facts = body_of(serializers.BookSerializer, request, club=self.club)
        night = facts["night"]
        on = night.on if night else facts["on"]
        if on is None:
            raise Refused(Violation("Name a night or a day.", "on", "missing"))
        book_battle(
            self.campaign, battle=battle, on=on, night=night, scenario=facts["scenario"] or None, by=self.member
        )
        return self.done()


class BattlePostpone(UmpiresAct):
    @extend_schema(summary="Put a battle off", request=serializers.ReasonSerializer, responses={204: None})
    def post(self, request: Any, *, battle: str, **_kwargs: Any) -> Response:
        """Or take back what was told of it without a game. The umpire only."""
        self.require_umpire()
        postpone_battle(self.campaign, battle=battle, **body_of(serializers.ReasonSerializer, request), by=self.member)
        return self.done()


class BattleConcede(UmpiresAct):
    @extend_schema(summary="Book a battle as conceded", request=serializers.ConcedeSerializer, responses={204: None})
    def post(self, request: Any, *, battle: str, **_kwargs: Any) -> Response:
        """Nobody falls. The umpire only."""
        self.require_umpire()
        concede_battle(self.campaign, battle=battle, **body_of(serializers.ConcedeSerializer, request), by=self.member)
        return self.done()


class BattleTell(UmpiresAct):
    @extend_schema(summary="Tell a battle without a game", request=serializers.TellSerializer, responses={204: None})
    def post(self, request: Any, *, battle: str, **_kwargs: Any) -> Response:
        """Who won and who fell. The umpire only."""
        self.require_umpire()
        facts = body_of(serializers.TellSerializer, request)
        losses: dict[str, list[CasualtyLine]] = {}
        for each in facts.pop("losses"):
            line = CasualtyLine(unit_id=each["unit"], figures_lost=each["figures"])
            losses.setdefault(each["force"], []).append(line)
        tell_outcome(self.campaign, battle=battle, losses=losses, **facts, by=self.member)
        return self.done()


class BattleSimulation(OnWarApi, APIView):
    """What a battle nobody could play would come to, and accepting it."""

    @extend_schema(summary="Reckon a battle nobody could play", responses=OBJECT)
    def get(self, request: Any, *, battle: str, **_kwargs: Any) -> Response:
        """Chances, expected losses and their spread, before anyone accepts them. The umpire only."""
        self.require_umpire()
        try:
            preview = preview_of(self.seen.war, battle)
        except CannotSimulate as failure:
            raise Http404 from failure
        return Response({"seen": preview.digest, **asdict(preview.foretold)})

    @extend_schema(summary="Accept a reckoned battle", request=serializers.AcceptSerializer, responses={204: None})
    def post(self, request: Any, *, battle: str, **_kwargs: Any) -> Response:
        """The outcome is drawn from the turn's seed. The umpire only."""
        self.require_umpire()
        accept_simulation(
            self.campaign, battle=battle, **body_of(serializers.AcceptSerializer, request), by=self.member
        )
        return Response(status=DONE)


class Rulings(UmpiresAct):
    @extend_schema(summary="Give a ruling", request=serializers.RulingSerializer, responses={204: None})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """A reason, and what it changes, all together. The umpire only."""
        self.require_umpire()
        facts = body_of(serializers.RulingSerializer, request)
        rule(self.campaign, **{**facts, "effects": effects_of(facts["effects"])}, by=self.member)
        return self.done()


class Reinforcements(UmpiresAct):
    @extend_schema(
        summary="Let a roster enter a war under way", request=serializers.ReinforcementSerializer, responses={204: None}
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """While orders are being given; with the scars of its battles so far. The umpire only."""
        self.require_umpire()
        facts = body_of(serializers.ReinforcementSerializer, request, rosters=rosters_for(self.campaign))
        reinforce(self.campaign, **facts, by=self.member)
        return self.done()


class Corrections(OnWarApi, APIView):
    @extend_schema(summary="List what reports say otherwise by now", responses=OBJECT)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Each with what it would change since, and the digest to accept it by. The umpire only."""
        self.require_umpire()
        return Response(
            {
                "corrections": [
                    {
                        "fact": each.fact.pk,
                        "turn": each.booked.turn,
                        "report": each.report.pk if each.report else None,
                        "seen": each.digest,
                        "differences": [asdict(line) for line in lines_of(self.seen, each.differences)],
                    }
                    for each in corrections_of(self.seen.war)
                ]
            }
        )


class CorrectionAccept(UmpiresAct):
    @extend_schema(summary="Reckon the war anew", request=serializers.AcceptSerializer, responses={204: None})
    def post(self, request: Any, *, fact: int, **_kwargs: Any) -> Response:
        """From the turn of the corrected report on. The umpire only."""
        self.require_umpire()
        accept_replay(self.campaign, outcome=fact, **body_of(serializers.AcceptSerializer, request), by=self.member)
        return self.done()


class CorrectionSettle(UmpiresAct):
    @extend_schema(
        summary="Settle instead of reckoning anew", request=serializers.SettlementSerializer, responses={204: None}
    )
    def post(self, request: Any, *, fact: int, **_kwargs: Any) -> Response:
        """The war stands as it is, and today is changed instead. The umpire only."""
        self.require_umpire()
        facts = body_of(serializers.SettlementSerializer, request)
        facts.pop("turn")
        settle(self.campaign, outcome=fact, **{**facts, "effects": effects_of(facts["effects"])}, by=self.member)
        return self.done()


def effects_of(data: list[Any]) -> tuple[war.Effect, ...]:
    """Changes as a campaign document has them; refused with every fault of theirs."""
    whole = {"kind": "ruling", "id": 1, "sequence": 1, "turn": 1, "reason": "-", "effects": data}
    try:
        ruling = read_fact(whole)
    except BadDocument as failure:
        raise refusal_of(failure, "") from failure
    return ruling.effects if isinstance(ruling, war.Ruling) else ()
