"""Where the files that travel with the program stand: templates and examples."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

PACKAGE = Path(__file__).resolve().parent.parent


def shipped(kind: Literal["templates", "examples"]) -> Path:
    """The folder of shipped templates or examples.

    An installed wheel carries them under planner/_data; an editable install reads the checkout's own,
    so that an edited template shows at once. FileNotFoundError when neither is there.
    """
    for folder in (PACKAGE / "_data" / kind, PACKAGE.parent / kind):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(
        f"{kind}: this installation lacks its {kind}; needed planner/_data/{kind} in the wheel. "
        "Maybe install the package again."
    )
