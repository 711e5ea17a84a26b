"""A list of kit: looked at, mended, taken in whole and once, and given out as it can be taken in again."""

from __future__ import annotations

import re
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command

from league.clubs.services.submissions import SubmissionReused
from league.errors import NotYoursToDo, Refused
from league.stores.models import Holding
from league.stores.queries.kit_lists import kit_as_csv, read_kit
from league.stores.services.imports import import_kit
from league.stores.services.kinds import KindFacts, add_kind, retire_kind

pytestmark = pytest.mark.django_db
GOOD = "12 suppression markers, red, keep 2, in the red tin\n24 six-sided dice, white"
BAD = "12 suppression markers, red\n3 smoke grenades\n-4 six-sided dice"
PAGE = "/clubs/weir-street/kit/import/"
API = "/api/v1/clubs/weir-street/kit/lists/"


@pytest.fixture(autouse=True)
def kinds(kind, club, organiser):
    dice = add_kind(
        club, facts=KindFacts(name="Six-sided die", category="die", sides=6), submission=uuid4(), by=organiser
    )
    return {"marker": kind, "die": dice}


def html(answer) -> str:
    return answer.content.decode()


def written() -> list[tuple[str, str, int, int]]:
    rows = Holding.objects.with_balance().select_related("kind").order_by("pk")
    return [(row.kind.name, row.colour, row.held, row.kept) for row in rows]


def taken_in(club, text, *, owner, by, submission=None):
    pieces = read_kit(club, text).pieces
    return import_kit(club, pieces=pieces, owner=owner, submission=submission or uuid4(), by=by)


# --- the service ------------------------------------------------------------------------


def test_every_line_is_a_holding_with_a_record_of_its_own(club, member, capsys):
    taken_in(club, GOOD, owner=member, by=member)
    assert written() == [("Suppression marker", "red", 12, 2), ("Six-sided die", "white", 24, 0)]
    call_command("recount")
    assert capsys.readouterr().out.strip().endswith("0 mismatches")


def test_a_list_sent_twice_is_taken_in_once(club, member):
    name = uuid4()
    first, again = (taken_in(club, GOOD, owner=member, by=member, submission=name) for _time in range(2))
    assert [each.pk for each in first] == [each.pk for each in again]
    assert len(written()) == 2


@pytest.mark.parametrize("other", ["12 suppression markers, blue\n24 six-sided dice, white", GOOD + "\n1 d6", "3 d6"])
def test_another_list_under_the_same_name_is_refused(club, member, other):
    name = uuid4()
    taken_in(club, GOOD, owner=member, by=member, submission=name)
    with pytest.raises(SubmissionReused):
        taken_in(club, other.replace("d6", "six-sided die"), owner=member, by=member, submission=name)
    assert len(written()) == 2


def test_a_kind_taken_off_the_list_meanwhile_keeps_everything_from_being_written(club, member, organiser, kinds):
    pieces = read_kit(club, GOOD).pieces
    retire_kind(kinds["die"], by=organiser)
    with pytest.raises(Refused, match="2: This kind is no longer on"):
        import_kit(club, pieces=pieces, owner=member, submission=uuid4(), by=member)
    assert written() == []


def test_nobody_writes_down_what_is_somebody_elses(club, member, opponent, quartermaster):
    with pytest.raises(NotYoursToDo):
        taken_in(club, GOOD, owner=opponent, by=member)
    with pytest.raises(NotYoursToDo):
        taken_in(club, GOOD, owner=None, by=member)
    assert len(taken_in(club, GOOD, owner=None, by=quartermaster)) == 2


def test_an_empty_list_is_refused(club, member):
    with pytest.raises(Refused, match="nothing on the list"):
        import_kit(club, pieces=(), owner=member, submission=uuid4(), by=member)


# --- its page ---------------------------------------------------------------------------


@pytest.fixture
def post(browse):
    def sent(who, **form):
        return browse(who).post(PAGE, {"submission": str(uuid4()), "text": "", **form})

    return sent


def seen_in(page: str) -> str:
    return re.search(r'name="seen" value="([0-9a-f]{64})"', page).group(1)


def test_the_list_is_shown_as_it_was_read_before_anything_is_written(post, member):
    page = html(post(member, text=GOOD))
    assert "Nothing is written yet." in page
    assert "Suppression marker, red" in page and "2 kept" in page and "the red tin" in page
    assert written() == []


def test_what_was_shown_is_written_once_it_is_confirmed(browse, member):
    name = str(uuid4())
    page = html(browse(member).post(PAGE, {"submission": name, "text": GOOD}))
    form = {"submission": name, "text": GOOD, "seen": seen_in(page), "write": "1"}
    for _time in range(2):
        answer = browse(member).post(PAGE, form)
        assert answer.status_code == 302
    assert len(written()) == 2


def test_a_list_changed_since_it_was_shown_is_shown_again(post, member):
    seen = seen_in(html(post(member, text=GOOD)))
    page = html(post(member, text=f"{GOOD}\n1 six-sided die", seen=seen, write="1"))
    assert "Nothing is written yet." in page
    assert written() == []


def test_bad_lines_are_named_and_what_was_typed_stays(post, member):
    answer = post(member, text=BAD)
    page = html(answer)
    assert answer.status_code == 422
    assert "2 lines cannot be read" in page
    assert "Line 2:" in page and "Line 3:" in page
    assert "3 smoke grenades" in page
    assert "Write it all down" not in page


def test_bad_lines_are_not_written_even_by_force(post, member):
    seen = seen_in(html(post(member, text=BAD)))
    assert post(member, text=BAD, seen=seen, write="1").status_code == 422
    assert written() == []


def test_what_is_on_the_list_already_is_pointed_out(post, red, member):
    assert "12 like it: this adds to them" in html(post(member, text=GOOD))


def test_a_file_of_a_spreadsheet_is_taken(browse, member):
    file = SimpleUploadedFile("kit.csv", "kind;count\r\nSix-sided die;8".encode("utf-16"))
    page = html(browse(member).post(PAGE, {"submission": str(uuid4()), "text": "", "file": file}))
    assert "Six-sided die" in page and "Write it all down" in page


def test_nothing_typed_is_said_so(post, member):
    answer = post(member)
    assert answer.status_code == 422
    assert "Type or paste what you have, or choose a file." in html(answer)


# --- over the API -----------------------------------------------------------------------


def test_a_dry_run_over_the_api_tells_lines_and_faults_and_writes_nothing(call, member):
    told = call(member).post(API, {"submission": str(uuid4()), "text": BAD}, format="json").json()
    assert (told["written"], told["holdings"]) == (False, [])
    assert [(each["kind_name"], each["count"]) for each in told["lines"]] == [("Suppression marker", 12)]
    assert [each["line_number"] for each in told["bad_lines"]] == [2, 3]
    assert written() == []


def test_a_list_over_the_api_is_written_whole_and_once(call, member):
    body = {"submission": str(uuid4()), "text": GOOD, "dry_run": False}
    first, again = (call(member).post(API, body, format="json").json() for _time in range(2))
    assert first["written"] and first["holdings"] == again["holdings"]
    assert len(written()) == 2


def test_a_bad_list_over_the_api_is_refused_with_every_fault(call, member):
    answer = call(member).post(API, {"submission": str(uuid4()), "text": BAD, "dry_run": False}, format="json")
    assert answer.status_code == 422
    assert [each["detail"].split(":")[0] for each in answer.json()["errors"]] == ["2", "3"]
    assert written() == []


# --- out again --------------------------------------------------------------------------


def test_ones_kit_goes_out_as_a_list_that_comes_in_as_it_was(club, member, opponent):
    taken_in(club, GOOD, owner=member, by=member)
    before = written()
    text = kit_as_csv(club, member, member.user)
    taken_in(club, text, owner=opponent, by=opponent)
    assert sorted(written()[len(before) :]) == sorted(before)


def test_the_file_is_ones_own_kit(browse, red, opponent, member):
    assert "suppression" in html(browse(member).get("/clubs/weir-street/kit/mine/list.csv"))
    assert "suppression" not in html(browse(opponent).get("/clubs/weir-street/kit/mine/list.csv"))


@pytest.mark.parametrize("count", [1, 3])
def test_the_preview_takes_the_same_queries_however_long_the_list(browse, member, count, django_assert_num_queries):
    text = "\n".join(f"{number} six-sided dice, colour {number}" for number in range(1, count + 1))
    client = browse(member)
    with django_assert_num_queries(8):
        client.post(PAGE, {"submission": str(uuid4()), "text": text})
