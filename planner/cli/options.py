"""The options that many commands share, said once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

File = Annotated[Path, typer.Argument(help="The block file (.yaml or .xlsx), or the folder that holds it.")]
Now = Annotated[str, typer.Option("--now", help="Work as if it were 'YYYY-MM-DD HH:MM' (block's time zone).")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON for another program.")]
Budget = Annotated[str, typer.Option("--budget", help="How long to look: quick, normal or long.")]
Seed = Annotated[int, typer.Option("--random-seed", help="Another number may find another plan.")]
AtMost = Annotated[
    float | None, typer.Option("--at-most", help="Stop after so many seconds; 0: the first whole plan.")
]
Paper = Annotated[str, typer.Option("--paper", help="A4 or Letter; default: what the block file says.")]
SheetsIn = Annotated[Path | None, typer.Option("--sheets", help="Folder for the sheets.")]

BLOCK_NAMES = ("block.yaml", "block.yml", "block.xlsx")


def block_file(path: Path) -> Path:
    """The block file meant: the path itself, or the block file in that folder."""
    if path.is_dir():
        for name in BLOCK_NAMES:
            if (path / name).is_file():
                return path / name
    return path
