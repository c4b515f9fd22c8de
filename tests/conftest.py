"""What every test may rely on; and what happens when a system library is missing."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

import pytest

SHARED = "PLANNER_TESTS_SHARED"  # read by `planned_examples.py` in every process of this run
LONGEST = ("cli/test_killed_commands.py", "examples", "replan", "cli", "solve", "ledger")


def pytest_configure(config: pytest.Config) -> None:
    """One folder for what all processes of a run share, made by the first of them."""
    if SHARED not in os.environ:
        os.environ[SHARED] = tempfile.mkdtemp(prefix="planner-tests-")
        config.add_cleanup(lambda: shutil.rmtree(os.environ.pop(SHARED), ignore_errors=True))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Files that take longest come first, so that no process is left with one of them at the end."""
    folders = [Path(__file__).parent / name for name in LONGEST]

    def place(item: pytest.Item) -> int:
        return next((i for i, folder in enumerate(folders) if item.path.is_relative_to(folder)), len(folders))

    items.sort(key=place)


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
