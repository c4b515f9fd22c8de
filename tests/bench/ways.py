"""Measure the three ways to search on small generated squads, each from the first plan, in one piece.

    python tests/bench/ways.py 4x1 8x1 2x2 [--seeds 5] [--budget 5]

A line for each squad and way: proved or not, value and bound of the should tier, deterministic seconds (what
budgets count) and the processor's.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from typing import get_args

from generated import size_of, write_file
from peers import begun

from planner.known import understand
from planner.solve.cpsat import Limits, Way, Written


def measure(words: str, random_seed: int, budget: float) -> None:
    """Print a line for each way."""
    with tempfile.TemporaryDirectory() as folder:
        problem = understand(write_file(Path(folder), *size_of(words), random_seed))
    model, state = begun(problem)
    print(f"{words}, random seed {random_seed}, {len(model.store.free)} candidates, first {state.price.should}")
    for way in get_args(Way):
        written = Written(model)
        written.minimise(written.terms("should"), model.constant["should"])
        written.hint(state.start(model))
        began = time.process_time()
        answer = written.run(Limits(budget, way=way))
        seconds = time.process_time() - began
        value = None if answer.values is None else model.price(_all(answer.values, len(model.low)), "should")
        proved = "proved" if value == answer.bound else "not proved"
        print(
            f"  {way:<8}{proved:<11} value {value}, bound {answer.bound}, "
            f"{answer.spent:.2f} deterministic s, {seconds:.1f} of the processor",
            flush=True,
        )


def _all(values: Mapping[int, int], count: int) -> list[int]:
    """Values of all columns; the two constants are no variables of the solver."""
    return [1, 0, *(values[c] for c in range(2, count))]


def main() -> int:
    """Measure the sizes asked for."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("sizes", nargs="+", help="athletes x weeks")
    asked.add_argument("--seeds", type=int, default=3)
    asked.add_argument("--budget", type=float, default=5.0, help="deterministic seconds for each way")
    given = asked.parse_args()
    for words in given.sizes:
        for seed in range(1, given.seeds + 1):
            measure(words, seed, given.budget)
    return 0


if __name__ == "__main__":
    sys.exit(main())
