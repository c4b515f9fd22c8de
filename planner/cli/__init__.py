"""The coach's door: the command `planner`."""

from __future__ import annotations

import gc
import os
import signal
import sys

INTERRUPTED = 130
# A plan is many small objects that all live on: looking for circular garbage after every 700 of them, as Python
# does by itself, took a fifth of the time of every command.
SELDOM = (50_000, 20, 50)
KEPT = "Interrupted. What was recorded before is kept; look with 'planner history'."


def main() -> None:
    """Run the command line; every ending has its exit code and its sentence.

    0 done; 1 our bug; 2 the coach's file or arguments; 3 no plan satisfies the musts; 4 the reviewed plan
    breaks a must; 5 done, but something could not be written or drawn; 130 interrupted.
    """
    heard: list[int] = []
    gc.set_threshold(*SELDOM)

    def note(number: int, frame: object) -> None:
        heard.append(number)
        raise KeyboardInterrupt

    if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:
        signal.signal(signal.SIGINT, note)
    try:
        from planner.cli.app import app

        code = app(args=sys.argv[1:] or ["--help"], standalone_mode=False)
        if code == INTERRUPTED:  # typer makes this code of Ctrl-C, and says nothing
            raise KeyboardInterrupt
        sys.exit(code if isinstance(code, int) else 0)
    except KeyboardInterrupt:
        print(KEPT, file=sys.stderr)
        sys.exit(INTERRUPTED)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as error:  # the door: every error leaves as a sentence and a code, never a traceback
        from planner.cli.endings import OUR_BUG, columns, ending, fitted

        code, text = ending(error)
        if code == OUR_BUG and heard:  # a library that was interrupted while it loaded calls it an error
            code, text = INTERRUPTED, KEPT
        if code == OUR_BUG and os.environ.get("PLANNER_DEBUG"):
            raise
        print(fitted(text, columns(sys.stderr)), file=sys.stderr)
        sys.exit(code)
