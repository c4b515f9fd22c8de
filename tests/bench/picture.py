"""Make the README's picture anew: a page of the shipped Easter block, planned, reviewed and printed.

    python tests/bench/picture.py

Needs pdftoppm (Debian/Ubuntu: poppler-utils).
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image  # comes with the PDF engine

ROOT = Path(__file__).parents[2]
PICTURE = ROOT / "examples" / "easter-block" / "athlete-page.png"
PAGE = "athlete-tilde-okkarin-A4.pdf"
WIDTH = 900  # pixels
COLOURS = 160  # enough for the families' own and the soft edges of letters
MOST_BYTES = 250_000


def main() -> None:
    """Plan the example into a temporary folder and draw the first page of one athlete."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "demo"
        command = "from planner.cli import main; main()"
        words = ["demo", str(folder), "--now", "2027-03-20 09:00"]
        subprocess.run([sys.executable, "-c", command, *words], check=True, cwd=ROOT)
        subprocess.run(
            ["pdftoppm", "-png", "-singlefile", "-scale-to-x", str(WIDTH), "-scale-to-y", "-1",
             str(folder / "sheets" / PAGE), str(PICTURE.with_suffix(""))],
            check=True,
        )  # fmt: skip
    with Image.open(PICTURE) as drawn:
        few = drawn.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    few.save(PICTURE, optimize=True)
    if PICTURE.stat().st_size > MOST_BYTES:
        sys.exit(f"{PICTURE}: {PICTURE.stat().st_size} bytes, at most {MOST_BYTES} were wanted")
    print(f"{PICTURE.relative_to(ROOT)}: {PICTURE.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main()
