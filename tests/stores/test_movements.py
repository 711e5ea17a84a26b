"""Writing kit down and booking what came and went."""

from __future__ import annotations

from uuid import uuid4

import pytest

from league.clubs.models import LogEntry
from league.clubs.services.submissions import SubmissionReused
from league.errors import NotYoursToDo
from league.stores.models import Holding, Movement
from league.stores.services.holdings import (
    HoldingFacts,
    HoldingRefused,
    add_holding,
    bring_back_holding,
    change_holding,
    retire_holding,
)
from league.stores.services.kinds import retire_kind
from league.stores.services.movements import MovementRefused, book_movement
from tests import factories

pytestmark = pytest.mark.django_db


def book(holding, act, count, by, **more):
    return book_movement(holding, act=act, count=count, submission=more.pop("submission", uuid4()), by=by, **more)


class TestWritingDown:
    def test_the_first_line_of_the_record_says_how_they_came(self, kind, member, balance):
        holding = add_holding(
            kind, owner=member, count=20, act="bought", facts=HoldingFacts(colour="red"), submission=uuid4(), by=member
        )
        line = holding.movements.get()
        assert (line.act, line.change, line.held_after, balance(holding)) == ("bought", 20, 20, (20, 0))

    def test_sent_twice_it_is_written_once(self, kind, member):
        name = uuid4()
        told = {"owner": member, "count": 5, "facts": HoldingFacts(), "submission": name, "by": member}
        assert add_holding(kind, **told) == add_holding(kind, **told)
        assert (Holding.objects.count(), Movement.objects.count()) == (1, 1)

    def test_another_holding_under_the_same_submission_is_refused(self, kind, member):
        told = {"owner": member, "facts": HoldingFacts(), "submission": uuid4(), "by": member}
        add_holding(kind, count=5, **told)
        with pytest.raises(SubmissionReused):
            add_holding(kind, count=6, **told)

    def test_nobody_writes_down_what_is_another_member_s(self, write_down, organiser, opponent):
        with pytest.raises(NotYoursToDo):
            write_down(opponent, 5, by=organiser)

    def test_the_quartermaster_writes_down_the_club_s_and_a_guest_s(self, write_down, quartermaster, guest):
        assert write_down(None, 5, by=quartermaster).owner is None
        assert write_down(guest, 5, by=quartermaster).owner == guest

    def test_a_plain_member_does_not_write_down_the_club_s(self, write_down, member):
        with pytest.raises(NotYoursToDo):
            write_down(None, 5, by=member)

    def test_everything_wrong_is_said_at_once(self, kind, quartermaster, other_club):
        strange = factories.VenueFactory(club=other_club)
        keeper = factories.MemberFactory(club=other_club)
        facts = HoldingFacts(
            venue=strange,
            keeper=keeper,
            colour="x" * 41,
            scale_mm=0,
            condition="odd",
            kept=-1,
            is_private=True,
            label="nolabel",
        )
        with pytest.raises(HoldingRefused) as refusal:
            add_holding(kind, owner=None, count=0, act="stolen", facts=facts, submission=uuid4(), by=quartermaster)
        assert set(refusal.value.by_field()) == {
            "count",
            "act",
            "venue",
            "keeper",
            "colour",
            "scale_mm",
            "condition",
            "kept",
            "is_private",
            "label",
        }

    def test_a_retired_kind_is_not_written_down(self, kind, member, quartermaster):
        retire_kind(kind, by=quartermaster)
        kind.refresh_from_db()
        with pytest.raises(HoldingRefused, match="no longer on the club's list"):
            add_holding(kind, owner=member, count=1, facts=HoldingFacts(), submission=uuid4(), by=member)

    def test_two_holdings_on_one_shelf_bear_one_label(self, write_down, member):
        first = write_down(member, 5, colour="red")
        second = write_down(member, 5, colour="white", label=first.label)
        assert second.label == first.label != write_down(member, 5).label

    def test_a_shelf_is_one_owner_s(self, write_down, member, opponent):
        with pytest.raises(HoldingRefused, match="no shelf of this owner"):
            write_down(opponent, 5, label=write_down(member, 5).label)

    def test_the_book_says_nothing_of_what_is_private(self, write_down, member):
        write_down(member, 5, is_private=True)
        assert not LogEntry.objects.filter(act="holding_added").exists()


class TestDescribingAnew:
    def test_it_changes_the_facts_and_not_the_number(self, red, member, balance):
        change_holding(red, facts=HoldingFacts(colour="scarlet", kept=3, place="Blue box"), by=member)
        red.refresh_from_db()
        assert (red.colour, red.kept, red.place, balance(red)) == ("scarlet", 3, "Blue box", (12, 0))

    def test_the_same_once_more_says_nothing(self, red, member):
        change_holding(red, facts=HoldingFacts(colour="red", kept=2), by=member)
        assert not LogEntry.objects.filter(act="holding_changed").exists()

    def test_it_is_for_the_owner_alone(self, red, organiser):
        with pytest.raises(NotYoursToDo):
            change_holding(red, facts=HoldingFacts(), by=organiser)

    def test_whoever_keeps_the_club_s_kit_at_home_describes_it(self, write_down, quartermaster, opponent):
        holding = write_down(None, 5, by=quartermaster, keeper=opponent)
        change_holding(holding, facts=HoldingFacts(keeper=opponent, place="Loft"), by=opponent)
        holding.refresh_from_db()
        assert holding.place == "Loft"


class TestPuttingAway:
    def test_twice_is_once_and_it_can_be_taken_out_again(self, red, member):
        retire_holding(red, by=member)
        assert retire_holding(red, by=member).retired_at is not None
        assert bring_back_holding(red, by=member).retired_at is None
        assert LogEntry.objects.filter(act="holding_retired").count() == 1

    def test_not_while_some_of_it_is_lent(self, red, lent, member):
        with pytest.raises(HoldingRefused, match="4 of it are lent"):
            retire_holding(red, by=member)


class TestBooking:
    @pytest.mark.parametrize(("act", "held"), [("received", 17), ("bought", 17), ("made", 17), ("lost", 7)])
    def test_pieces_come_and_go(self, red, member, balance, act, held):
        book(red, act, 5, member)
        assert balance(red) == (held, 0)

    @pytest.mark.parametrize("act", ["broken", "used_up", "given"])
    def test_each_way_to_go_is_known(self, red, member, balance, act):
        book(red, act, 12, member)
        assert balance(red) == (0, 0)

    def test_sent_twice_it_happens_once(self, red, member, balance):
        name = uuid4()
        first, second = (book(red, "lost", 5, member, submission=name) for _ in range(2))
        assert (first, balance(red)) == (second, (7, 0))

    def test_more_than_lies_there_cannot_go(self, red, lent, member, balance):
        with pytest.raises(MovementRefused, match="Only 8 lie there: 12 held, 4 lent"):
            book(red, "lost", 9, member)
        assert balance(red) == (12, 4)

    @pytest.mark.parametrize("count", [-3, 0, 100_001])
    def test_absurd_counts_are_refused(self, red, member, count):
        with pytest.raises(MovementRefused, match="Give a number from 1 to 100000"):
            book(red, "bought", count, member)

    def test_no_holding_grows_beyond_what_is_plausible(self, red, member):
        with pytest.raises(MovementRefused, match="at most 100000"):
            book(red, "bought", 99_999, member)

    def test_everything_wrong_is_said_at_once(self, red, member):
        with pytest.raises(MovementRefused) as refusal:
            book(red, "eaten", 0, member, reason="x" * 201)
        assert set(refusal.value.by_field()) == {"act", "count", "reason"}

    def test_an_act_on_loans_is_not_booked_here(self, red, member):
        with pytest.raises(MovementRefused, match="Say what happened"):
            book(red, "returned", 1, member)

    def test_it_is_for_the_owner_alone(self, red, organiser):
        with pytest.raises(NotYoursToDo):
            book(red, "lost", 1, organiser)
