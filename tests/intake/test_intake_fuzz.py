"""A mangled file is a complaint or a block, never anything else. Bounded and the same every time."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.domain.block import Block
from planner.intake import BadFile, check_block, write_new

FULL = Path(__file__).with_name("full.yaml").read_text(encoding="utf-8")
SCRAPS = (
    "",
    " ",
    "\n",
    "\t",
    ":",
    ": ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    "#",
    "'",
    '"',
    "&a ",
    "*a",
    "!!python/object:os ",
    "|",
    ">",
    "%YAML 1.1\n",
    "---\n",
    "...\n",
    "? ",
    "<<: ",
    "null",
    "~",
    ".nan",
    ".inf",
    "-.inf",
    "1e999",
    "0x1F",
    "9" * 5000,
    "2027-02-30",
    "0000-00-00",
    "99999-01-01",
    "25:00",
    "24:00",
    "-1",
    "1.5.2",
    "=1+1",
    "@x",
    "\u0000",
    "\u202e",
    "\ud7ff",
    "\\ud800",
    '"\\ud800"',
    "😀",
    "all",
    "Mon-",
    "-Mon",
    "Mon-Tue-Wed",
    "2027-03-22..",
    "..2027-03-22",
    "2027-04-01..2027-03-01",
    "a: b: c",
    "True",
    "from",
    "until: 2027-03-22",
    "name: ;",
    "[[[[[[",
    "²",
    "٣",
    "½",
)

mangling = st.lists(
    st.tuples(
        st.integers(0, len(FULL)),
        st.integers(0, 40),
        st.sampled_from(SCRAPS),
        st.sampled_from(("put", "copy", "cut")),
    ),
    min_size=1,
    max_size=6,
)

BOUNDED = settings(
    max_examples=60,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def mangled(steps: list[tuple[int, int, str, str]]) -> str:
    text = FULL
    for at, length, scrap, what in steps:
        begin, end = at, at + length
        if what == "put":
            text = text[:begin] + scrap + text[end:]
        elif what == "copy":
            text = text[:begin] + text[begin:end] * 2 + scrap + text[end:]
        else:
            line = text[:begin].rfind("\n") + 1
            text = text[:line] + scrap + text[end:]
    return text


def _read(path: Path) -> None:
    try:
        block, warnings = check_block(path)
    except BadFile as error:
        assert error.complaints
        assert all(c.found and c.needed and not c.warning for c in error.complaints)
        assert "Traceback" not in str(error)
    else:
        assert isinstance(block, Block)
        assert all(w.warning for w in warnings)


@BOUNDED
@given(mangling)
def test_mangled_yaml(tmp_path: Path, steps: list[tuple[int, int, str, str]]) -> None:
    path = tmp_path / "block.yaml"
    path.write_bytes(mangled(steps).encode("utf-8", "surrogatepass"))
    _read(path)


@BOUNDED
@given(st.binary(max_size=200))
def test_any_bytes(tmp_path: Path, data: bytes) -> None:
    for name in ("block.yaml", "block.xlsx"):
        path = tmp_path / name
        path.write_bytes(data)
        _read(path)


@settings(parent=BOUNDED, max_examples=15)
@given(st.lists(st.tuples(st.integers(0, 50_000), st.binary(min_size=1, max_size=4)), min_size=1, max_size=4))
def test_mangled_workbook(tmp_path: Path, edits: list[tuple[int, bytes]]) -> None:
    source = tmp_path / "new" / "block.xlsx"
    if not source.exists():
        write_new(source.parent, workbook=True)
    data = bytearray(source.read_bytes())
    for at, piece in edits:
        place = at % len(data)
        data[place : place + len(piece)] = piece
    path = tmp_path / "block.xlsx"
    path.write_bytes(bytes(data))
    _read(path)
