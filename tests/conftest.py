"""What every test may rely on; and what happens when a system library is missing."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest


def _pdf_engine_missing() -> str:
    try:
        import weasyprint  # noqa: F401
    except OSError:
        return "the PDF engine's system library is missing (Debian/Ubuntu: libpango-1.0-0 libpangoft2-1.0-0)"
    return ""


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Skip with one loud line what this machine cannot run; with PLANNER_NO_SKIPS=1 fail instead."""
    reason = ""
    if item.get_closest_marker("needs_pdf"):
        reason = _pdf_engine_missing()
    if not reason and item.get_closest_marker("needs_poppler") and shutil.which("pdftoppm") is None:
        reason = "pdftoppm is missing (Debian/Ubuntu: poppler-utils)"
    if reason and os.environ.get("PLANNER_NO_SKIPS"):
        pytest.fail(reason)
    if reason:
        pytest.skip(reason)


@pytest.fixture
def examples() -> Path:
    """The folder of shipped examples."""
    return Path(__file__).parent.parent / "examples"
