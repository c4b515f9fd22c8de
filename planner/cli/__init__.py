"""The coach's door: the command `planner`."""

from __future__ import annotations

import os
import sys


def main() -> None:
    """Run the command line; every ending has its exit code and its sentence.

    0 done; 1 our bug; 2 the coach's file or arguments; 3 no plan satisfies the musts; 4 the reviewed plan
    breaks a must; 5 done, but something could not be written or drawn; 130 interrupted.
    """
    from planner.cli.app import app
    from planner.cli.endings import ending

    try:
        code = app(args=sys.argv[1:] or ["--help"], standalone_mode=False)
        sys.exit(code if isinstance(code, int) else 0)
    except KeyboardInterrupt:
        print("Interrupted; nothing new was recorded.", file=sys.stderr)
        sys.exit(130)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as error:  # the door: every error leaves as a sentence and a code, never a traceback
        code, text = ending(error)
        if code == 1 and os.environ.get("PLANNER_DEBUG"):
            raise
        print(text, file=sys.stderr)
        sys.exit(code)
