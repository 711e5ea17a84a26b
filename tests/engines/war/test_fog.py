from __future__ import annotations

from dataclasses import replace

import pytest

from league.engines.war import Fog, Move, OrderSet, Ruling, SendSupply, SetControl, replay
from league.engines.war.fog import SPECTATOR, UMPIRE, about, last_turn, view
from league.engines.war.sight import seen_regions
from tests.engines.war.world import CAMPAIGN, MAP, Book, with_rules


def fogged(**told):
    return with_rules(fog=Fog(**told))


def seen(campaign, book, viewer, turn=None):
    return view(campaign, replay(campaign, book.facts), viewer=viewer, turn=turn)


@pytest.fixture
def quiet():
    book = Book()
    book.turn(1)
    return book


@pytest.mark.parametrize(
    ("far", "regions"),
    [(0, {"mere"}), (1, {"arrel", "mere", "sedge"}), (2, {"arrel", "mere", "sedge", "gate", "isle"})],
)
def test_one_sees_so_many_roads_far(far, regions):
    # By hand, along the map's picture in tests/engines/war/world.py.
    assert seen_regions(MAP, ({"mere"}, far)) == regions


def test_an_enemy_two_roads_off_is_not_seen(quiet):
    assert set(seen(fogged(), quiet, "commons").forces) == {"pikes", "sappers"}


def test_an_enemy_on_the_next_region_is_seen_about_as_strong_as_he_is():
    book = Book()
    book.turn(1, wardens=[Move(force="lancers", roads=("toll",))])
    lancers = seen(fogged(), book, "commons").forces["lancers"]
    assert (lancers.region, lancers.figures, lancers.known, lancers.force) == ("sedge", about(20), "size", None)


def test_where_scouts_see_presence_alone_no_number_is_told():
    book = Book()
    book.turn(1, wardens=[Move(force="lancers", roads=("toll",))])
    lancers = seen(fogged(sight="presence"), book, "commons").forces["lancers"]
    assert lancers.figures is None


def test_the_umpire_sees_every_force_whole(quiet):
    forces = seen(fogged(), quiet, UMPIRE).forces
    assert {each.known for each in forces.values()} == {"own"} and len(forces) == 4


def test_stocks_and_supply_are_ones_own(quiet):
    told = seen(fogged(), quiet, "commons", 1)
    assert {faction for _, faction in told.balances} == {"commons"}
    assert set(told.supply) == {"commons"}
    assert {each.faction for each in told.entries} == {"commons"}


def test_anothers_orders_are_known_where_they_are_seen_and_their_supply_never():
    book = Book()
    book.turn(
        1,
        wardens=[
            Move(force="lancers", roads=("toll",)),
            Move(force="guard", roads=("keep",)),
            SendSupply(origin="brune", to="gate", amount=1),
        ],
    )
    given = seen(fogged(), book, "commons", 1).orders["wardens"]
    assert [each.force for each in given.orders] == ["lancers"]


def test_where_somebody_came_from_is_told_only_where_one_sees_it():
    book = Book()
    book.turn(1, wardens=[Move(force="lancers", roads=("toll",))])
    [moved] = [each for each in seen(fogged(), book, "commons", 1).changes if each.what == "moved"]
    assert (moved.args["origin"], moved.args["to"]) == ("", "sedge")


def test_who_holds_a_region_is_known_to_all_or_where_it_is_seen(quiet):
    assert "brune" in seen(fogged(), quiet, "commons").control
    hidden = seen(fogged(control="seen"), quiet, "commons")
    assert "brune" not in hidden.control and "brune" not in hidden.control_known


def test_allies_see_alike(quiet):
    friends = replace(CAMPAIGN, factions=tuple(replace(each, side="all") for each in CAMPAIGN.factions))
    assert set(seen(friends, quiet, "commons").forces) == set(seen(friends, quiet, UMPIRE).forces)


def test_spectators_are_a_turn_late(quiet):
    quiet.turn(2)
    states = replay(CAMPAIGN, quiet.facts)
    assert states[-1].turn == 3
    assert last_turn(CAMPAIGN, states, viewer=SPECTATOR) == 2
    assert view(CAMPAIGN, states, viewer=SPECTATOR, turn=3) is None


def test_spectators_see_what_was_revealed_to_all_and_no_force(quiet):
    told = seen(fogged(), quiet, SPECTATOR)
    assert told.forces == {} and told.balances == {} and told.control["brune"] == "wardens"


def test_spectators_of_a_closed_war_see_nothing(quiet):
    assert seen(fogged(spectators="nothing"), quiet, SPECTATOR) is None


def test_spectators_may_be_shown_everything_late(quiet):
    assert len(seen(fogged(spectators="everything"), quiet, SPECTATOR).forces) == 4


def test_what_concerns_the_umpire_alone_reaches_nobody_else():
    book = Book()
    book.write(
        Ruling, 1, reason="Quietly.", phase="orders", effects=(SetControl(region="isle", faction="nobody at all"),)
    )
    book.turn(1)
    assert any(each.known == "umpire" for each in seen(fogged(), book, UMPIRE, 1).changes)
    for viewer in ("commons", "wardens", SPECTATOR):
        assert not any(
            each.known == "umpire" for each in seen(fogged(spectators="everything"), book, viewer, 1).changes
        )


@pytest.mark.parametrize("viewer", [UMPIRE, "commons", "wardens"])
def test_orders_given_but_not_revealed_are_in_nobodys_view(viewer):
    book = Book()
    before = seen(fogged(), book, viewer)
    book.write(OrderSet, 1, faction="commons", orders=(Move(force="pikes", roads=("dyke",)),))
    assert seen(fogged(), book, viewer) == before


@pytest.mark.parametrize(("figures", "said"), [(0, 0), (1, 5), (7, 5), (8, 10), (12, 10), (13, 15), (100, 100)])
def test_numbers_are_told_to_the_nearest_five(figures, said):
    assert about(figures) == said
