"""A new block file to fill in: commented YAML, or a workbook with drop-downs. Never overwrites anything."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from planner.intake.complaints import Reporter
from planner.intake.opening_files import WORKBOOK_ENDINGS, read_bytes, refuse

STARTER = Path(__file__).with_name("starter.yaml")
NAME = "block"


def write(folder: Path, *, like: Path | None, workbook: bool) -> Path:
    """Write `block.yaml` or `block.xlsx` into a folder; its path. See `planner.intake.write_new`."""
    source = like or STARTER
    target = folder / (NAME + (WORKBOOK_ENDINGS[0] if workbook else ".yaml"))
    refuse_if_there(target)
    data = _content(source, workbook)
    made = not folder.exists()
    folder.mkdir(parents=True, exist_ok=True)
    try:
        put_new(target, data)
    except OSError:
        if made:
            with suppress(OSError):  # somebody else put a file there meanwhile: it stays
                folder.rmdir()
        raise
    return target


def refuse_if_there(target: Path) -> None:
    if target.exists() or target.is_symlink():
        raise refuse(target, "a file of that name already", "a folder without one", "name another folder")


def _content(source: Path, workbook: bool) -> bytes:
    from planner.intake import check_block

    check_block(source)  # what is handed on must read clean
    data = read_bytes(source)
    if (source.suffix.casefold() in WORKBOOK_ENDINGS) == workbook:
        return data
    if not workbook:
        raise refuse(source, "a workbook", "a YAML file to copy", "ask for a workbook: --workbook")
    from planner.intake.workbook_writer import workbook_bytes
    from planner.intake.yaml_file import read_yaml

    return workbook_bytes(read_yaml(source, data, Reporter()))


def put_new(target: Path, data: bytes) -> None:
    """Write beside the target and give it its name when whole; refuse when the name was taken meanwhile."""
    with _whole(target, data) as temporary:
        try:
            os.link(temporary, target)
        except FileExistsError:
            refuse_if_there(target)
            raise
        except OSError:  # a disk without hard links
            refuse_if_there(target)
            os.replace(temporary, target)


def put_over(target: Path, data: bytes) -> None:
    """Write beside the target and take its place when whole."""
    with _whole(target, data) as temporary:
        os.replace(temporary, target)


@contextmanager
def _whole(target: Path, data: bytes) -> Iterator[str]:
    """The data, safely on disk, in a file beside the target that is gone afterwards."""
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".new")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, 0o644)
        yield temporary
    finally:
        with suppress(FileNotFoundError):
            os.unlink(temporary)
