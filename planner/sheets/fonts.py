"""Fonts: the shipped faces first, the system's for other scripts, and a word when neither has a sign."""

from __future__ import annotations

import sys
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from html import escape
from pathlib import Path
from typing import Any

from planner.sheets.assets import assets

SYSTEM_CONFIGURATIONS = (
    "/etc/fonts/fonts.conf",
    "/usr/local/etc/fonts/fonts.conf",
    "/opt/homebrew/etc/fonts/fonts.conf",
    "C:/msys64/ucrt64/etc/fonts/fonts.conf",
    "C:/msys64/mingw64/etc/fonts/fonts.conf",
)
SYSTEM_FOLDERS = (
    "/usr/share/fonts",
    "/usr/local/share/fonts",
    "~/.fonts",
    "~/.local/share/fonts",
    "/System/Library/Fonts",
    "/Library/Fonts",
    "~/Library/Fonts",
    "C:/Windows/Fonts",
)
WIDTHS_KNOWN = 16_384  # the words of a board come again and again: a large squad has a few thousand
ENDINGS = (".ttf", ".otf", ".ttc", ".otc")


def font_configuration(fonts: Path, scratch: Path, users_own: str | None) -> str:
    """A fontconfig file: our folder, then the user's own file or the system's."""
    other = [users_own] if users_own else [p for p in SYSTEM_CONFIGURATIONS if Path(p).is_file()]
    lines = [
        '<?xml version="1.0"?>',
        '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">',
        "<fontconfig>",
        f"<dir>{escape(str(fonts))}</dir>",
        *(f'<include ignore_missing="yes">{escape(p)}</include>' for p in other),
        *(() if other else (f"<dir>{escape(str(Path(p).expanduser()))}</dir>" for p in SYSTEM_FOLDERS)),
        f"<cachedir>{escape(str(scratch / 'cache'))}</cachedir>",
        "</fontconfig>",
    ]
    return "\n".join(lines) + "\n"


def uncovered(text: str, fonts: Path) -> tuple[str, ...]:
    """Signs of the text that no font on this machine can draw, in order of their code."""
    signs = {ord(c) for c in text if not _invisible(c)}
    for path in sorted(fonts.glob("*Regular.ttf")):
        signs -= _covered(path)
    if signs:
        for path in _system_fonts():
            signs -= _covered(path)
            if not signs:
                break
    return tuple(chr(s) for s in sorted(signs))


def _invisible(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cf", "Zs", "Zl", "Zp") or 0xFE00 <= ord(sign) <= 0xFE0F


def _system_fonts() -> Iterator[Path]:
    for folder in SYSTEM_FOLDERS:
        root = Path(folder).expanduser()
        if root.is_dir():
            yield from sorted(p for p in root.rglob("*") if p.suffix.lower() in ENDINGS)


@cache
def _covered(path: Path) -> frozenset[int]:
    """Codes a font file can draw; a file that cannot be read draws nothing."""
    from fontTools.ttLib import TTCollection, TTFont, TTLibError  # type: ignore[import-untyped]

    try:
        if path.suffix.lower() in (".ttc", ".otc"):
            return frozenset().union(*(_codes(f) for f in TTCollection(path, lazy=True)))
        return _codes(TTFont(path, lazy=True))
    except (OSError, TTLibError, KeyError, AssertionError):
        return frozenset()


def _codes(font: Any) -> frozenset[int]:
    best: Iterable[int] = font.getBestCmap() or ()
    return frozenset(c for c in best if c <= sys.maxunicode)


@lru_cache(maxsize=WIDTHS_KNOWN)
def width_mm(text: str, points: float, face: str = "Regular") -> float:
    """How wide a line of text is in a shipped face (Regular, SemiBold, Bold), kerning left out."""
    widths, per_em = _advances(face)
    usual = widths.get(ord("n"), per_em // 2)  # a sign of another script: about a letter
    return sum(widths.get(ord(c), usual) for c in text) / per_em * points * 25.4 / 72


@cache
def _advances(face: str) -> tuple[dict[int, int], int]:
    """Code -> advance in font units, and units per em."""
    from fontTools.ttLib import TTFont

    font = TTFont(assets() / "fonts" / f"IBMPlexSansCondensed-{face}.ttf", lazy=True)
    metrics = font["hmtx"].metrics
    return {c: metrics[name][0] for c, name in font.getBestCmap().items()}, font["head"].unitsPerEm
