"""The club's list of kinds."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest

from league.clubs.models import LogEntry
from league.errors import NotYoursToDo
from league.stores.models import ItemKind
from league.stores.queries import CAUTIONS, cautions_of, deference
from league.stores.services.kinds import (
    KindFacts,
    KindRefused,
    OfferRefused,
    add_kind,
    bring_back_kind,
    change_kind,
    offer_pack,
    retire_kind,
    withdraw_offer,
)
from tests.stores.conftest import MARKERS

pytestmark = pytest.mark.django_db
ABSURD = KindFacts(
    name=" ",
    category="gizmo",
    use="Not A Word",
    sides=1,
    sizes_mm=(0, 99_999),
    bulk_ml=-1,
    cautions=("dragons",),
    caution="x" * 1001,
)


def test_a_kind_gets_its_short_name_from_its_name(kind):
    assert (kind.key, kind.category, kind.cautions) == ("suppression-marker", "marker", ["small_parts"])


def test_any_member_adds_a_kind_but_no_stranger(club, member, outsider):
    assert add_kind(club, facts=MARKERS, submission=uuid4(), by=member).created_by == member
    with pytest.raises(NotYoursToDo):
        add_kind(club, facts=replace(MARKERS, name="Other"), submission=uuid4(), by=outsider)


def test_everything_wrong_with_a_kind_is_said_at_once(club, organiser):
    with pytest.raises(KindRefused) as refusal:
        add_kind(club, facts=ABSURD, key="No Key", submission=uuid4(), by=organiser)
    assert set(refusal.value.by_field()) == {
        "name",
        "key",
        "category",
        "use",
        "sides",
        "sizes_mm",
        "bulk_ml",
        "cautions",
        "caution",
    }


def test_a_die_says_how_many_sides_it_has(club, organiser):
    with pytest.raises(KindRefused, match="how many sides"):
        add_kind(club, facts=KindFacts(name="Die", category="die"), submission=uuid4(), by=organiser)


def test_a_name_is_taken_whatever_its_capitals(club, organiser, kind):
    with pytest.raises(KindRefused, match="of this name already"):
        add_kind(club, facts=replace(MARKERS, name="SUPPRESSION MARKER"), submission=uuid4(), by=organiser)


def test_two_names_that_make_one_short_name_get_two(club, organiser, kind):
    again = add_kind(club, facts=replace(MARKERS, name="Suppression: marker"), submission=uuid4(), by=organiser)
    assert again.key == "suppression-marker-2"


def test_the_same_submission_adds_one_kind(club, organiser):
    name = uuid4()
    first, second = (add_kind(club, facts=MARKERS, submission=name, by=organiser) for _ in range(2))
    assert (first, ItemKind.objects.count()) == (second, 1)


def test_a_change_keeps_the_short_name(kind, quartermaster):
    change_kind(kind, facts=replace(MARKERS, name="Pin marker", bulk_ml=2), by=quartermaster)
    kind.refresh_from_db()
    assert (kind.key, kind.name, kind.bulk_ml) == ("suppression-marker", "Pin marker", 2)


def test_only_quartermasters_and_organisers_change_the_list(kind, member):
    with pytest.raises(NotYoursToDo):
        change_kind(kind, facts=MARKERS, by=member)
    with pytest.raises(NotYoursToDo):
        retire_kind(kind, by=member)
    with pytest.raises(NotYoursToDo):
        offer_pack(kind, pieces=10, price_pence=250, by=member)


def test_retiring_twice_is_retiring_once(kind, quartermaster):
    first, second = (retire_kind(kind, by=quartermaster).retired_at for _ in range(2))
    assert first == second
    assert bring_back_kind(kind, by=quartermaster).retired_at is None
    assert LogEntry.objects.filter(act="kind_retired").count() == 1


def test_a_pack_is_noted_once_and_struck_out(kind, quartermaster):
    first, second = (offer_pack(kind, pieces=20, price_pence=350, by=quartermaster) for _ in range(2))
    assert first == second
    withdraw_offer(first, by=quartermaster)
    assert not kind.offers.filter(withdrawn_at=None).exists()
    assert offer_pack(kind, pieces=20, price_pence=350, by=quartermaster) != first


def test_absurd_packs_are_refused_in_full(kind, quartermaster):
    with pytest.raises(OfferRefused) as refusal:
        offer_pack(kind, pieces=0, price_pence=-1, note="x" * 121, by=quartermaster)
    assert set(refusal.value.by_field()) == {"pieces", "price_pence", "note"}


class TestCautions:
    def test_every_hazard_of_the_hobby_has_one(self):
        assert {"knife", "aerosol", "solvent", "resin", "superglue", "laser", "magnet", "small_parts"} <= set(CAUTIONS)

    def test_they_defer_to_the_maker_the_venue_and_the_law(self):
        assert all(word in deference() for word in ("maker's sheet", "venue's rules", "law"))

    def test_each_is_said_once_and_the_club_s_own_after_them(self, kind):
        other = ItemKind(name="Glue", cautions=["superglue", "small_parts"], caution="Not on the good table.")
        assert [str(each.title) for each in cautions_of([kind, other])] == ["Superglue", "Small parts", "Glue"]
