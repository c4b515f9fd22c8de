"""Opening a coach's file: missing, unreadable, too large or wrongly named files are clean complaints."""

from __future__ import annotations

import errno
from pathlib import Path

from planner.domain.finding import Line
from planner.intake.complaints import BadFile, Complaint

MOST_BYTES = 2_000_000  # a squad of thirty over a season is below 200 kB
YAML_ENDINGS = (".yaml", ".yml")
WORKBOOK_ENDINGS = (".xlsx",)


def refuse(path: Path, found: str, needed: str, maybe: str, at: tuple[int, int] = (0, 0)) -> BadFile:
    """A complaint about the file as a whole, or one place of it, ready to be raised."""
    return BadFile((Complaint(Line(path.name, *at), found, needed, maybe),))


def read_bytes(path: Path) -> bytes:
    """The bytes of a block file. Raises BadFile when it is missing, unreadable or larger than 2 MB."""
    needed = "a block file: .yaml, .yml or .xlsx"
    if path.suffix.casefold() not in (*YAML_ENDINGS, *WORKBOOK_ENDINGS):
        raise refuse(path, f"a file that ends in '{path.suffix}'", needed, "save a sheet as .xlsx first")
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise refuse(path, "no such file", needed, f"look in {path.parent or '.'} for its name") from None
    except IsADirectoryError:
        raise refuse(path, "a folder", needed, "name the file inside the folder") from None
    except PermissionError:
        raise refuse(path, "a file you may not read", needed, "ask for the right to read it") from None
    except (OSError, ValueError) as error:
        number = error.errno if isinstance(error, OSError) else None
        why = errno.errorcode.get(number, "unknown") if number else "a name no file can have"
        raise refuse(path, f"a file that cannot be read ({why})", needed, "copy it to this disk") from None
    if len(data) > MOST_BYTES:
        raise refuse(path, "a file of more than 2 MB", "at most 2 MB", "split it into several blocks")
    return data
