"""One process plans kit, pairs rounds and supplies wars, and no solver may spoil it for the next.

HiGHS keeps the number of threads of its first run for the whole process and refuses any other.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
import random
from league.engines.kit.plan import plan_night
from tests.engines.kit.evenings import tiny
from tests.engines.pairing.test_bounds_by_kinds import test_the_bound_is_sharp_where_a_group_leans_one_way as sharp
from tests.engines.kit.club_evening import evening
plan_night(tiny(random.Random(1)))
plan_night(evening(1, tables=6, people=12))
sharp()
"""


def test_a_bound_of_pairing_is_as_sharp_after_a_night_was_planned():
    done = subprocess.run([sys.executable, "-c", PROGRAM], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
