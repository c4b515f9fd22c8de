"""Errors a coach can act on: each is a whole sentence and knows the exit code of the command it ends."""

from __future__ import annotations


class Told(Exception):
    """The base of all errors that are told, not traced. `str()` is what the coach reads.

    Exit codes: 2 the file or the arguments, 3 no plan satisfies the musts, 4 the reviewed plan breaks a
    must, 5 something could not be written or drawn.
    """

    exit_code = 2


class OurBug(Exception):
    """The parts of the program disagree. Nothing of it reaches paper; the command ends with exit code 1."""
