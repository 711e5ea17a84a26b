"""A real site under several people at once, on SQLite or, where DATABASE_URL names a server, on a database made there."""

from __future__ import annotations

import http.client
import json
import os
import threading
import uuid
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlencode, urlsplit, urlunsplit

import pytest

from tests.servers import Server

TODAY = "2026-03-19"
CSRF = "c" * 32

MAKE_CLUB = (Path(__file__).parent / "make_club.py").read_text(encoding="utf-8")


@dataclass(frozen=True, kw_only=True)
class Site:
    """The running server and the people and things of its club, by name."""

    server: Server
    club: Mapping[str, Any]

    def told(self, who: str, path: str, body: Mapping[str, Any]) -> tuple[str, str, bytes, dict[str, str]]:
        """A request to the API, ready to be sent."""
        headers = {"Authorization": f"Bearer {self.club['tokens'][who]}", "Content-Type": "application/json"}
        return "POST", f"/api/v1/clubs/old-mill/{path}", json.dumps(body).encode(), headers

    def typed(self, who: str, path: str, form: Mapping[str, str]) -> tuple[str, str, bytes, dict[str, str]]:
        """A form sent by a browser that is signed in, ready to be sent."""
        headers = {
            "Cookie": f"session={self.club['sessions'][who]}; csrf={CSRF}",
            "Content-Type": "application/x-www-form-urlencoded",
            "X-CSRFToken": CSRF,
        }
        return "POST", path, urlencode(form).encode(), headers

    def read(self, path: str) -> Any:
        """What the API answers the organiser."""
        method, address, _body, headers = self.told("Mila", path, {})
        status, answer = send(self.server, (method.replace("POST", "GET"), address, b"", headers))
        assert status == 200, answer
        return json.loads(answer)

    def at_once(self, requests: Iterable[tuple[str, str, bytes, dict[str, str]]]) -> list[tuple[int, str]]:
        """Send all of them at the same moment, each by a connection of its own; the answers in the same order."""
        requests = list(requests)
        answers: list[tuple[int, str]] = [(0, "")] * len(requests)
        start = threading.Barrier(len(requests))

        def go(place: int) -> None:
            start.wait(timeout=20)
            answers[place] = send(self.server, requests[place])

        threads = [threading.Thread(target=go, args=(place,), daemon=True) for place in range(len(requests))]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join(timeout=60)
        return answers


def send(server: Server, request: tuple[str, str, bytes, dict[str, str]]) -> tuple[int, str]:
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
    try:
        connection.request(*request)
        answer = connection.getresponse()
        return answer.status, answer.read().decode()
    finally:
        connection.close()


@contextmanager
def database_of_our_own() -> Iterator[str]:
    """The address of a new database on the configured server, dropped afterwards; empty where SQLite is configured."""
    configured = os.environ.get("DATABASE_URL", "")
    if not configured:
        yield ""
        return
    import psycopg

    name = f"race_{uuid.uuid4().hex}"
    with psycopg.connect(configured, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
        try:
            yield urlunsplit(urlsplit(configured)._replace(path=f"/{name}"))
        finally:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """A club with an organiser, three players with an account each, rosters, planned games and a link for one."""
    with database_of_our_own() as database:
        server = Server(tmp_path_factory.mktemp("race"), workers=2, database=database)
        server.manage("migrate", "--verbosity", "0")
        printed = server.manage("shell", "--command", MAKE_CLUB)
        facts = next(line for line in printed.splitlines() if line.startswith("{"))
        server.start()
        try:
            yield Site(server=server, club=json.loads(facts))
        finally:
            server.stop()
