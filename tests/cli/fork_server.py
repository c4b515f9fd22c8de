"""A warm process that runs commands in children of its own, and kills them where a test says.

Read from standard input, a JSON object a line: `words` of the command; `statement` kills the child before
its n-th statement of a transaction that writes; `after` kills it so many seconds after it began; `to` is the
file that takes what it says, line by line as at a terminal. Answers: how it ended, how many statements of
writing it had begun, how many seconds it took.
"""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import sys
import time
from typing import Any


def warm() -> None:
    """Load what commands load, so that a child begins at once."""
    from planner.rules import book
    from planner.solve.search import solve

    assert book() and solve


def traced(counter: int, doomed: int) -> None:
    """From now on statements inside a write are counted in a pipe; before the n-th the process kills itself."""
    plain = sqlite3.connect

    def connect(*args: Any, **how: Any) -> sqlite3.Connection:
        connection = plain(*args, **how)
        connection.execute("PRAGMA cache_size = 1")  # half-changed pages reach the file before the end
        seen = [0]

        def trace(statement: str) -> None:
            if statement.startswith("BEGIN IMMEDIATE"):
                seen[0] = 1
            elif seen[0]:
                seen[0] += 1
                os.write(counter, b".")
                if seen[0] - 1 == doomed:
                    os.kill(os.getpid(), signal.SIGKILL)
                if statement.startswith(("COMMIT", "ROLLBACK")):
                    seen[0] = 0

        connection.set_trace_callback(trace)
        return connection

    sqlite3.connect = connect  # type: ignore[assignment]


def run(order: dict[str, Any]) -> dict[str, Any]:
    read_end, write_end = os.pipe()
    began = time.monotonic()
    child = os.fork()
    if child == 0:
        os.close(read_end)
        code = 1
        try:
            out = open(order["to"], "w", encoding="utf-8", buffering=1)  # noqa: SIM115  # the child ends with it
            sys.stdout = sys.stderr = out
            os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
            sys.stdin = open(0, encoding="utf-8")  # noqa: SIM115
            traced(write_end, order.get("statement", 0))
            sys.argv = ["planner", *order["words"]]
            from planner.cli import main

            main()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 1
        finally:
            os._exit(code)
    os.close(write_end)
    if "after" in order:
        time.sleep(order["after"])
        os.kill(child, signal.SIGKILL)
    with os.fdopen(read_end, "rb") as pipe:
        statements = len(pipe.read())
    _, status = os.waitpid(child, 0)
    return {
        "killed": os.WIFSIGNALED(status),
        "code": -1 if os.WIFSIGNALED(status) else os.WEXITSTATUS(status),
        "statements": statements,
        "seconds": time.monotonic() - began,
    }


if __name__ == "__main__":
    warm()
    print("ready", flush=True)
    for line in sys.stdin:
        print(json.dumps(run(json.loads(line))), flush=True)
