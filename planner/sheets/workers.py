"""A second process for heavy work: deaf to Ctrl-C, which its parent hears, and gone as soon as its parent is."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from multiprocessing.connection import Connection
from queue import Empty, SimpleQueue
from typing import Generic, TypeVar

T = TypeVar("T")
R = TypeVar("R")

POLL_SECONDS = 0.05  # how often a waiting parent asks whether it should stop; no influence on any byte
END_SECONDS = 5.0  # a process that was told to end has this long before it is made to


class Worker(Generic[T, R]):
    """Does `work` on some items in a process of its own, started afresh: no state of the caller goes along.

    Its answers come one by one, in the order of the items; they end early when it dies.
    """

    def __init__(self, work: Callable[[Sequence[T]], Iterable[R]], items: Sequence[T]) -> None:
        """Starts at once; OSError when no process can be had."""
        context = multiprocessing.get_context("spawn")
        self._answers, theirs = context.Pipe(duplex=False)
        self._process = context.Process(target=_run, args=(work, items, theirs), daemon=True)
        self._come: SimpleQueue[tuple[R] | None] = SimpleQueue()  # None: no more will come
        self._over = False
        self._listener = threading.Thread(target=self._listen, daemon=True)
        try:
            with _deaf():
                self._process.start()
                self._listener.start()
        except OSError:
            self._answers.close()
            raise
        finally:
            theirs.close()  # then a worker that dies is seen as the end of its answers

    def _listen(self) -> None:
        """Takes every answer as it comes: one is larger than a pipe holds, and its maker would wait for room."""
        try:
            while True:
                self._come.put((self._answers.recv(),))
        except (EOFError, OSError, MemoryError):  # done, killed, or an error that its parent meets too
            self._come.put(None)

    def so_far(self) -> Iterator[R]:
        """What has come since it was last asked, without waiting."""
        while not self._over and not self._come.empty():
            yield from self._taken(self._come.get())

    def rest(self, stop: Callable[[], bool]) -> Iterator[R]:
        """What comes from now on; it ends early when `stop` says so."""
        while not self._over:
            try:
                answer = self._come.get(timeout=POLL_SECONDS)
            except Empty:
                if stop():
                    return
            else:
                yield from self._taken(answer)

    def _taken(self, answer: tuple[R] | None) -> Iterator[R]:
        self._over = answer is None
        yield from answer or ()

    def end(self) -> None:
        """Leaves no process behind, whatever it was doing."""
        self._process.terminate()
        self._process.join(END_SECONDS)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()
        self._listener.join(END_SECONDS)  # it heard the end of the process
        self._answers.close()


def _run(
    work: Callable[[Sequence[T]], Iterable[R]], items: Sequence[T], answers: Connection[R, object]
) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    try:
        for answer in work(items):
            answers.send(answer)
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
