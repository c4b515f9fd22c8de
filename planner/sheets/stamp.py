"""What a PDF was made from, told in a line of its own, so that the same sheet is not drawn again.

The line is a comment before the file's last 'startxref': no reader shows it or trips over it. It holds three
SHA-256 sums: of the content, of the PDF without the line, and of the HTML written beside it.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

MARK = b"%made from "
END = b"startxref"


def stamped(pdf: bytes, content: str, html: bytes) -> bytes:
    """The PDF with the line. `content` is the sum of all the sheet was made from, as `content_sum` gives it."""
    at = pdf.rindex(END)
    return pdf[:at] + _line(pdf, content, html) + pdf[at:]


def stands(pdf: Path, html: Path, content: str) -> bool:
    """Whether both files are whole and what `content` would give; a file that cannot be read is not."""
    try:
        found, beside = pdf.read_bytes(), html.read_bytes()
    except OSError:
        return False
    end = found.rfind(END)
    at = found.rfind(MARK, 0, max(end, 0))
    if at < 0:
        return False
    return found[at:end] == _line(found[:at] + found[end:], content, beside)


def content_sum(text: str, made_with: str) -> str:
    """The sum of a sheet's HTML as the template first gives it, and of what else decides how it looks."""
    return hashlib.sha256(f"{made_with}\0{text}".encode("utf-8", "surrogatepass")).hexdigest()


def _line(pdf: bytes, content: str, html: bytes) -> bytes:
    sums = (content, hashlib.sha256(pdf).hexdigest(), hashlib.sha256(html).hexdigest())
    return MARK + " ".join(sums).encode("ascii") + b"\n"
