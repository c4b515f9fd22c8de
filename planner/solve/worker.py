"""A worker process: takes a model, then pieces of it, and answers each. `python -m planner.solve.worker`.

It speaks through its standard input and output alone, so that no temporary file is needed, and it does not
hear an interrupt from the keyboard: the parent decides when to stop, and ends it.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys

from planner.solve.linear import Numbers
from planner.solve.pieces import solve_piece


def main() -> None:
    """Serve until the parent closes the pipe or is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    questions = sys.stdin.buffer
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a library prints must not come between the answers
    try:
        numbers = Numbers()
        while True:
            sent = pickle.load(questions)
            if isinstance(sent, Numbers):
                numbers = sent
                continue
            piece, limits = sent
            pickle.dump(solve_piece(numbers, piece, limits), answers, pickle.HIGHEST_PROTOCOL)
            answers.flush()
    except (EOFError, BrokenPipeError, MemoryError):  # without memory the parent does it, and says so
        return


if __name__ == "__main__":
    main()
