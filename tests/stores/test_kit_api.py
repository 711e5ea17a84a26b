"""The stores over the API: the same services as the pages, the same refusals, lists in as many queries however long."""

from __future__ import annotations

from uuid import uuid4

import pytest

from league.stores.models import LoanState
from league.stores.services.promises import promise_to_bring
from tests import factories

pytestmark = pytest.mark.django_db
CLUB = "/api/v1/clubs/weir-street/"


@pytest.fixture
def asking(call):
    """`asking(member).post("kit/loans/", {...})`, with a submission of its own where none is named."""

    class Client:
        def __init__(self, member):
            self.client = call(member)

        def get(self, path, **query):
            return self.client.get(f"{CLUB}{path}", query)

        def post(self, path, body=None):
            return self.client.post(f"{CLUB}{path}", {"submission": str(uuid4()), **(body or {})}, format="json")

        def press(self, path):
            return self.client.post(f"{CLUB}{path}", format="json")

        def patch(self, path, body):
            return self.client.patch(f"{CLUB}{path}", body, format="json")

        def put(self, path, body):
            return self.client.put(f"{CLUB}{path}", body, format="json")

        def delete(self, path):
            return self.client.delete(f"{CLUB}{path}")

    return Client


def errors(answer) -> list[str]:
    return [each["detail"] for each in answer.json()["errors"]]


# --- spares -----------------------------------------------------------------------------


def test_who_has_spare_red_markers_is_one_call(asking, red, opponent, soon):
    told = asking(opponent).get("kit/spares/", q=f"red markers, free on {soon.isoformat()}").json()
    assert (told["on"], told["found"]) == (soon.isoformat(), 1)
    assert (told["holdings"][0]["id"], told["holdings"][0]["owner_name"], told["holdings"][0]["spare"]) == (
        red.pk,
        "Brannoc",
        10,
    )


def test_a_word_that_nothing_is_called_by_is_named(asking, red, opponent):
    told = asking(opponent).get("kit/spares/", q="purple markers").json()
    assert (told["found"], told["unknown"]) == (0, ["purple"])


@pytest.mark.parametrize("count", [1, 3])
def test_a_search_takes_the_same_queries_however_much_is_found(
    asking, write_down, member, opponent, count, django_assert_num_queries
):
    for number in range(count):
        write_down(member, 5, colour=f"red {number}")
    client = asking(opponent)
    with django_assert_num_queries(7):
        assert client.get("kit/spares/", q="red markers").json()["found"] == count


# --- kinds ------------------------------------------------------------------------------


def test_a_member_describes_a_kind_and_a_keeper_changes_it(asking, member, quartermaster):
    body = {"name": "Smoke marker", "category": "marker", "cautions": ["small_parts"]}
    made = asking(member).post("kit/kinds/", body).json()
    assert asking(member).patch(f"kit/kinds/{made['id']}/", {"bulk_ml": 3}).status_code == 403
    told = asking(quartermaster).patch(f"kit/kinds/{made['id']}/", {"bulk_ml": 3}).json()
    assert (told["name"], told["bulk_ml"], told["cautions"]) == ("Smoke marker", 3, ["small_parts"])


def test_packs_are_noted_and_struck_out(asking, kind, quartermaster):
    client = asking(quartermaster)
    body = {"pieces": 20, "price_pence": 450}
    pack = client.client.post(f"{CLUB}kit/kinds/{kind.pk}/packs/", body, format="json").json()
    assert [each["pieces"] for each in client.get(f"kit/kinds/{kind.pk}/").json()["packs"]] == [20]
    assert client.delete(f"kit/kinds/{kind.pk}/packs/{pack['id']}/").status_code == 204
    assert client.get(f"kit/kinds/{kind.pk}/").json()["packs"] == []


def test_a_kind_off_the_list_is_on_it_again(asking, kind, quartermaster):
    client = asking(quartermaster)
    assert client.press(f"kit/kinds/{kind.pk}/retire/").json()["retired_at"]
    assert [each["id"] for each in client.get("kit/kinds/", is_retired="true").json()["results"]] == [kind.pk]
    assert client.press(f"kit/kinds/{kind.pk}/bring-back/").json()["retired_at"] is None


def test_the_usual_cautions_are_read_by_their_keys(asking, member):
    told = {each["key"]: each["text"] for each in asking(member).get("kit/cautions/").json()}
    assert "choke" in told["small_parts"]


@pytest.mark.parametrize("count", [1, 3])
def test_kinds_take_the_same_queries_however_many(asking, club, organiser, member, count, django_assert_num_queries):
    for number in range(count):
        asking(organiser).post("kit/kinds/", {"name": f"Marker {number}", "category": "marker"})
    client = asking(member)
    with django_assert_num_queries(5):
        assert client.get("kit/kinds/").json()["count"] == count


# --- holdings ---------------------------------------------------------------------------


def test_everything_wrong_with_new_kit_is_said_at_once(asking, member, kind, club):
    venue = factories.VenueFactory(club=club)
    answer = asking(member).post(
        "kit/holdings/", {"kind": kind.pk, "count": 0, "condition": "rusty", "scale_mm": 900, "venue": venue.pk}
    )
    assert answer.status_code == 400
    assert {each["pointer"] for each in answer.json()["errors"]} == {"/count", "/condition", "/scale_mm"}


def test_the_clubs_kit_is_written_down_by_those_who_keep_the_stores(asking, member, quartermaster, kind):
    body = {"kind": kind.pk, "count": 40, "owner": None}
    assert asking(member).post("kit/holdings/", body).status_code == 403
    told = asking(quartermaster).post("kit/holdings/", body).json()
    assert (told["owner"], told["held"], told["spare"]) == (None, 40, 40)


def test_a_holding_is_described_anew_and_what_is_left_out_stays(asking, red, member):
    told = asking(member).patch(f"kit/holdings/{red.pk}/", {"place": "red tin"}).json()
    assert (told["place"], told["colour"], told["kept"], told["label"]) == ("red tin", "red", 2, red.label)


def test_what_somebody_keeps_to_themselves_is_not_there_for_others(asking, write_down, member, opponent):
    private = write_down(member, 5, is_private=True)
    assert asking(opponent).get(f"kit/holdings/{private.pk}/").status_code == 404
    assert asking(opponent).get("kit/holdings/").json()["count"] == 0
    assert asking(member).get("kit/holdings/").json()["count"] == 1


def test_the_record_tells_every_line_the_latest_first(asking, red, member):
    client = asking(member)
    client.post(f"kit/holdings/{red.pk}/movements/", {"act": "broken", "count": 2, "reason": "Stepped on"})
    lines = client.get(f"kit/holdings/{red.pk}/movements/").json()["results"]
    assert [(each["act"], each["change"], each["held_after"]) for each in lines] == [
        ("broken", -2, 10),
        ("received", 12, 12),
    ]


def test_more_than_there_is_cannot_be_lost(asking, red, member):
    answer = asking(member).post(f"kit/holdings/{red.pk}/movements/", {"act": "lost", "count": 13})
    assert answer.status_code == 422
    assert asking(member).get(f"kit/holdings/{red.pk}/").json()["held"] == 12


def test_what_is_put_away_comes_out_again(asking, red, member):
    client = asking(member)
    assert client.press(f"kit/holdings/{red.pk}/retire/").json()["retired_at"]
    assert client.press(f"kit/holdings/{red.pk}/bring-back/").json()["retired_at"] is None


@pytest.mark.parametrize("count", [1, 3])
@pytest.mark.parametrize(("path", "queries"), [("kit/holdings/", 4)])
def test_holdings_take_the_same_queries_however_many(
    asking, write_down, member, count, path, queries, django_assert_num_queries
):
    for number in range(count):
        write_down(member, 5, colour=f"red {number}")
    client = asking(member)
    with django_assert_num_queries(queries):
        assert client.get(path).json()["count"] == count


def test_a_shelf_is_counted_by_its_label(asking, write_down, quartermaster, member):
    mats = write_down(None, 4, by=quartermaster)
    client = asking(member)
    assert [each["there"] for each in client.get(f"kit/shelves/{mats.label}/").json()] == [4]
    body = {"counted": [{"holding": mats.pk, "pieces": 3}], "reason": "One was left in the car"}
    told = client.post(f"kit/shelves/{mats.label}/", body)
    assert told.status_code == 201
    assert [(each["change"], each["held_after"]) for each in told.json()["lines"]] == [(-1, 3)]


def test_a_count_that_differs_wants_a_reason(asking, write_down, quartermaster, member):
    mats = write_down(None, 4, by=quartermaster)
    answer = asking(member).post(f"kit/shelves/{mats.label}/", {"counted": [{"holding": mats.pk, "pieces": 3}]})
    assert answer.status_code == 422


# --- loans ------------------------------------------------------------------------------


def test_a_loan_from_asking_to_the_last_piece_back(asking, red, member, opponent, soon):
    borrower, owner = asking(opponent), asking(member)
    loan = borrower.post("kit/loans/", {"holding": red.pk, "count": 5, "due_on": soon.isoformat()}).json()
    at = f"kit/loans/{loan['id']}/"
    assert loan["state"] == LoanState.ASKED
    assert owner.press(f"{at}agree/").json()["state"] == LoanState.AGREED
    assert owner.press(f"{at}hand-over/").json()["state"] == LoanState.OUT
    assert owner.post(f"{at}back/", {"count": 3}).json()["out_after"] == 2
    assert owner.post(f"{at}lost/", {"count": 2, "act": "broken"}).json()["held_after"] == 10
    told = borrower.get(at).json()
    assert (told["state"], told["outstanding"]) == (LoanState.BACK, 0)


def test_more_than_is_spare_is_not_lent(asking, red, opponent, soon):
    answer = asking(opponent).post("kit/loans/", {"holding": red.pk, "count": 11, "due_on": soon.isoformat()})
    assert answer.status_code == 422
    assert errors(answer) == ["Only 10 of these are spare."]


def test_more_than_is_out_does_not_come_back(asking, lent, member):
    answer = asking(member).post(f"kit/loans/{lent.pk}/back/", {"count": 5})
    assert errors(answer) == ["Only 4 of this loan are out."]


def test_a_request_is_refused_or_called_off(asking, red, member, opponent, soon):
    body = {"holding": red.pk, "count": 1, "due_on": soon.isoformat()}
    first, second = (asking(opponent).post("kit/loans/", body).json()["id"] for _each in range(2))
    no = asking(member).client.post(f"{CLUB}kit/loans/{first}/refuse/", {"reason": "Needed"}, format="json").json()
    off = asking(opponent).client.post(f"{CLUB}kit/loans/{second}/withdraw/", {}, format="json").json()
    assert (no["state"], no["reason"], off["state"]) == (LoanState.REFUSED, "Needed", LoanState.WITHDRAWN)


def test_the_owner_lends_in_the_hall_without_having_been_asked_here(asking, red, member, opponent, soon):
    body = {"borrower": opponent.pk, "count": 2, "due_on": soon.isoformat()}
    told = asking(member).post(f"kit/holdings/{red.pk}/loans/", body).json()
    assert (told["state"], told["outstanding"]) == (LoanState.OUT, 2)


def test_loans_are_narrowed_by_state_and_person(asking, lent, member, opponent):
    client = asking(member)
    assert client.get("kit/loans/", state="out", member=opponent.pk).json()["count"] == 1
    assert client.get("kit/loans/", state="asked").json()["count"] == 0


@pytest.mark.parametrize("count", [1, 3])
def test_loans_take_the_same_queries_however_many(
    asking, red, member, opponent, soon, count, django_assert_num_queries
):
    for _each in range(count):
        asking(opponent).post("kit/loans/", {"holding": red.pk, "count": 1, "due_on": soon.isoformat()})
    client = asking(member)
    with django_assert_num_queries(4):
        assert client.get("kit/loans/").json()["count"] == count


# --- a night ----------------------------------------------------------------------------


def test_a_promise_is_made_changed_packed_and_taken_back(asking, red, night, member):
    client, at = asking(member), f"nights/{night.pk}/kit/promises/"
    first = client.post(at, {"holding": red.pk, "count": 4}).json()
    other = client.post(at, {"holding": red.pk, "count": 6}).json()
    assert [(each["id"], each["count"]) for each in client.get(at).json()["results"]] == [(other["id"], 6)]
    assert first["id"] != other["id"]
    assert client.press(f"{at}{other['id']}/pack/").json()["packed_at"]
    assert client.press(f"{at}{other['id']}/unpack/").json()["packed_at"] is None
    assert [client.delete(f"{at}{other['id']}/").status_code for _time in range(2)] == [204, 204]
    assert client.get(at).json()["count"] == 0


def test_nobody_promises_what_is_at_somebody_elses_home(asking, red, night, opponent):
    answer = asking(opponent).post(f"nights/{night.pk}/kit/promises/", {"holding": red.pk, "count": 1})
    assert answer.status_code == 403


def test_what_one_can_carry_is_said_for_oneself(asking, night, member, opponent):
    at = f"nights/{night.pk}/kit/carrying/"
    assert asking(member).put(at, {"room": "bag"}).json()["room"] == "bag"
    assert asking(member).put(at, {"room": "bag", "member": opponent.pk}).status_code == 403


def test_a_packing_list_is_for_its_member_and_the_keepers(asking, red, night, member, opponent, quartermaster):
    promise_to_bring(red, night=night, count=4, submission=uuid4(), by=member)
    at = f"nights/{night.pk}/kit/packing/{member.pk}/"
    for reader in (member, quartermaster):
        assert [each["promised"] for each in asking(reader).get(at).json()["lines"]] == [4]
    assert asking(opponent).get(at).status_code == 403


@pytest.mark.parametrize("count", [1, 3])
def test_promises_take_the_same_queries_however_many(
    asking, write_down, night, member, count, django_assert_num_queries
):
    for number in range(count):
        holding = write_down(member, 5, colour=f"red {number}")
        promise_to_bring(holding, night=night, count=1, submission=uuid4(), by=member)
    client = asking(member)
    with django_assert_num_queries(5):
        assert client.get(f"nights/{night.pk}/kit/promises/").json()["count"] == count


# --- advice -----------------------------------------------------------------------------


def test_how_many_are_enough_comes_with_its_curve(asking, member):
    told = asking(member).get("kit/enough/", tables=6, percent=95).json()
    chance = {step["stock"]: step["chance"] for step in told["curve"]}
    assert chance[told["enough"]] >= 0.95 > chance[told["enough"] - 1]
    assert told["reports"] == 0 and "no source" in told["prior"]


def test_tables_beyond_reason_are_refused(asking, member):
    answer = asking(member).get("kit/enough/", tables=0, percent=100)
    assert {each["pointer"] for each in answer.json()["errors"]} == {"/tables", "/percent"}


def test_a_first_game_is_sorted_by_what_is_easiest_to_have(asking, club, member, organiser):
    edition = factories.EditionFactory(ruleset__club=club)
    roster = factories.RosterFactory(club=club, owner=member, ruleset=edition.ruleset)
    told = asking(member).get(f"rosters/{roster.pk}/kit/").json()
    assert told["asks_nothing"] is False
    assert told["groups"] and all(group["steps"] for group in told["groups"])
