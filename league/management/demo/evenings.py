"""The hall of the demo and its Thursdays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, time, timedelta

from league.clubs.models import Attendance, Club, Member, Night, Table
from league.clubs.services.nights import answer_night, plan_night
from league.clubs.services.venues import add_table, add_venue

__all__ = ["Evenings", "plan_evenings"]

THURSDAY = 3


@dataclass(frozen=True, slots=True)
class Evenings:
    """Four Thursdays: three that have been, and the next."""

    past: tuple[Night, Night, Night]
    coming: Night
    tables: tuple[Table, ...]


def plan_evenings(club: Club, people: Mapping[str, Member], today: date) -> Evenings:
    organiser = people["Odalys"]
    shed = add_venue(
        club,
        name="The boat shed",
        address="Weir Street 4",
        note="Key with Odalys. The stove needs half an hour.",
        by=organiser,
    )
    sizes = [(1800, 1200), (1800, 1200), (1200, 1200), (1200, 900), (1200, 1200)]
    tables = tuple(
        add_table(shed, number=number, width_mm=width, depth_mm=depth, by=organiser)
        for number, (width, depth) in enumerate(sizes, 1)
    )
    coming = today + timedelta(days=(THURSDAY - today.weekday()) % 7)
    days = [coming - timedelta(weeks=weeks) for weeks in (3, 2, 1)]
    first, second, third, ahead = (
        plan_night(club, venue=shed, on=day, starts_at=time(19, 0), ends_at=time(22, 30), by=organiser)
        for day in (*days, coming)
    )
    answers = {
        "Odalys": "coming",
        "Ulmar": "coming",
        "Brannoc": "coming",
        "Ceriden": "coming",
        "Tamsin": "maybe",
        "Jory": "away",
    }
    for name, answer in answers.items():
        answer_night(ahead, member=people[name], answer=Attendance.Answer(answer), by=people[name])
    answer_night(ahead, member=people["Gorran"], answer=Attendance.Answer.COMING, by=organiser)
    return Evenings(past=(first, second, third), coming=ahead, tables=tables)
