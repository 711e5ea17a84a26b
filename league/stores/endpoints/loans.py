"""Loans over the API: asking, lending, handing over, taking back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import body_of
from league.stores import permissions
from league.stores.endpoints.rows import HoldingRows, LoanRows, code_for
from league.stores.filters import LoanFilter
from league.stores.models import Holding, Loan, Movement
from league.stores.serializers import loans as serializers
from league.stores.serializers.holdings import MovementSerializer
from league.stores.services.loans import (
    agree_loan,
    ask_for,
    book_lost,
    hand_over,
    lend,
    refuse_loan,
    take_back,
    withdraw_loan,
)
from league.stores.services.reminders import remind_loan

__all__ = ["Lendings", "Loans"]


@extend_schema_view(list=extend_schema(summary="List the loans"), retrieve=extend_schema(summary="Read a loan"))
class Loans(mixins.ListModelMixin, mixins.RetrieveModelMixin, LoanRows):
    """Of kit one may see, and one's own."""

    queryset = Loan.objects.none()
    serializer_class = serializers.LoanSerializer
    filterset_class = LoanFilter

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(serializers.LoanSerializer(self.row(pk)).data, status=code)

    def stepped(self, step: Callable[..., Any], pk: int, **facts: Any) -> Response:
        step(self.row(pk), **facts, by=self.member)
        return self.shown(pk)

    @extend_schema(
        summary="Ask to borrow",
        request=serializers.AskSerializer,
        responses={201: serializers.LoanSerializer, 200: serializers.LoanSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """More than is spare until the day it is due is not asked for."""
        data = body_of(serializers.AskSerializer, request, club=self.club, user=request.user)
        code = code_for(Loan, data["submission"])
        return self.shown(ask_for(data.pop("holding"), **data, by=self.member).pk, code)

    @extend_schema(summary="Agree to lend", request=None, responses=serializers.LoanSerializer)
    def agree(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """The pieces are set aside from now on. For whoever keeps the holding."""
        return self.stepped(agree_loan, pk)

    @extend_schema(summary="Hand a loan over", request=None, responses=serializers.LoanSerializer)
    def hand_over(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """The borrower has the pieces in hand. For whoever keeps the holding."""
        return self.stepped(hand_over, pk)

    @extend_schema(
        summary="Say no to a loan", request=serializers.WhyNotSerializer, responses=serializers.LoanSerializer
    )
    def refuse(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """For whoever keeps the holding."""
        return self.stepped(refuse_loan, pk, **body_of(serializers.WhyNotSerializer, request))

    @extend_schema(
        summary="Call a loan off", request=serializers.WhyNotSerializer, responses=serializers.LoanSerializer
    )
    def withdraw(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """As long as it was not handed over; for who asked and whoever keeps the holding."""
        return self.stepped(withdraw_loan, pk, **body_of(serializers.WhyNotSerializer, request))

    @extend_schema(summary="Remind of an overdue loan", request=None, responses=serializers.LoanSerializer)
    def remind(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """By mail, once a day at most. For whoever keeps the holding."""
        return self.stepped(remind_loan, pk)

    @extend_schema(
        summary="Take a loan back, whole or in part",
        request=serializers.BackSerializer,
        responses={201: MovementSerializer, 200: MovementSerializer},
    )
    def back(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """More than is out does not come back. For whoever keeps the holding."""
        return self.settled(take_back, pk, serializers.BackSerializer)

    @extend_schema(
        summary="Book lent pieces as lost",
        request=serializers.LostSerializer,
        responses={201: MovementSerializer, 200: MovementSerializer},
    )
    def lost(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """Lost, broken, used up, or given to the borrower. For whoever keeps the holding."""
        return self.settled(book_lost, pk, serializers.LostSerializer)

    def settled(self, settle: Callable[..., Movement], pk: int, shape: type[serializers.BackSerializer]) -> Response:
        loan = self.row(pk)
        self.require(permissions.can_decide_loan(self.member, loan))
        data = body_of(shape, self.request)
        code = code_for(Movement, data["submission"])
        return Response(MovementSerializer(settle(loan, **data, by=self.member)).data, status=code)


class Lendings(HoldingRows):
    queryset = Holding.objects.none()
    serializer_class = serializers.LoanSerializer

    @extend_schema(
        summary="Lend without having been asked here",
        request=serializers.LendSerializer,
        responses={201: serializers.LoanSerializer, 200: serializers.LoanSerializer},
    )
    def create(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """Agreed and, unless `is_handed_over` is false, handed over at once. For whoever keeps the holding."""
        holding = self.row(pk)
        self.require(permissions.can_keep_holding(self.member, holding))
        data = body_of(serializers.LendSerializer, request, club=self.club)
        code = code_for(Loan, data["submission"])
        made = lend(holding, **data, by=self.member)
        loans = Loan.objects.with_state().select_related("holding__kind", "borrower")
        return Response(serializers.LoanSerializer(loans.get(pk=made.pk)).data, status=code)
