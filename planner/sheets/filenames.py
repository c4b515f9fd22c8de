"""File names that are safe on every system and never collide, whatever an athlete is called."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable, Mapping

LONGEST = 48  # letters of a name kept in a file name; leaves room for folder, paper and ending


def plain(name: str) -> str:
    """The name in lower-case letters a-z, figures and hyphens; '' when nothing of it can be kept."""
    apart = unicodedata.normalize("NFKD", name).casefold()
    bare = "".join(c for c in apart if not unicodedata.combining(c))
    return re.sub(r"[^a-z0-9]+", "-", bare).strip("-")[:LONGEST].strip("-")


def file_stems(names: Iterable[str]) -> Mapping[str, str]:
    """Name -> stem, one each. A stem that is empty or shared carries six signs of the name's SHA-256.

    The stem of a name depends on the other names only through sharing, never on their order.
    """
    wanted = {name: plain(name) for name in names}
    shared: dict[str, int] = {}
    for stem in wanted.values():
        shared[stem] = shared.get(stem, 0) + 1
    found: dict[str, str] = {}
    for name, stem in wanted.items():
        lost = bool(re.search(r"[^\W_a-z0-9]", _without_marks(name)))
        if not stem or shared[stem] > 1 or lost:
            digest = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:6]
            found[name] = f"{stem}-{digest}".strip("-")
        else:
            found[name] = stem
    return found


def _without_marks(name: str) -> str:
    apart = unicodedata.normalize("NFKD", name).casefold()
    return "".join(c for c in apart if not unicodedata.combining(c))
