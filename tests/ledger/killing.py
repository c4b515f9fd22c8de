"""Processes that are killed on purpose: a child of the test's own, at a moment the test chooses."""

from __future__ import annotations

import os
import signal
import sqlite3
from collections.abc import Callable


def in_a_child(work: Callable[[], None]) -> int:
    """Run `work` in a process of its own; its id. It ends without touching the tests' own state."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work()
            code = 0
        finally:
            os._exit(code)
    return child


def killed_by(child: int) -> int:
    """The signal that ended a child, 0 when it ended by itself without an error."""
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0, f"a child failed: {status}"
    return os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0


def killed_before_statement(n: int) -> Callable[[object], None]:
    """A trace that kills its own process when the n-th statement is about to run."""
    left = [n]

    def trace(_: object) -> None:
        left[0] -= 1
        if left[0] == 0:
            os.kill(os.getpid(), signal.SIGKILL)

    return trace


def killed_at(n: int, work: Callable[[], None]) -> bool:
    """Run `work` in a child that dies before its n-th statement; False when it ended before that."""
    plain = sqlite3.connect

    def doomed() -> None:
        def traced(*args: object, **how: object) -> sqlite3.Connection:
            connection = plain(*args, **how)  # type: ignore[call-overload]
            # A cache this small is written out before the end: the file itself is half-changed when the
            # process dies, and only the journal can bring it back.
            connection.execute("PRAGMA cache_size = 1")
            connection.set_trace_callback(killed_before_statement(n))
            return connection

        sqlite3.connect = traced  # type: ignore[assignment]
        work()

    return killed_by(in_a_child(doomed)) == signal.SIGKILL
