"""Tells on the terminal how far the search is; one line that is written over."""

from __future__ import annotations

from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from planner.solve import Progress

WIDTH = 79


class Teller:
    """Writes over one line when the stream is a terminal; says nothing when it is a file."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._shown = False

    def tell(self, progress: Progress) -> None:
        if self._stream.isatty():
            self._stream.write(f"\r{str(progress)[:WIDTH]:<{WIDTH}}")
            self._stream.flush()
            self._shown = True

    def done(self) -> None:
        if self._shown:
            self._stream.write("\r" + " " * WIDTH + "\r")
            self._stream.flush()
