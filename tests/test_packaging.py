"""What travels: the wheel carries everything, and an editable install reads the checkout's own templates."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from planner.catalogue.shipped import shipped

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the tracked files."""
    pytest.importorskip("hatchling", reason="needs hatchling (pip install hatchling)")
    folder = tmp_path_factory.mktemp("wheel")
    code = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"
    done = subprocess.run(
        [sys.executable, "-c", code, str(folder)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return next(folder.glob("*.whl"))


def test_the_wheel_carries_templates_catalogue_fonts_and_examples(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for needed in (
        "planner/_data/templates/athlete.html",
        "planner/_data/templates/fonts/OFL.txt",
        "planner/_data/examples/easter-block/block.yaml",
        "planner/catalogue/data/units.toml",
        "planner/ledger/schema/001_first.sql",
        "planner/intake/starter.yaml",
    ):
        assert needed in names, needed
    assert any(n.startswith("planner/_data/templates/fonts/") and n.endswith(".ttf") for n in names)
    assert not any(n.startswith(("tests/", "planner/_data/tests")) for n in names)


@pytest.mark.slow
def test_the_wheel_plans_and_prints_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    """Unpacked into a folder of its own in front of the path: the checkout is not to be seen."""
    own = tmp_path / "installed"
    zipfile.ZipFile(wheel).extractall(own)
    code = (
        "import sys; sys.path.insert(0, sys.argv.pop(1)); import planner; "
        "from planner.cli import main; print(planner.__file__); main()"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", code, str(own), "demo", "shown", "--example", "first-week",
         "--now", "2027-02-27 09:00"],
        cwd=tmp_path, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert done.returncode in (0, 5), done.stderr
    assert done.stdout.startswith(str(own))
    assert list((tmp_path / "shown" / "sheets").glob("*.html"))


def test_an_editable_install_reads_the_checkouts_own_templates() -> None:
    """An edited template shows at once: nothing was copied into the package."""
    assert shipped("templates") == ROOT / "templates"
    assert shipped("examples") == ROOT / "examples"
    assert not (ROOT / "planner" / "_data").exists()


def test_the_command_is_declared() -> None:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert 'planner = "planner.cli:main"' in text
