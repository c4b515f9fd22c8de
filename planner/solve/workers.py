"""Pieces of a model solved in several processes at once; the answers are the same with any number of them.

Each worker takes the next piece that nobody has taken; the answers come back in the order of the pieces.
When a worker ends (killed, out of memory) its piece is solved here, and a warning says so.
"""

from __future__ import annotations

import logging
import os
import pickle
import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import suppress
from dataclasses import replace
from queue import SimpleQueue
from threading import Lock
from types import TracebackType

from planner.solve.cpsat import POLL_SECONDS, Answer, Limits
from planner.solve.linear import Numbers
from planner.solve.pieces import Piece, solve_piece

MOST_PROCESSES = 2  # unless the caller says otherwise; each holds a copy of the model
SIDE_BY_SIDE = 2  # pieces counted as solved at the same time, whatever the number of processes
STOPPED = Answer(None, None, stopped=True)
SLOWER = "The plan is the same; it only takes longer. Maybe other programs need the memory: close some."
ENDED_EARLY = f"One of the processes that look for a better plan was ended from outside. {SLOWER}"
NOT_STARTED = f"A process that looks for a better plan could not be started (%s). {SLOWER}"
_log = logging.getLogger(__name__)


def usual_number() -> int:
    """As many processes as there are processors, two at most."""
    return min(MOST_PROCESSES, os.cpu_count() or 1)


def charge(answers: Sequence[Answer]) -> float:
    """What several pieces take of a budget: their deterministic seconds, as if two ran side by side.

    The same with any number of processes, so that the plan does not hang on it.
    """
    return sum(answer.spent for answer in answers) / (SIDE_BY_SIDE if len(answers) > 1 else 1)


class Workers:
    """Some worker processes that hold one model. With a number of 1 everything is solved in this process."""

    def __init__(self, number: int) -> None:
        """Start the processes at once, so that they load the solver while the model is still written."""
        self._numbers: Numbers | None = None
        self._idle: SimpleQueue[_Worker | None] = SimpleQueue()
        self._alive: list[_Worker] = []
        self._ended = False
        self._lock = Lock()  # for the two above: every waiting thread may find a worker dead
        if number > 1:
            self._start(number)

    def _start(self, number: int) -> None:
        for _ in range(number):
            try:
                self._alive.append(_Worker())
            except OSError as error:
                _log.warning(NOT_STARTED, error)
                return

    def __enter__(self) -> Workers:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.end()

    @property
    def process_ids(self) -> list[int]:
        """Of the workers that are alive as far as we know."""
        return [worker.process_id for worker in self._alive]

    def end(self) -> None:
        """End all processes at once, whatever they are doing; those who wait for them are told 'stopped'."""
        with self._lock:
            self._ended = True  # nobody reports them as ended from outside
            alive, self._alive = self._alive, []
        for worker in alive:
            worker.kill()

    def load(self, numbers: Numbers) -> None:
        """The model whose pieces will be asked for from now on."""
        begun = self._numbers is not None
        self._numbers = numbers
        if self._alive:
            message = pickle.dumps(numbers, pickle.HIGHEST_PROTOCOL)
            for worker in self._alive:
                worker.first = message
                if not begun:
                    self._idle.put(worker)

    def solve(self, pieces: Sequence[Piece], limits: Limits) -> list[Answer]:
        """An answer for every piece, in their order; `stopped` where the limits' `stop` came first."""
        if not self._alive or len(pieces) < 2:
            return [self._here(piece, limits) for piece in pieces]
        limits = replace(limits, watch=None)
        with ThreadPoolExecutor(len(self._alive)) as pool:
            asked = [pool.submit(self._ask, piece, limits) for piece in pieces]
            if not self._wait(asked, limits):
                for future in asked:
                    future.cancel()
                self.end()
        return [STOPPED if future.cancelled() else future.result() for future in asked]

    def _here(self, piece: Piece, limits: Limits) -> Answer:
        if limits.stop is not None and limits.stop():
            return STOPPED
        assert self._numbers is not None
        return solve_piece(self._numbers, piece, limits)

    def _wait(self, asked: Sequence[Future[Answer]], limits: Limits) -> bool:
        """True when all answers are there, False when somebody said stop first."""
        waiting = set(asked)
        try:
            while waiting:
                _, waiting = wait(waiting, timeout=POLL_SECONDS)
                if waiting and limits.stop is not None and limits.stop():
                    return False
        except KeyboardInterrupt:
            return False
        return True

    def _ask(self, piece: Piece, limits: Limits) -> Answer:
        """The answer of the next idle worker; once a worker has ended, this process stands in for it."""
        worker = self._idle.get()
        try:
            answer = None if worker is None else worker.ask(piece, limits)
            if answer is None and worker is not None:
                self._lost(worker)
                worker = None
            if answer is None:
                answer = STOPPED if self._ended else self._here(piece, limits)
            return answer
        finally:
            self._idle.put(worker)

    def _lost(self, worker: _Worker) -> None:
        """A worker gave no answer: somebody outside ended it, unless we did."""
        with self._lock:
            if self._ended:
                return
            self._alive.remove(worker)
        worker.kill()
        _log.warning(ENDED_EARLY)


class _Worker:
    """One process and the pipes to it."""

    def __init__(self) -> None:
        self.first = b""  # what it has to be sent before its next question
        paths = os.pathsep.join(os.path.abspath(path) for path in sys.path)
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "planner.solve.worker"],  # -P: nothing of the coach's folder is run
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": paths},
            start_new_session=True,  # Ctrl-C in the terminal is for the parent alone
        )

    @property
    def process_id(self) -> int:
        return self._process.pid

    def ask(self, piece: Piece, limits: Limits) -> Answer | None:
        """Its answer; None when it has ended."""
        assert self._process.stdin is not None and self._process.stdout is not None
        try:
            self._process.stdin.write(self.first)
            self.first = b""
            pickle.dump((piece, replace(limits, stop=None)), self._process.stdin, pickle.HIGHEST_PROTOCOL)
            self._process.stdin.flush()
            answer = pickle.load(self._process.stdout)
        except (OSError, ValueError, EOFError, pickle.UnpicklingError):
            return None
        return answer if isinstance(answer, Answer) else None

    def kill(self) -> None:
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with suppress(BrokenPipeError):  # what it had not read is of no use any more
                    pipe.close()
