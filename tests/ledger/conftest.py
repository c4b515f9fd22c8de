"""Where the ledger's tests write: in memory if there is such a folder. A kill is no power cut."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

MEMORY = Path("/dev/shm")


@pytest.fixture
def tmp_path() -> Iterator[Path]:
    """A folder of the test's own, without the waits of a disk where that can be had."""
    folder = Path(tempfile.mkdtemp(dir=MEMORY if os.access(MEMORY, os.W_OK) else None))
    yield folder
    shutil.rmtree(folder, ignore_errors=True)
