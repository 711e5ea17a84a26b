"""A real server process on a folder of its own, as a club would run it."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
START_LIMIT = 30


class Server:
    """Gunicorn in a process group of its own, so that a kill takes the workers with it."""

    def __init__(self, data: Path, *, workers: int = 1, database: str = "") -> None:
        """`database` is a DATABASE_URL; without one the server keeps SQLite in its folder."""
        self.data = data
        self.database = database
        self.workers = workers
        self.port = free_port()
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def environment(self) -> dict[str, str]:
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("DRUMHEAD_", "DATABASE_"))}
        ours = {"DRUMHEAD_DATA": str(self.data), "DJANGO_SETTINGS_MODULE": "league.settings"}
        return {**kept, **ours, **({"DATABASE_URL": self.database} if self.database else {})}

    def manage(self, *arguments: str) -> str:
        """Run a command of manage.py on this server's data and return what it printed."""
        done = subprocess.run(
            [sys.executable, "manage.py", *arguments],
            cwd=ROOT,
            env=self.environment,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def start(self) -> None:
        command = [sys.executable, "-m", "gunicorn", "league.wsgi", "--bind", f"127.0.0.1:{self.port}"]
        command += ["--workers", str(self.workers), "--threads", "4", "--log-level", "warning", "--no-control-socket"]
        self.process = subprocess.Popen(
            command, cwd=ROOT, env=self.environment, start_new_session=True, stdout=subprocess.DEVNULL
        )
        deadline = time.monotonic() + START_LIMIT
        while time.monotonic() < deadline:
            try:
                with urllib.request.urlopen(f"{self.url}/healthz", timeout=1):
                    return
            except OSError:
                assert self.process.poll() is None, "the server ended while starting"
                time.sleep(0.05)
        raise AssertionError("the server did not start in time")

    def kill(self) -> None:
        """SIGKILL to the whole group: no goodbye, as in a power cut of the process."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def stop(self) -> None:
        if self.process and self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGTERM)
            self.process.wait(timeout=20)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]
