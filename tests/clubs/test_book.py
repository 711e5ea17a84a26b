from __future__ import annotations

from league.clubs.models import LogEntry
from league.clubs.queries import log_of, put_in_words, words_of
from league.clubs.services.invitations import invite
from league.clubs.services.log import log_act
from league.clubs.services.members import add_guest, change_offices, mark_junior
from league.clubs.services.nights import cancel_night


def test_an_act_is_told_in_words(club, organiser):
    add_guest(club, name="Gorran", by=organiser)
    assert [(line.by, line.words) for line in log_of(club)] == [("Odalys", "added Gorran as a guest")]


def test_the_book_of_one_row_tells_only_of_that_row(club, organiser, member, night):
    change_offices(member, is_organiser=False, is_umpire=True, is_quartermaster=False, by=organiser)
    cancel_night(night, by=organiser)
    assert [line.act for line in log_of(club, night)] == ["night_cancelled"]


def test_an_act_nobody_described_is_told_by_its_code(club, organiser):
    assert words_of(log_act(club, "drum_mended", club, by=organiser)) == "drum mended"


def test_a_room_teaches_the_book_its_own_acts(club, organiser):
    put_in_words({"flag_raised": "raised the flag over %(hill)s"})
    assert (
        words_of(log_act(club, "flag_raised", club, by=organiser, hill="Ram Hill")) == "raised the flag over Ram Hill"
    )


def test_an_old_line_without_a_fact_is_still_told(club):
    assert words_of(LogEntry(act="guest_added", details={})) == "added … as a guest"


def test_the_page_of_the_book_shows_who_did_what(club, organiser, member, browse):
    add_guest(club, name="Gorran", by=organiser)
    page = browse(member).get("/clubs/weir-street/book/").content.decode()
    assert "Odalys" in page and "added Gorran as a guest" in page


def test_a_name_that_looks_like_markup_stays_text_in_the_book(club, organiser, member, browse):
    add_guest(club, name="<b>Gorran</b>", by=organiser)
    page = browse(member).get("/clubs/weir-street/book/").content.decode()
    assert "<b>Gorran</b>" not in page and "&lt;b&gt;Gorran" in page


def test_a_guest_named_like_a_formula_is_disarmed_in_the_csv(club, organiser, browse):
    add_guest(club, name="=1+1", by=organiser)
    table = browse(organiser).get("/clubs/weir-street/members/?format=csv").content.decode()
    assert '"\'=1+1"' in table


def test_the_csv_of_the_book_is_plain_text(club, organiser, browse):
    add_guest(club, name="Gorran", by=organiser)
    table = browse(organiser).get("/clubs/weir-street/book/?format=csv").content.decode()
    assert '"added Gorran as a guest"' in table


def test_only_organisers_read_who_was_marked_as_under_18_and_who_was_invited(club, organiser, member, browse):
    mark_junior(member, is_junior=True, guardian_contact="", by=organiser)
    invite(club, note="For Isolde", by=organiser)
    page = {who: browse(who).get("/clubs/weir-street/book/").content.decode() for who in (organiser, member)}
    assert "under 18" in page[organiser] and "For Isolde" in page[organiser]
    assert "under 18" not in page[member] and "For Isolde" not in page[member]


def test_a_link_without_note_is_called_by_its_number(club, organiser):
    invitation, _ = invite(club, by=organiser)
    assert log_of(club, reader=organiser)[0].words == f"made the invitation “#{invitation.pk}”"
