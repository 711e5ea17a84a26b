from __future__ import annotations

from datetime import date, time, timedelta

import pytest
from django.utils import timezone

from league.clubs.models import Attendance, LogEntry, Night
from league.clubs.queries import attendance_of, next_night, past_nights, upcoming
from league.clubs.services.nights import (
    AnswerRefused,
    NightRefused,
    answer_night,
    cancel_night,
    change_night,
    plan_night,
)
from league.clubs.services.venues import change_venue
from tests import factories

THURSDAY = date(2026, 3, 26)
EVENING = {"on": THURSDAY, "starts_at": time(19, 0)}
TYPED = {"on": "2026-03-26", "starts_at": "19:00"}


def test_a_double_tap_plans_one_night(club, venue, organiser):
    first = plan_night(club, venue=venue, **EVENING, by=organiser)
    assert plan_night(club, venue=venue, **EVENING, by=organiser) == first
    assert LogEntry.objects.filter(act="night_planned").count() == 1


def test_a_double_tap_on_the_page_leads_to_the_same_night(venue, organiser, browse):
    form = {"venue": venue.pk, **TYPED}
    answers = [browse(organiser).post("/clubs/weir-street/nights/new/", form) for _ in range(2)]
    assert [each.url for each in answers] == [f"/clubs/weir-street/nights/{Night.objects.get().pk}/"] * 2


def test_another_night_at_the_same_time_and_place_is_refused(club, venue, organiser):
    plan_night(club, venue=venue, **EVENING, title="League", by=organiser)
    with pytest.raises(NightRefused, match="Another night is planned"):
        plan_night(club, venue=venue, **EVENING, title="Quiz", by=organiser)


def test_everything_wrong_with_a_night_is_said_at_once(club, other_club, organiser):
    foreign = factories.VenueFactory(club=other_club)
    far = timezone.localdate() + timedelta(days=4000)
    with pytest.raises(NightRefused) as refusal:
        plan_night(club, venue=foreign, on=far, starts_at=time(19), ends_at=time(19), by=organiser)
    assert set(refusal.value.by_field()) == {"venue", "on", "ends_at"}


def test_no_night_is_planned_in_a_closed_venue(club, venue, organiser):
    change_venue(venue, name=venue.name, address="", note="", is_closed=True, by=organiser)
    with pytest.raises(NightRefused, match="closed"):
        plan_night(club, venue=venue, **EVENING, by=organiser)


def test_a_night_may_end_after_midnight(club, venue, organiser):
    assert plan_night(club, venue=venue, **EVENING, ends_at=time(0, 30), by=organiser).ends_at == time(0, 30)


def test_a_cancelled_night_planned_again_is_on(club, venue, organiser):
    night = plan_night(club, venue=venue, **EVENING, by=organiser)
    cancel_night(night, by=organiser)
    again = plan_night(club, venue=venue, **EVENING, title="On after all", by=organiser)
    assert (again.pk, again.cancelled_at, again.title) == (night.pk, None, "On after all")


def test_a_night_is_moved_and_keeps_its_answers(club, venue, night, organiser, member):
    answer_night(night, member=member, answer="coming", by=member)
    facts = {"venue": venue, "starts_at": time(18), "ends_at": None, "title": "", "note": ""}
    change_night(night, on=date(2026, 3, 27), **facts, by=organiser)
    assert Night.objects.get(pk=night.pk).on == date(2026, 3, 27)
    assert night.attendance.count() == 1


def test_a_night_cannot_be_moved_onto_another_one(club, venue, night, organiser):
    other = factories.NightFactory(club=club, venue=venue, on=date(2026, 4, 2), starts_at=time(19))
    facts = {"venue": venue, "ends_at": None, "title": "", "note": ""}
    with pytest.raises(NightRefused, match="Another night is planned"):
        change_night(other, **EVENING, **facts, by=organiser)


def test_a_cancelled_night_is_neither_changed_nor_answered(venue, night, organiser, member):
    cancel_night(night, by=organiser)
    with pytest.raises(NightRefused, match="cancelled"):
        change_night(night, venue=venue, **EVENING, ends_at=None, title="", note="", by=organiser)
    with pytest.raises(AnswerRefused, match="cancelled"):
        answer_night(night, member=member, answer="coming", by=member)


def test_cancelling_twice_keeps_the_first_hour(night, organiser):
    first = cancel_night(night, by=organiser).cancelled_at
    assert cancel_night(night, by=organiser).cancelled_at == first


def test_the_last_word_counts(night, member):
    answer_night(night, member=member, answer="coming", by=member)
    answer_night(night, member=member, answer="away", by=member)
    assert Attendance.objects.get().answer == "away"


def test_everything_wrong_with_an_answer_is_said_at_once(night, outsider, organiser):
    cancel_night(night, by=organiser)
    with pytest.raises(AnswerRefused) as refusal:
        answer_night(night, member=outsider, answer="who knows", by=organiser)
    assert [each.code for each in refusal.value.violations] == ["unknown", "cancelled", "unknown"]


def test_those_who_come_stand_first_and_those_who_said_nothing_before_those_who_stay_away(
    night, organiser, member, guest
):
    answer_night(night, member=organiser, answer="away", by=organiser)
    answer_night(night, member=guest, answer="coming", by=organiser)
    lines = [(line.member.name, line.answer) for line in attendance_of(night)]
    assert lines == [("Gorran", "coming"), ("Brannoc", ""), ("Odalys", "away")]


def test_an_answer_to_another_night_is_not_an_answer_to_this_one(club, venue, night, member):
    other = factories.NightFactory(club=club, venue=venue, on=date(2026, 4, 2))
    answer_night(other, member=member, answer="coming", by=member)
    assert [line.answer for line in attendance_of(night)] == [""]


def test_the_next_night_is_the_nearest_that_is_not_cancelled(club, venue, organiser):
    first, second = (
        factories.NightFactory(club=club, venue=venue, on=THURSDAY + timedelta(days=days)) for days in (0, 7)
    )
    cancel_night(first, by=organiser)
    assert next_night(club, THURSDAY) == second


def test_tonight_is_still_to_come_and_tomorrow_it_is_past(club, night):
    assert list(upcoming(club, THURSDAY)) == [night]
    assert list(past_nights(club, THURSDAY + timedelta(days=1))) == [night]


def test_a_member_answers_with_one_button(night, member, browse):
    response = browse(member).post(f"/clubs/weir-street/nights/{night.pk}/answer/", {"answer": "coming"})
    assert response.url == f"/clubs/weir-street/nights/{night.pk}/"
    assert Attendance.objects.get().member == member


def test_an_organiser_answers_for_a_guest(night, organiser, guest, browse):
    browse(organiser).post(f"/clubs/weir-street/nights/{night.pk}/answer/", {"answer": "coming", "member": guest.pk})
    assert Attendance.objects.get().member == guest


def test_a_member_does_not_answer_for_others(night, member, guest, browse):
    response = browse(member).post(
        f"/clubs/weir-street/nights/{night.pk}/answer/", {"answer": "coming", "member": guest.pk}
    )
    assert response.status_code == 403
    assert not Attendance.objects.exists()


def test_reading_the_answer_page_changes_nothing(night, member, browse):
    assert browse(member).get(f"/clubs/weir-street/nights/{night.pk}/answer/?answer=coming").status_code == 200
    assert not Attendance.objects.exists()


def test_the_page_of_a_night_counts_who_is_coming(night, organiser, member, browse):
    answer_night(night, member=organiser, answer="coming", by=organiser)
    answer_night(night, member=member, answer="coming", by=member)
    assert "2 are coming" in browse(member).get(f"/clubs/weir-street/nights/{night.pk}/").content.decode()


def test_a_nights_own_venue_stays_to_choose_although_it_closed(venue, night, organiser, browse):
    change_venue(venue, name=venue.name, address="", note="", is_closed=True, by=organiser)
    form = {"venue": venue.pk, **TYPED, "title": "Last night here"}
    browse(organiser).post(f"/clubs/weir-street/nights/{night.pk}/edit/", form)
    night.refresh_from_db()
    assert night.title == "Last night here"


def test_a_night_is_cancelled_on_its_page(night, organiser, member, browse):
    assert browse(organiser).get(f"/clubs/weir-street/nights/{night.pk}/cancel/").status_code == 200
    browse(organiser).post(f"/clubs/weir-street/nights/{night.pk}/cancel/")
    page = browse(member).get(f"/clubs/weir-street/nights/{night.pk}/").content.decode()
    assert "cancelled" in page and "Are you coming?" not in page


def test_the_pages_of_nights_to_come_and_gone_by(club, venue, member, browse):
    today = timezone.localdate()
    factories.NightFactory(club=club, venue=venue, on=today, title="Muster")
    factories.NightFactory(club=club, venue=venue, on=today - timedelta(days=1), title="Remembrance")
    coming = browse(member).get("/clubs/weir-street/nights/").content.decode()
    past = browse(member).get("/clubs/weir-street/nights/?when=past").content.decode()
    assert "Muster" in coming and "Remembrance" not in coming
    assert "Remembrance" in past and "Muster" not in past
