"""A shoe an athlete runs up in. Its name tells it from the athlete's other shoes, its length belongs to it.

A start mark stands for one shoe: another one lands the foot elsewhere (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

LONGEST_NAME = 24  # signs; it stands in the head of a column on paper
UNNAMED = "shoe not named"
NEEDED = "a shoe's name, its length with the unit, or both, such as 'spikes 26.2 cm'"
_LENGTH = re.compile(r"(?:(?P<name>.*?)[\s,(]+)?(?P<figure>\d+(?:[.,]\d+)?)\s*(?P<unit>cm|mm)\)?", re.IGNORECASE)
_SIZE = re.compile(r"(?:(?:eu|uk|us|size)\s*)*\d+(?:[.,]\d+)?", re.IGNORECASE)


@dataclass(frozen=True)
class Shoe:
    """`name` is '' while it has none, `length` the outer length in millimetres, None while not measured."""

    name: str = ""
    length: int | None = None

    @property
    def said(self) -> bool:
        """Whether anything is known of it: a name or a length."""
        return bool(self.name) or self.length is not None

    @property
    def label(self) -> str:
        """What it is called: 'spikes', or '26.2 cm' without a name; '' where nothing is known."""
        return self.name or ("" if self.length is None else f"{self.length / 10:.1f} cm")

    def __str__(self) -> str:
        """'spikes 26.2 cm', as it is written in a file, or 'shoe not named'."""
        if self.name and self.length is not None:
            return f"{self.name} {self.length / 10:.1f} cm"
        return self.label or UNNAMED


NO_SHOE = Shoe()


def shoe_of(text: str) -> Shoe:
    """The shoe of these words: 'spikes', '26.2 cm', 'spikes 26.2 cm', '262 mm'; '' is none.

    ValueError says what is needed instead.
    """
    text = " ".join(text.split())
    if not text:
        return NO_SHOE
    found = _LENGTH.fullmatch(text)
    name = (found["name"] or "") if found else text
    name = name.strip(" ,(")
    if name and (len(name) > LONGEST_NAME or ";" in name or not name[0].isalnum()):
        raise ValueError(f"{NEEDED}; a name begins with a letter and has at most {LONGEST_NAME} signs")
    if name and _SIZE.fullmatch(name):
        raise ValueError(f"{NEEDED}; a size is no length")
    if not found:
        return Shoe(name)
    tenths = round(float(found["figure"].replace(",", ".")) * (10 if found["unit"].casefold() == "cm" else 1), 3)
    if not tenths.is_integer():
        raise ValueError(f"{NEEDED}; in whole millimetres")
    return Shoe(name, int(tenths))


def alike(a: str, b: str) -> bool:
    """Whether two names of shoes are one: capitals, blanks and hyphens do not matter."""
    return _plain(a) == _plain(b)


def _plain(name: str) -> str:
    return re.sub(r"[\s_-]+", "", name.casefold())


def different(said: Iterable[Shoe]) -> tuple[Shoe, ...]:
    """The different shoes among those said, in order of first mention, each with its length where one has it.

    A length alone means the one named shoe of that length, if there is just one.
    """
    every = tuple(said)
    named: dict[str, Shoe] = {}
    for s in every:
        if s.name:
            known = named.get(_plain(s.name))
            named[_plain(s.name)] = Shoe(known.name, known.length or s.length) if known else s
    found: dict[Shoe, None] = {}
    for s in every:
        found[named[_plain(s.name)] if s.name else _by_length(s, tuple(named.values()))] = None
    return tuple(found)


def _by_length(said: Shoe, named: Sequence[Shoe]) -> Shoe:
    same = [s for s in named if said.length is not None and s.length == said.length]
    return same[0] if len(same) == 1 else said


def meant_among(said: Shoe, own: Sequence[Shoe]) -> tuple[Shoe, ...]:
    """Which of an athlete's shoes words can mean: one when they are clear, several when not, none if it is new."""
    if said.name:
        return tuple(s for s in own if alike(s.name, said.name))
    if said.length is not None:
        return tuple(s for s in own if s.length == said.length)
    return tuple(own)


def worn(said: Shoe, own: Sequence[Shoe]) -> Shoe:
    """The shoe something recorded counts for: the one meant, the first where none was said, else itself."""
    found = meant_among(said, own)
    return found[0] if found else said
