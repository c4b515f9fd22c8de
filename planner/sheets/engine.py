"""The PDF engine behind one typed door. The engine is untyped; nothing else imports it.

It may read the templates' own folder and the patterns' data addresses; any other address is refused,
so no text in a coach's file can make a sheet read a file or call the network.
"""

from __future__ import annotations

import contextlib
import gc
import io
import logging
import os
import tempfile
import warnings
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from planner.sheets.fonts import font_configuration
from planner.sheets.overflow import Spill, only_spare, spills

MISSING = (
    "the PDF engine needs the Pango text library, which is not on this machine. Maybe install it: "
    "Debian or Ubuntu: sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0; "
    "Fedora: sudo dnf install pango; macOS: brew install pango; "
    "Windows: the MSYS2 package pango (pacman -S mingw-w64-ucrt-x86_64-pango). "
    "The HTML sheets are written and can be printed from a browser."
)

NO_SCRATCH = (
    "the PDF engine needs a temporary folder, which cannot be written ({}). Maybe free some space or set "
    "TMPDIR. The HTML sheets are written where there is room."
)

MOST_SIGNS = 80  # of an address in a warning
VARIANT = "pdf/ua-1"  # what the tags are meant for; conformance was never validated, so none is claimed


class Refused(ValueError):
    """An address outside the sheets' own assets."""


@dataclass(frozen=True)
class Laid:
    """A document laid out, not yet drawn: how many pages, what spills out of its cell, what was refused.

    `spare` says that some page holds nothing but elements marked `data-spare`.
    """

    pages: int
    spills: tuple[Spill, ...]
    refused: tuple[str, ...]
    document: Any
    spare: bool = False


@dataclass(frozen=True)
class Missing:
    """The engine cannot be loaded; the reason names the packages."""

    reason: str


@cache
def engine_versions() -> str:
    """What is installed of the engine and its PDF writer, without loading them; '' for what is not."""
    found = []
    for name in ("weasyprint", "pydyf"):
        with contextlib.suppress(PackageNotFoundError):
            found.append(f"{name} {version(name)}")
    return ", ".join(found)


def permitted(url: str, folder: Path, addresses: frozenset[str]) -> Path | None:
    """The asset a file address names, None for a known data address; Refused for anything else."""
    if url in addresses:
        return None
    parts = urlsplit(url)
    if parts.scheme == "file" and parts.netloc in ("", "localhost"):
        path = Path(unquote(parts.path)).resolve()
        if path.is_file() and path.is_relative_to(folder.resolve()):
            return path
    raise Refused(f"'{_shortened(url)}' is not one of the sheets' own assets")


def _shortened(url: str) -> str:
    """An address on one line; the end names the file, so the middle goes."""
    return url if len(url) <= MOST_SIGNS else f"{url[:MOST_SIGNS // 2]} ... {url[-MOST_SIGNS // 2:]}"


class Engine:
    """The loaded engine with its fonts. Made by `opened`, which also takes the font settings back."""

    def __init__(self, engine: Any, folder: Path, addresses: frozenset[str]) -> None:
        self._engine = engine
        self._folder = folder
        self._addresses = addresses
        self._fonts = engine.text.fonts.FontConfiguration()

    def lay_out(self, html: str) -> Laid:
        """Breaks a document into pages. Drawing waits: a shorter version may be tried first."""
        refused: list[str] = []
        document = self._engine.HTML(
            string=html, base_url=self._folder.as_uri() + "/", url_fetcher=self._fetcher(refused)
        ).render(font_config=self._fonts, pdf_variant=VARIANT, pdf_tags=True)
        found = tuple(s for i, page in enumerate(document.pages, 1) for s in spills(page._page_box, i))
        spare = any(only_spare(page._page_box) for page in document.pages)
        return Laid(len(document.pages), found, tuple(refused), document, spare)

    def pdf(self, laid: Laid, identifier: bytes) -> bytes:
        """The document drawn, tagged; the same input gives the same bytes."""
        drawn: bytes = laid.document.write_pdf(pdf_variant=VARIANT, pdf_tags=True, pdf_identifier=identifier)
        return drawn

    def _fetcher(self, refused: list[str]) -> Any:
        urls: Any = self._engine.urls
        base: Any = urls.URLFetcher
        folder, addresses = self._folder, self._addresses

        class OwnAssets(base):  # type: ignore[misc]  # the engine is untyped
            """Fetches the sheets' own assets; keeps a note of what it refused."""

            def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
                try:
                    path = permitted(url, folder, addresses)
                except Refused as refusal:
                    refused.append(str(refusal))
                    raise
                if path is None:
                    return super().fetch(url, headers)
                kind = {".svg": "image/svg+xml", ".css": "text/css"}.get(path.suffix, "font/ttf")
                return urls.URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})

        return OwnAssets(allowed_protocols=("data", "file"))


@contextlib.contextmanager
def collected_once_a_sheet() -> Iterator[Callable[[], object]]:
    """Python looks for circular garbage only when the yielded function is called: after a sheet, when it is dead.

    Looking while thousands of boxes are alive took a third of the time. What was there before is never looked at.
    """
    running, frozen = gc.isenabled(), gc.get_freeze_count()
    gc.disable()
    if not frozen:
        gc.freeze()
    try:
        yield gc.collect
    finally:
        if not frozen:
            gc.unfreeze()
        if running:
            gc.enable()


@contextlib.contextmanager
def opened(folder: Path, addresses: frozenset[str]) -> Iterator[Engine | Missing]:
    """The engine with the shipped fonts first and the system's after them, or why it is missing.

    The engine prints a banner when its library is absent; that is kept from the terminal.
    """
    with contextlib.ExitStack() as stack:
        try:
            scratch = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="planner-fonts-")))
            before = os.environ.get("FONTCONFIG_FILE")
            conf = scratch / "fonts.conf"
            conf.write_text(font_configuration(folder / "fonts", scratch, before), encoding="utf-8")
        except OSError as error:
            yield Missing(NO_SCRATCH.format(error.strerror or error))
            return
        stack.callback(_set_font_file, before)
        _set_font_file(str(conf))
        loaded = _load()
        yield loaded if isinstance(loaded, Missing) else Engine(loaded, folder, addresses)


def _set_font_file(path: str | None) -> None:
    """The environment is the only way to tell the font library where our faces are."""
    if path is None:
        os.environ.pop("FONTCONFIG_FILE", None)
    else:
        os.environ["FONTCONFIG_FILE"] = path


def _load() -> Any:
    said = io.StringIO()
    try:
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import weasyprint
            import weasyprint.text.fonts
            import weasyprint.urls
    except OSError:
        return Missing(MISSING)
    except ImportError as error:
        return Missing(f"the PDF engine cannot be imported ({error}). Maybe install the program again with pip.")
    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)  # what it refuses is reported by us
    return weasyprint
