"""Reading the catalogue's own data files, with errors that name file and key."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"


class CatalogueError(ValueError):
    """A figure of the catalogue, or of a coach's own unit, that cannot be used.

    `problems` holds every one of them: where, what was found, what is needed, and a remedy.
    """

    def __init__(self, problems: Iterable[str]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(self.problems))


def problem(where: str, key: str, found: object, needed: str, maybe: str) -> str:
    """One problem as a sentence: place, what was found, what is needed, remedy."""
    return f"{where}, {key}: found {found!r}, needed {needed}. Maybe {maybe}"


def read(path: Path) -> dict[str, Any]:
    """A TOML data file as plain tables; CatalogueError when it is missing or is not TOML."""
    try:
        with path.open("rb") as stream:
            return tomllib.load(stream)
    except FileNotFoundError:
        text = problem(path.name, "(file)", "no file", "the data file", "the installation is incomplete.")
        raise CatalogueError([text]) from None
    except tomllib.TOMLDecodeError as error:
        text = problem(path.name, "(file)", str(error), "valid TOML", "a bracket or quote is missing.")
        raise CatalogueError([text]) from error


class Row:
    """One table of a data file. Typed getters collect problems; `finish` raises them all at once."""

    def __init__(self, where: str, prefix: str, values: Mapping[str, Any], problems: list[str]) -> None:
        self.where = where
        self.prefix = prefix
        self.values = values
        self.problems = problems
        self._seen: set[str] = set()

    def _wrong(self, key: str, found: object, needed: str, maybe: str) -> None:
        self.problems.append(problem(self.where, f"{self.prefix}{key}", found, needed, maybe))

    def _take(self, key: str, default: Any) -> Any:
        self._seen.add(key)
        if key in self.values:
            return self.values[key]
        if default is None:
            self._wrong(key, "nothing", "a value", "the line was left out.")
        return default

    def text(self, key: str, default: str | None = None, among: Iterable[str] = ()) -> str:
        value = self._take(key, default)
        if value is None:
            return ""
        if not isinstance(value, str):
            self._wrong(key, value, "text", "put it in quotes.")
            return ""
        choices = tuple(among)
        if choices and value not in choices:
            self._wrong(key, value, "one of " + ", ".join(choices), "the name is misspelt.")
        return value

    def whole(self, key: str, low: int, high: int, default: int | None = None) -> int:
        value = self._take(key, default)
        if value is None:
            return low
        if type(value) is not int or not low <= value <= high:
            self._wrong(key, value, f"a whole number from {low} to {high}", "the unit is another one.")
            return low
        return value

    def flag(self, key: str) -> bool:
        value = self._take(key, False)
        if not isinstance(value, bool):
            self._wrong(key, value, "true or false", "write it without quotes.")
            return False
        return value

    def pair(self, key: str, low: int, high: int) -> tuple[int, int]:
        """A range [low, high] in order."""
        value = self._take(key, None)
        if (
            not isinstance(value, list)
            or len(value) != 2
            or any(type(v) is not int for v in value)
            or not low <= value[0] <= value[1] <= high
        ):
            if value is not None:
                self._wrong(key, value, f"[low, high] from {low} to {high}", "low and high are swapped.")
            return (low, low)
        return (value[0], value[1])

    def words(self, key: str, among: Iterable[str] = ()) -> tuple[str, ...]:
        value = self._take(key, [])
        if not isinstance(value, list) or any(not isinstance(v, str) for v in value):
            self._wrong(key, value, "a list of texts", "put it in square brackets.")
            return ()
        choices = tuple(among)
        for word in value:
            if choices and word not in choices:
                self._wrong(key, word, "one of " + ", ".join(choices), "the name is misspelt.")
        return tuple(value)

    def numbers(
        self, key: str, low: int, high: int, among: Iterable[str] = (), need: bool = False
    ) -> dict[str, int]:
        """A table of whole numbers by name."""
        value = self._take(key, None if need else {})
        if value is None:
            return {}
        if not isinstance(value, dict):
            self._wrong(key, value, "a table of numbers by name", "put it in braces.")
            return {}
        choices = tuple(among)
        for name, number in value.items():
            if choices and name not in choices:
                self._wrong(f"{key}.{name}", name, "one of " + ", ".join(choices), "the name is misspelt.")
            if type(number) is not int or not low <= number <= high:
                needed = f"a whole number from {low} to {high}"
                self._wrong(f"{key}.{name}", number, needed, "the unit is another one.")
        return {k: v for k, v in value.items() if type(v) is int}

    def row(self, key: str) -> Row:
        """A table inside this one."""
        value = self._take(key, None)
        if not isinstance(value, dict):
            if value is not None:
                self._wrong(key, value, "a table", "put it in braces.")
            value = {}
        return Row(self.where, f"{self.prefix}{key}.", value, self.problems)

    def raw(self, key: str, default: Any) -> Any:
        return self._take(key, default)

    def wrong(self, key: str, found: object, needed: str, maybe: str) -> None:
        self._wrong(key, found, needed, maybe)

    def done(self) -> None:
        """Reports keys that nobody asked for."""
        for key in self.values:
            if key not in self._seen:
                self._wrong(key, key, "a known key", "the name is misspelt.")


def finish(problems: list[str]) -> None:
    """Raises CatalogueError when there is any problem."""
    if problems:
        raise CatalogueError(problems)
