"""A placement made in one process is the same one in another, where words have other hashes."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from pathlib import Path

from planner.rules._tiny import World, problem

ROOT = Path(__file__).parents[2]
ASKED = """
import pickle, sys
from planner.rules._tiny import World, problem
made = problem(World(("mobility",))).candidates
sent = pickle.loads(sys.stdin.buffer.read())
print(sent[0] == made[0], sent[0] in frozenset(made), made[0] in frozenset(sent))
"""


def test_it_is_found_among_those_made_there() -> None:
    made = problem(World(("mobility",))).candidates
    assert made[0] in frozenset(made), "its hash is known before it is sent"
    for seed in ("1", "2"):
        told = subprocess.run(
            [sys.executable, "-c", ASKED],
            input=pickle.dumps(made),
            env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            timeout=120,
        )
        assert told.stdout.decode().split() == ["True"] * 3, told
