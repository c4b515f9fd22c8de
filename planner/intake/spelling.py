"""The nearest known word, for a remedy; and the form in which words are compared."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable, Mapping

LONGEST_COMPARED = 100  # signs; nobody misspells a longer word by a letter


def squeezed(text: str) -> str:
    """The form in which keys and fixed words are compared: small letters without blanks, hyphens, lines."""
    text = unicodedata.normalize("NFKC", text).casefold()
    return "".join(c for c in text if not c.isspace() and c not in "-_")


def find(word: str, known: Iterable[str]) -> str | None:
    """The known word that `word` is, apart from case, blanks, hyphens and underscores."""
    wanted = squeezed(word)
    for candidate in known:
        if squeezed(candidate) == wanted:
            return candidate
    return None


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word spelt most like `word`; None when nothing is near."""
    by_form: Mapping[str, str] = {squeezed(k): k for k in sorted(known)}
    form = squeezed(word)[:LONGEST_COMPARED]
    if len(form) >= 3:
        starts = [k for k in by_form if k.startswith(form)]
        if len(starts) == 1:
            return by_form[starts[0]]
    found = difflib.get_close_matches(form, list(by_form), n=1, cutoff=0.6)
    return by_form[found[0]] if found else None


def suggestion(word: str, known: Iterable[str], *, else_say: str = "") -> str:
    """A remedy: the nearest word, or a short list of what is known, or `else_say`."""
    words = sorted(set(known))
    near = nearest(word, words)
    if near is not None:
        return f"'{near}' is meant"
    if words and len(words) <= 12:
        return "one of these is meant: " + ", ".join(words)
    return else_say
