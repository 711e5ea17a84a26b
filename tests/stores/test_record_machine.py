"""Any order of acts on the kit: nothing appears, nothing vanishes, nothing is lent twice, and a refusal changes nothing.

Beside the services a small book is kept here by the rules as people know them; after every act both must agree.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import transaction
from django.db.models import Sum
from django.utils import timezone
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from league.errors import Refused
from league.management.recount import stores as recount
from league.stores.models import Holding, Loan, Movement
from league.stores.queries.balances import Window, with_spare
from league.stores.services.counts import count_shelf
from league.stores.services.holdings import HoldingFacts, add_holding
from league.stores.services.kinds import KindFacts, add_kind
from league.stores.services.loans import (
    agree_loan,
    ask_for,
    book_lost,
    hand_over,
    refuse_loan,
    take_back,
    withdraw_loan,
)
from league.stores.services.movements import book_movement
from league.stores.services.promises import promise_to_bring, withdraw_promise
from tests import factories

FEW = st.integers(0, 8)
WHICH = st.integers(0, 30)
GAINS, LOSSES = ("received", "bought", "made"), ("lost", "broken", "used_up", "given")


@dataclass
class Lent:
    """A loan as the book has it."""

    row: Loan
    shelf: int
    count: int
    state: str = "asked"
    out: int = 0

    @property
    def is_aside(self) -> bool:
        return self.state == "agreed"


@dataclass
class Shelf:
    """A holding as the book has it: `promised` by promise."""

    row: Holding
    kept: int
    held: int
    promised: dict[int, int] = field(default_factory=dict)


class Record(RuleBasedStateMachine):
    """One member's markers and the club's mats; an owner, a quartermaster, and somebody who borrows of both."""

    @initialize()
    def begin(self):
        self.block = transaction.atomic()
        self.block.__enter__()
        self.club = factories.ClubFactory()
        people = [factories.MemberFactory(club=self.club, name=name) for name in ("Brannoc", "Ceriden")]
        self.owner, self.borrower = people
        self.keeper = factories.MemberFactory(club=self.club, name="Quenna", is_quartermaster=True)
        self.today = timezone.localdate()
        self.night = factories.NightFactory(club=self.club, on=self.today + timedelta(days=3))
        kind = add_kind(self.club, facts=KindFacts(name="Marker", category="marker"), submission=uuid4(), by=self.owner)
        self.shelves = [
            Shelf(row=self.new(kind, self.owner, 6, kept=1, by=self.owner), kept=1, held=6),
            Shelf(row=self.new(kind, None, 4, kept=0, by=self.keeper), kept=0, held=4),
        ]
        self.lent: list[Lent] = []
        self.last: Callable[[], object] | None = None

    def teardown(self):
        if hasattr(self, "block"):
            transaction.set_rollback(True)
            self.block.__exit__(None, None, None)

    def new(self, kind, owner, count, *, kept, by) -> Holding:
        facts = HoldingFacts(kept=kept)
        return add_holding(kind, owner=owner, count=count, facts=facts, submission=uuid4(), by=by)

    # --- what the book says ---------------------------------------------------------------

    def out(self, at: int) -> int:
        return sum(loan.out for loan in self.lent if loan.shelf == at)

    def aside(self, at: int) -> int:
        return sum(loan.out for loan in self.lent if loan.shelf == at and loan.is_aside)

    def spare(self, at: int) -> int:
        shelf = self.shelves[at]
        return max(0, shelf.held - shelf.kept - self.out(at) - sum(shelf.promised.values()))

    def keeper_of(self, at: int):
        return self.owner if at == 0 else self.keeper

    def tried(self, do: Callable[..., object], /, *, allowed: bool, **told) -> object | None:
        """Do it, with a name of its own; the services refuse exactly what the book does not allow."""
        submission = uuid4()

        def done() -> object:
            return do(submission=submission, **told)

        try:
            with transaction.atomic():
                made = done()
        except Refused:
            assert not allowed
            return None
        assert allowed
        self.last = done
        return made

    # --- acts -----------------------------------------------------------------------------

    @rule(at=st.integers(0, 1), act=st.sampled_from(GAINS), count=FEW)
    def pieces_come(self, at, act, count):
        shelf = self.shelves[at]
        told = {"holding": shelf.row, "act": act, "count": count, "by": self.keeper_of(at)}
        if self.tried(book_movement, allowed=count > 0, **told):
            shelf.held += count

    @rule(at=st.integers(0, 1), act=st.sampled_from(LOSSES), count=FEW)
    def pieces_go(self, at, act, count):
        shelf = self.shelves[at]
        told = {"holding": shelf.row, "act": act, "count": count, "by": self.keeper_of(at)}
        if self.tried(book_movement, allowed=0 < count <= shelf.held - self.out(at), **told):
            shelf.held -= count

    @rule(at=st.integers(0, 1), count=FEW, why=st.sampled_from(("", "Counted again")))
    def somebody_counts(self, at, count, why):
        shelf = self.shelves[at]
        there = shelf.held - self.out(at) + self.aside(at)
        allowed = count >= self.aside(at) and (count == there or bool(why))
        told = {"label": shelf.row.label, "counted": {shelf.row.pk: count}, "reason": why, "by": self.keeper_of(at)}
        if self.tried(count_shelf, allowed=allowed, club=self.club, **told):
            shelf.held += count - there

    @rule(at=st.integers(0, 1), count=FEW)
    def somebody_asks(self, at, count):
        told = {"count": count, "due_on": self.today + timedelta(days=9), "by": self.borrower}
        if row := self.tried(ask_for, allowed=0 < count <= self.spare(at), holding=self.shelves[at].row, **told):
            self.lent.append(Lent(row=row, shelf=at, count=count))

    def step(self, act: Callable[..., object], loan: Lent, *, allowed: bool, by) -> bool:
        try:
            with transaction.atomic():
                act(loan.row, by=by)
        except Refused:
            assert not allowed
            return False
        assert allowed
        return True

    @precondition(lambda self: self.lent)
    @rule(which=WHICH)
    def the_owner_agrees(self, which):
        loan = self.lent[which % len(self.lent)]
        free = loan.state == "asked" and loan.count <= self.spare(loan.shelf)
        again = loan.state in ("agreed", "out")
        if self.step(agree_loan, loan, allowed=free or again, by=self.keeper_of(loan.shelf)) and free:
            loan.state, loan.out = "agreed", loan.count

    @precondition(lambda self: self.lent)
    @rule(which=WHICH)
    def it_is_handed_over(self, which):
        loan = self.lent[which % len(self.lent)]
        allowed = loan.state in ("agreed", "out")
        if self.step(hand_over, loan, allowed=allowed, by=self.keeper_of(loan.shelf)):
            loan.state = "out"

    @precondition(lambda self: self.lent)
    @rule(which=WHICH)
    def the_owner_says_no(self, which):
        loan = self.lent[which % len(self.lent)]
        if self.step(refuse_loan, loan, allowed=loan.state in ("asked", "refused"), by=self.keeper_of(loan.shelf)):
            loan.state = "refused"

    @precondition(lambda self: self.lent)
    @rule(which=WHICH)
    def who_asked_calls_it_off(self, which):
        loan = self.lent[which % len(self.lent)]
        if self.step(withdraw_loan, loan, allowed=loan.state in ("asked", "agreed", "withdrawn"), by=self.borrower):
            loan.state, loan.out = "withdrawn", 0

    @precondition(lambda self: self.lent)
    @rule(which=WHICH, count=FEW)
    def some_come_back(self, which, count):
        loan = self.lent[which % len(self.lent)]
        allowed = loan.state == "out" and 0 < count <= loan.out
        told = {"loan": loan.row, "count": count, "by": self.keeper_of(loan.shelf)}
        if self.tried(take_back, allowed=allowed, **told):
            loan.out -= count

    @precondition(lambda self: self.lent)
    @rule(which=WHICH, count=FEW, act=st.sampled_from(LOSSES))
    def some_will_not_come_back(self, which, count, act):
        loan = self.lent[which % len(self.lent)]
        allowed = loan.state == "out" and 0 < count <= loan.out
        told = {"loan": loan.row, "count": count, "act": act, "by": self.keeper_of(loan.shelf)}
        if self.tried(book_lost, allowed=allowed, **told):
            loan.out -= count
            self.shelves[loan.shelf].held -= count

    @rule(at=st.integers(0, 1), count=FEW)
    def pieces_are_promised(self, at, count):
        """Another number takes the place of what was promised before."""
        shelf = self.shelves[at]
        before = sum(shelf.promised.values())
        free = max(0, shelf.held - shelf.kept - self.out(at))
        told = {"holding": shelf.row, "night": self.night, "count": count, "by": self.keeper_of(at)}
        if row := self.tried(promise_to_bring, allowed=0 < count <= free or count == before > 0, **told):
            shelf.promised = {row.pk: count}
            self.promise = row

    @precondition(lambda self: any(shelf.promised for shelf in self.shelves))
    @rule()
    def a_promise_is_taken_back(self):
        for shelf in self.shelves:
            if self.promise.pk in shelf.promised:
                withdraw_promise(self.promise, by=self.keeper)
                shelf.promised = {}

    @precondition(lambda self: self.last is not None)
    @rule()
    def the_last_thing_arrives_once_more(self):
        """A phone sends again what it does not know to have arrived."""
        before = Movement.objects.count(), Loan.objects.count()
        try:
            with transaction.atomic():
                self.last()
        except Refused:
            pytest.fail("what was done is refused when it arrives again")
        assert (Movement.objects.count(), Loan.objects.count()) == before

    # --- what is always true ----------------------------------------------------------------

    @invariant()
    def record_and_book_agree(self):
        if not hasattr(self, "shelves"):
            return
        window = Window(today=self.today, since=self.today, until=self.today + timedelta(days=9))
        for at, shelf in enumerate(self.shelves):
            row = with_spare(Holding.objects.filter(pk=shelf.row.pk), window).get()
            assert (row.held, row.out, row.spare) == (shelf.held, self.out(at), self.spare(at))
            sums = Movement.objects.filter(holding=shelf.row).aggregate(held=Sum("change"), out=Sum("out_change"))
            assert (sums["held"], sums["out"]) == (shelf.held, self.out(at))
            assert 0 <= self.out(at) <= shelf.held
        for loan in self.lent:
            row = Loan.objects.with_state().get(pk=loan.row.pk)
            assert row.outstanding == loan.out <= loan.count

    @invariant()
    def everything_reckoned_again_agrees(self):
        assert [*recount.movements(), *recount.loans(), *recount.promises()] == []


def test_the_record_keeps_its_sums_whatever_happens_in_whatever_order(db):
    quick = settings(
        deadline=None,
        max_examples=30,
        stateful_step_count=25,
        suppress_health_check=list(HealthCheck),
        print_blob=False,
    )
    run_state_machine_as_test(Record, settings=quick)
