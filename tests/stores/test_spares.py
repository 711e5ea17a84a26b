"""Who has spare red markers, free on the 12th?"""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest

from league.stores.queries import SpareAsk, find_spares
from league.stores.queries import spares as spares_module
from league.stores.services.holdings import retire_holding
from league.stores.services.kinds import KindFacts, add_kind
from league.stores.services.loans import lend
from league.stores.services.promises import promise_to_bring
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def search(club, opponent, today):
    """`search("red markers")` is [(holding, spare), …] as Ceriden finds them."""

    def found(text="", *, who=opponent, **more):
        spares = find_spares(who.user, club, SpareAsk(text=text, **more), today=today)
        return [(each, each.spare) for each in spares.holdings]

    return found


@pytest.fixture
def hills(club, organiser, member, write_down):
    kind = add_kind(
        club,
        facts=KindFacts(name="Low hill", category="scenery", use="hill", sizes_mm=(300, 200)),
        submission=uuid4(),
        by=organiser,
    )
    return write_down(member, 3, of=kind, scale_mm=28, colour="green")


def test_spare_is_held_less_kept_less_lent_less_promised(red, lent, member, night, search):
    assert search("red markers") == [(red, 6)]
    promise_to_bring(red, night=night, count=5, submission=uuid4(), by=member)
    assert search("red markers") == [(red, 1)]


def test_what_has_nothing_to_spare_is_not_found(red, member, opponent, soon, search):
    lend(red, borrower=opponent, count=10, due_on=soon, submission=uuid4(), by=member)
    assert search("red markers") == []


def test_on_a_day_what_is_to_be_back_is_free(red, lent, search, soon):
    assert search("red markers", on=soon) == [(red, 6)]
    assert search("red markers", on=soon + timedelta(days=1)) == [(red, 10)]


def test_what_is_overdue_is_not_trusted_to_be_back(red, lent, search, soon, today):
    type(lent).objects.filter(pk=lent.pk).update(due_on=today - timedelta(days=1))
    assert search("red markers", on=soon) == [(red, 6)]


def test_a_promise_binds_its_own_day_only(red, member, night, search, soon):
    promise_to_bring(red, night=night, count=8, submission=uuid4(), by=member)
    assert search("red", on=soon) == [(red, 2)]
    assert search("red", on=soon + timedelta(days=1)) == [(red, 10)]
    assert search("red") == [(red, 2)]


def test_a_promise_for_a_cancelled_night_binds_nothing(red, member, night, search):
    promise_to_bring(red, night=night, count=8, submission=uuid4(), by=member)
    type(night).objects.filter(pk=night.pk).update(cancelled_at=factories.clubs.LONG_AGO)
    assert search("red") == [(red, 10)]


def test_the_day_may_stand_in_the_text(red, member, night, search, soon):
    promise_to_bring(red, night=night, count=8, submission=uuid4(), by=member)
    assert search(f"red markers, free on {soon:%Y-%m-%d}") == [(red, 2)]


def test_every_word_must_fit_the_thing_or_its_owner(red, write_down, opponent, hills, search):
    white = write_down(opponent, 6, colour="white")
    assert search("markers") == [(red, 10), (white, 6)]
    assert search("white markers") == [(white, 6)]
    assert search("markers of Brannoc") == [(red, 10)]
    assert search("suppression") == [(red, 10), (white, 6)]
    assert search("red hills") == []


def test_a_word_half_typed_finds_what_it_will_find(red, search):
    assert search("supp") == [(red, 10)]


def test_sizes_and_scales_are_found_by_their_numbers(red, hills, search):
    assert search("28mm") == search("hill 300 mm") == [(hills, 3)]
    assert search("20mm hill") == []


def test_filters_narrow_it(red, hills, search):
    assert search(category="scenery") == [(hills, 3)]
    assert search(colour="RED") == [(red, 10)]
    assert search(scale_mm=28) == [(hills, 3)]
    assert search(kind=red.kind) == [(red, 10)]


def test_a_word_that_says_nothing_is_named(red, club, opponent, today):
    spares = find_spares(opponent.user, club, SpareAsk(text="red gizmos"), today=today)
    assert (spares.unknown, list(spares.holdings)) == (("gizmo",), [])


def test_colours_are_found_whatever_their_letters(write_down, member, search):
    purple = write_down(member, 5, colour="ÉCARLATE")
    assert search("écarlate") == [(purple, 5)]


def test_what_is_private_is_found_by_its_owner_alone(write_down, member, organiser, search):
    hidden = write_down(member, 5, is_private=True)
    assert search("markers", who=organiser) == []
    assert search("markers", who=member) == [(hidden, 5)]


def test_what_was_put_away_is_not_found(red, member, search):
    retire_holding(red, by=member)
    assert search("red") == []


def test_a_stranger_finds_nothing(red, search, outsider):
    assert search("red", who=outsider) == []


@pytest.mark.parametrize("holdings", [1, 3])
def test_it_takes_six_queries_whatever_is_found(
    holdings, club, write_down, member, opponent, today, soon, django_assert_num_queries
):
    for _each in range(holdings):
        lend(write_down(member, 5), borrower=opponent, count=1, due_on=soon, submission=uuid4(), by=member)
    user = opponent.user
    with django_assert_num_queries(6):
        spares = find_spares(user, club, SpareAsk(text="markers of Brannoc"), today=today)
        assert len([(each.kind.name, each.owner.name) for each in spares.holdings]) == holdings


def test_a_page_of_what_is_found_is_a_slice(write_down, member, club, today):
    rows = [write_down(member, pieces) for pieces in (3, 9, 6)]
    found = find_spares(member.user, club, SpareAsk(), today=today).holdings
    assert (len(found), found[0], found[1:]) == (3, rows[1], [rows[2], rows[0]])


def test_a_search_for_everything_looks_at_so_much_and_says_so(write_down, member, club, today, monkeypatch):
    monkeypatch.setattr(spares_module, "LOOKED_AT", 2)
    for _each in range(3):
        write_down(member, 5)
    spares = find_spares(member.user, club, SpareAsk(), today=today)
    assert (len(spares.holdings), spares.is_cut) == (2, True)
