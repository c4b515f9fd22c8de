"""A second process for heavy work: deaf to Ctrl-C, which its parent hears, and gone as soon as its parent is."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from multiprocessing.connection import Connection
from typing import Generic, TypeVar

T = TypeVar("T")
R = TypeVar("R")

POLL_SECONDS = 0.05  # how often a waiting parent asks whether it should stop; no influence on any byte
END_SECONDS = 5.0  # a process that was told to end has this long before it is made to


class Worker(Generic[T, R]):
    """Does `work` on some items in a process of its own, started afresh: no state of the caller goes along."""

    def __init__(self, work: Callable[[Sequence[T]], Sequence[R]], items: Sequence[T]) -> None:
        """Starts at once; OSError when no process can be had."""
        context = multiprocessing.get_context("spawn")
        self._answers, theirs = context.Pipe(duplex=False)
        self._process = context.Process(target=_run, args=(work, items, theirs), daemon=True)
        try:
            with _deaf():
                self._process.start()
        except OSError:
            self._answers.close()
            raise
        finally:
            theirs.close()  # then a worker that dies is seen as the end of its answers

    def result(self, stop: Callable[[], bool]) -> list[R] | None:
        """What it made of its items; None when it died, or when `stop` said so before it was ready."""
        try:
            while not self._answers.poll(POLL_SECONDS):
                if stop():
                    return None
            found: list[R] = self._answers.recv()
            return found
        except (EOFError, OSError):  # killed from outside, out of memory, or an error that its parent meets too
            return None

    def end(self) -> None:
        """Leaves no process behind, whatever it was doing."""
        self._answers.close()
        self._process.terminate()
        self._process.join(END_SECONDS)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()


def _run(
    work: Callable[[Sequence[T]], Sequence[R]], items: Sequence[T], answers: Connection[Sequence[R], object]
) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    try:
        answers.send(work(items))
    except (OSError, MemoryError):
        return  # the parent does it then, and says what is wrong


def _leave_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


@contextmanager
def _deaf() -> Iterator[None]:
    """A process that is started meanwhile never hears Ctrl-C, not even while it loads its modules."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
