"""Where the templates, patterns and fonts are: in the installed wheel first, then in the checkout."""

from __future__ import annotations

from pathlib import Path


def assets() -> Path:
    """The folder of templates. FileNotFoundError, naming both places, when neither has it."""
    package = Path(__file__).resolve().parent.parent
    places = (package / "_data" / "templates", package.parent / "templates")
    for place in places:
        if (place / "athlete.html").is_file():
            return place
    raise FileNotFoundError(
        f"The sheet templates were not found in {places[0]} or {places[1]}. Maybe install the program again."
    )
