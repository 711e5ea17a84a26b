"""How long the spares search keeps the database busy: one club with 100,000 holdings and 300,000 lines of record.

Run with `pytest tests/benchmarks/test_spares_search.py --benchmark-only -s`, and under `.ci/with-postgres` for the
other database; a plain run skips it. The ratio is to a club of 1,000 holdings in the same run.
"""

from __future__ import annotations

import random
import time
import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from league.stores.models import Act, Holding, ItemKind, Loan, Movement, Promise
from league.stores.queries import SpareAsk, find_spares
from tests import factories

COLOURS = ("red", "white", "blue", "green", "yellow", "black", "grey", "brown", "violet", "orange", "pink", "tan")
SORTS = ("marker", "token", "die", "template", "ruler", "bag")
WORST_MS = 50
PAGE = 50
QUERIES = 5


def fill(club, holdings: int, *, today):
    """Sixty kinds in twelve colours with forty owners; every third holding has been lent from, some is promised."""
    dice = random.Random(holdings)
    people = [factories.MemberFactory(club=club, name=f"Owner {n}") for n in range(40)]
    kinds = ItemKind.objects.bulk_create(
        ItemKind(
            club=club,
            key=f"kind-{n}",
            name=f"{SORTS[n % len(SORTS)]} of sort {n // len(SORTS)}",
            category=SORTS[n % len(SORTS)],
            created_at=factories.clubs.LONG_AGO,
        )
        for n in range(60)
    )
    now = timezone.now()
    rows = Holding.objects.bulk_create(
        (
            Holding(
                club=club,
                kind=dice.choice(kinds),
                owner=dice.choice(people),
                colour=dice.choice(COLOURS),
                created_at=now,
            )
            for _each in range(holdings)
        ),
        batch_size=2_000,
    )
    lent = rows[::3]
    loans = Loan.objects.bulk_create(
        (
            Loan(
                holding=each,
                borrower=dice.choice(people),
                count=3,
                due_on=today + timedelta(days=dice.randrange(1, 60)),
                asked_by=people[0],
                asked_at=now,
                agreed_at=now,
                handed_at=now,
            )
            for each in lent
        ),
        batch_size=2_000,
    )
    Movement.objects.bulk_create(lines_of(rows, {loan.holding_id: loan for loan in loans}, now), batch_size=2_000)
    night = factories.NightFactory(club=club, on=today + timedelta(days=7))
    Promise.objects.bulk_create(
        Promise(night=night, holding=each, member=each.owner, by=each.owner, count=2, promised_at=now)
        for each in rows[::200]
    )
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def lines_of(rows, loans, now):
    for each in rows:
        yield Movement(holding=each, sequence=1, act=Act.BOUGHT, change=12, held_after=12, out_after=0, at=now)
        yield Movement(holding=each, sequence=2, act=Act.LOST, change=-1, held_after=11, out_after=0, at=now)
        if loan := loans.get(each.pk):
            facts = {"holding": each, "loan": loan, "held_after": 11, "out_after": 3, "loan_out_after": 3, "at": now}
            yield Movement(sequence=3, act=Act.LENT, out_change=3, **facts)
            yield Movement(sequence=4, act=Act.HANDED_OVER, **facts)
            yield Movement(sequence=5, act=Act.HANDED_OVER, **facts)


def busy_ms(user, club, ask, *, today):
    """Milliseconds that the queries of a page keep the database busy, rows fetched, each the best of five."""
    with CaptureQueriesContext(connection) as queries:
        spares = find_spares(user, club, ask, today=today)
        found = spares.holdings[:PAGE]
    assert found
    assert len(queries) <= QUERIES
    return sum(min(fetched_in(each["sql"]) for _run in range(5)) for each in queries.captured_queries)


def fetched_in(sql):
    began = time.perf_counter()
    with connection.cursor() as cursor:
        cursor.execute(sql)
        cursor.fetchall()
    return (time.perf_counter() - began) * 1000


def test_the_database_answers_soon(benchmark, crowds):
    for text in ("red markers free on the 12th", "red", "markers", ""):
        small, large = (
            busy_ms(who.user, club, SpareAsk(text=text), today=crowds["today"]) for club, who in crowds["clubs"]
        )
        print(  # noqa: T201 - a benchmark says what it measured
            f"\n{connection.vendor}, “{text}”: {large:.1f} ms of database among 100,000 holdings, "
            f"{large / small:.1f} times a club of 1,000"
        )
        # A search for nothing in particular, which no page offers, is shown beside the others and not judged.
        assert large < WORST_MS or not text
    club, who = crowds["clubs"][-1]
    ask = SpareAsk(text="red markers free on the 12th")
    benchmark(lambda: find_spares(who.user, club, ask, today=crowds["today"]).holdings[:PAGE])


@pytest.fixture
def crowds(db):
    today = timezone.localdate()
    clubs = []
    for size in (1_000, 100_000):
        club = factories.ClubFactory(slug=f"crowd-{size}-{uuid.uuid4().hex[:6]}")
        fill(club, size, today=today)
        clubs.append((club, factories.MemberFactory(club=club, name="Seeker")))
    return {"today": today, "clubs": clubs}
