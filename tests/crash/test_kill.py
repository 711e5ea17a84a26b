"""A real server process is killed in the middle of writes, again and again: what was acknowledged is all there, whole.

Follows the shape of PostgreSQL's crash-restart tests (src/test/recovery): a real process, SIGKILL, start, look.
"""

from __future__ import annotations

import http.client
import json
import random
import sqlite3
import threading
import time
from uuid import uuid4

import pytest

from tests.servers import Server

pytestmark = [pytest.mark.crash, pytest.mark.xdist_group("browser")]

KILLS = 20
WRITERS = 3

MAKE_CLUB = """
from datetime import date
from accounts.services import issue_token, open_account
from league.clubs.services.clubs import found_club
from league.clubs.services.members import add_guest
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset
user = open_account(email="mila@example.org", name="Mila", password="a long enough password")
club = found_club(user, name="Old Mill", slug="old-mill", member_name="Mila")
organiser = club.members.get()
guest = add_guest(club, name="Gorran", by=organiser)
ruleset = create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
_token, secret = issue_token(user, name="crash", may_write=True)
print("FACTS", organiser.pk, guest.pk, ruleset.pk, secret)
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    server = Server(tmp_path_factory.mktemp("crash"), workers=2)
    server.manage("migrate", "--verbosity", "0")
    printed = server.manage("shell", "--command", MAKE_CLUB)
    facts = next(line for line in printed.splitlines() if line.startswith("FACTS")).split()[1:]
    return server, facts


class Writer(threading.Thread):
    """Logs one game after another until the server is gone; keeps what was acknowledged and what was not."""

    def __init__(self, server: Server, facts: list[str]) -> None:
        super().__init__(daemon=True)
        self.server = server
        self.facts = facts
        self.acknowledged: list[str] = []
        self.unanswered: list[dict] = []

    def run(self) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=10)
        while True:
            body = game(self.facts)
            try:
                status = post(connection, body, self.facts[3])
            except (OSError, http.client.HTTPException):
                self.unanswered.append(body)
                return
            assert status in {200, 201}
            self.acknowledged.append(body["submission"])


def game(facts: list[str]) -> dict:
    organiser, guest, ruleset, _secret = facts
    sides = [{"member_ids": [int(organiser)], "score": 12}, {"member_ids": [int(guest)], "score": 7}]
    return {"submission": str(uuid4()), "ruleset": int(ruleset), "on": "2026-03-19", "sides": sides}


def post(connection: http.client.HTTPConnection, body: dict, secret: str) -> int:
    headers = {"Authorization": f"Bearer {secret}", "Content-Type": "application/json"}
    connection.request("POST", "/api/v1/clubs/old-mill/game-log/", json.dumps(body), headers)
    answer = connection.getresponse()
    answer.read()
    return answer.status


def test_twenty_kills_lose_no_acknowledged_report_and_leave_no_half_one(site):
    server, facts = site
    chance = random.Random(20)
    acknowledged: list[str] = []
    unanswered: list[dict] = []
    for _kill in range(KILLS):
        server.start()
        acknowledged += send_again(server, unanswered, facts[3])
        writers = [Writer(server, facts) for _each in range(WRITERS)]
        for writer in writers:
            writer.start()
        time.sleep(chance.uniform(0.05, 0.6))
        server.kill()
        for writer in writers:
            writer.join(timeout=15)
        acknowledged += [submission for writer in writers for submission in writer.acknowledged]
        unanswered = [body for writer in writers for body in writer.unanswered]
    server.start()
    acknowledged += send_again(server, unanswered, facts[3])
    server.stop()
    assert len(acknowledged) > KILLS
    assert stored(server) == sorted(acknowledged)
    assert half_reports(server) == []
    assert server.manage("recount").strip().endswith("0 mismatches")


def send_again(server: Server, bodies: list[dict], secret: str) -> list[str]:
    """What got no answer is sent once more, as a phone would do; it may have been written or not, and counts once."""
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=10)
    assert all(post(connection, body, secret) in {200, 201} for body in bodies)
    return [body["submission"] for body in bodies]


def rows(server: Server, query: str) -> list[str]:
    with sqlite3.connect(server.data / "drumhead.sqlite3") as database:
        return [row[0] for row in database.execute(query)]


def stored(server: Server) -> list[str]:
    """Every submission that made a report, once for each report it made."""
    found = rows(server, "SELECT submission FROM battles_report")
    return sorted(f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}" for text in found)


def half_reports(server: Server) -> list[str]:
    """Reports that do not speak of two sides with a player each."""
    return rows(
        server,
        """
        SELECT report.id FROM battles_report report
        WHERE 2 <> (SELECT count(*) FROM battles_sideresult result WHERE result.report_id = report.id)
           OR 2 <> (SELECT count(*) FROM battles_sideplayer player WHERE player.game_id = report.game_id)
        """,
    )
