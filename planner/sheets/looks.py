"""Families on paper: a letter, a pattern of our own, and a colour that only helps.

The letter and the pattern tell families apart in grey; no colour stands for good or bad.
"""

from __future__ import annotations

import base64
from dataclasses import dataclass
from pathlib import Path

INK = "#14181F"
WHITE = "#FFFFFF"


@dataclass(frozen=True)
class Look:
    """`css` is the class of the plate and the bar; `letter_colour` stands on `colour`."""

    family: str
    letter: str
    name: str
    colour: str
    letter_colour: str
    pattern: str

    @property
    def css(self) -> str:
        return f"fam-{self.letter.lower()}"


LOOKS: tuple[Look, ...] = (
    Look("acceleration", "A", "Acceleration", "#1E5788", WHITE, "rising"),
    Look("top-speed", "V", "Top speed", "#17203A", WHITE, "solid"),
    Look("speed-endurance", "E", "Speed endurance", "#7488BD", INK, "upright"),
    Look("special-endurance", "X", "Special endurance", "#465A9A", WHITE, "lattice"),
    Look("tempo", "F", "Flow running, tempo", "#C49A37", INK, "level"),
    Look("run-ups", "R", "Run-ups", "#2B6A8F", WHITE, "falling"),
    Look("technical-jumps", "J", "Jumps, short run-up", "#5A2A6E", WHITE, "chevrons"),
    Look("full-jumps", "U", "Jumps, full run-up", "#3B1A52", WHITE, "peaks"),
    Look("low-multi-jumps", "P", "Pogos, low hops", "#BC8A57", INK, "crosses"),
    Look("high-multi-jumps", "B", "Bounds, depth jumps", "#8B4A12", WHITE, "dots"),
    Look("hurdles", "H", "Hurdles", "#6B3A4E", WHITE, "gates"),
    Look("throws", "W", "Throws", "#586332", WHITE, "arcs"),
    Look("strength", "L", "Lifting", "#2F7264", WHITE, "brick"),
    Look("general", "G", "General strength", "#93A08C", INK, "squares"),
    Look("recovery", "M", "Mobility, recovery", "#B4C0C6", INK, "pale"),
    Look("test", "T", "Tests", "#4A525C", WHITE, "rings"),
    Look("preparation", "D", "Drills", "#DADFE2", INK, "dashes"),
    Look("competition", "C", "Competition", "#14181F", WHITE, "checker"),
)
BY_FAMILY = {look.family: look for look in LOOKS}


def look_of(family: str) -> Look:
    """The look of a family; a coach's own family borrows the general one."""
    return BY_FAMILY.get(family, BY_FAMILY["general"])


def tile(look: Look, folder: Path) -> str:
    """The pattern's tile in the family's colour, as a data address that needs no file."""
    text = (folder / "patterns" / f"{look.pattern}.svg").read_text(encoding="utf-8")
    return _address(text.replace("currentColor", look.colour))


def strip(folder: Path) -> str:
    """The strip beside an attempt, a millimetre for each centimetre around the board's line, as a data address."""
    return _address((folder / "patterns" / "board-strip.svg").read_text(encoding="utf-8"))


def _address(text: str) -> str:
    one_line = text.replace("\n", "")
    return "data:image/svg+xml;base64," + base64.b64encode(one_line.encode()).decode("ascii")
