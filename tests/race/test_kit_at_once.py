"""Two people reach for the same pieces at the same moment: nothing is lent twice, returned twice, or counted away."""

from __future__ import annotations

import json
from datetime import date, timedelta
from uuid import uuid4

import pytest

pytestmark = [pytest.mark.race, pytest.mark.xdist_group("race")]
OWNER, OTHERS = "Mila", ("Brannoc", "Ceriden")


def name() -> str:
    return str(uuid4())


def asked(site, who, path, body, method="POST"):
    """A request sent alone; its answer."""
    _post, address, sent, headers = site.told(who, path, body)
    [(status, answer)] = site.at_once([(method, address, sent, headers)])
    assert status < 300, answer
    return json.loads(answer) if answer else None


def due() -> str:
    return (date.today() + timedelta(days=30)).isoformat()  # noqa: DTZ011 - any day far enough off


@pytest.fixture
def one_marker(site):
    """A holding of Mila's of one single piece; its number."""
    kind = asked(
        site, OWNER, "kit/kinds/", {"submission": name(), "name": f"Marker {uuid4().hex[:6]}", "category": "marker"}
    )
    body = {"submission": name(), "kind": kind["id"], "count": 1}
    return asked(site, OWNER, "kit/holdings/", body)["id"]


def balance(site, holding) -> tuple[int, int, int]:
    told = site.read(f"kit/holdings/{holding}/")
    return told["held"], told["out"], told["spare"]


@pytest.mark.parametrize("_round", range(3))
def test_the_last_piece_lent_to_two_at_once_goes_to_one(site, one_marker, _round):
    lend = [
        site.told(
            OWNER,
            f"kit/holdings/{one_marker}/loans/",
            {"submission": name(), "borrower": site.club["members"][who], "count": 1, "due_on": due()},
        )
        for who in OTHERS * 2
    ]
    answers = site.at_once(lend)
    assert sorted(status for status, _answer in answers) == [201, 422, 422, 422]
    assert balance(site, one_marker) == (1, 1, 0)


@pytest.mark.parametrize("_round", range(3))
def test_two_requests_for_the_last_piece_agreed_to_at_once_set_it_aside_for_one(site, one_marker, _round):
    loans = [
        asked(site, who, "kit/loans/", {"submission": name(), "holding": one_marker, "count": 1, "due_on": due()})["id"]
        for who in OTHERS
    ]
    answers = site.at_once([site.told(OWNER, f"kit/loans/{loan}/agree/", {}) for loan in loans * 2])
    good = {loan for loan, (status, _answer) in zip(loans * 2, answers, strict=True) if status == 200}
    assert len(good) == 1
    assert {status for status, _answer in answers} == {200, 422}
    assert balance(site, one_marker) == (1, 1, 0)


@pytest.mark.parametrize("_round", range(3))
def test_a_loan_returned_by_two_presses_at_once_is_returned_once(site, one_marker, _round):
    body = {"submission": name(), "borrower": site.club["members"]["Brannoc"], "count": 1, "due_on": due()}
    loan = asked(site, OWNER, f"kit/holdings/{one_marker}/loans/", body)["id"]
    answers = site.at_once(
        [site.told(OWNER, f"kit/loans/{loan}/back/", {"submission": name(), "count": 1}) for _press in range(4)]
    )
    assert sorted(status for status, _answer in answers) == [201, 422, 422, 422]
    assert balance(site, one_marker) == (1, 0, 1)


def test_one_return_sent_four_times_at_once_is_one_return(site, one_marker):
    body = {"submission": name(), "borrower": site.club["members"]["Brannoc"], "count": 1, "due_on": due()}
    loan = asked(site, OWNER, f"kit/holdings/{one_marker}/loans/", body)["id"]
    back = {"submission": name(), "count": 1}
    answers = site.at_once([site.told(OWNER, f"kit/loans/{loan}/back/", back) for _press in range(4)])
    assert {status for status, _answer in answers} <= {200, 201}
    assert len({json.loads(answer)["id"] for _status, answer in answers}) == 1
    assert balance(site, one_marker) == (1, 0, 1)


def test_the_last_piece_lost_and_lent_at_once_is_one_or_the_other(site, one_marker):
    lend = site.told(
        OWNER,
        f"kit/holdings/{one_marker}/loans/",
        {"submission": name(), "borrower": site.club["members"]["Brannoc"], "count": 1, "due_on": due()},
    )
    lose = site.told(OWNER, f"kit/holdings/{one_marker}/movements/", {"submission": name(), "act": "lost", "count": 1})
    answers = site.at_once([lend, lose])
    assert sorted(status for status, _answer in answers) == [201, 422]
    assert balance(site, one_marker) in {(1, 1, 0), (0, 0, 0)}


def test_everything_reckoned_again_agrees_after_all_that(site):
    assert site.server.manage("recount").strip().endswith("0 mismatches")
