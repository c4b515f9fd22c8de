"""A YAML 1.2 file to tables of cells, each with its line and column. Nothing is built from tags."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planner.domain.finding import Line
from planner.intake.complaints import BadFile, Reporter, quoted
from planner.intake.opening_files import refuse
from planner.intake.raw import Cell, RawFile, RawTable, Row
from planner.intake.spelling import find, suggestion
from planner.intake.tables import TABLES, columns

MOST_NODES = 200_000  # a 2 MB file has fewer; more means an alias that multiplies itself
AFTER_A_COMMA = re.compile(r"\d+( [a-z]+)?")  # what is left of '6,35 m' behind its comma
DEEPEST = 30  # levels of nesting; a block file has four
MOST_ROWS = 5_000  # of a table; a squad of thirty over a season has hundreds


def decoded(path: Path, data: bytes) -> str:
    """The text of a YAML file in UTF-8, or UTF-16 with its mark. Raises BadFile otherwise."""
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        maybe = "save it again as 'UTF-8' in your editor"
        raise refuse(path, "signs that are not UTF-8", "text in UTF-8", maybe, (line, 0)) from None


def _compose(path: Path, text: str) -> Any:
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        return YAML(typ="safe", pure=True).compose(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        at = (mark.line + 1, mark.column + 1) if mark else (0, 0)
        what = " ".join(str(error.problem or error.context or "a slip").split())
        said = "" if "<" in what else f" ({what})"  # the parser's own names for its parts help nobody
        raise refuse(
            path,
            f"text that is not YAML{said}",
            "YAML: 'key: value' lines, '- ' before each row",
            _remedy(text.splitlines(), mark.line if mark else -1),
            at,
        ) from None
    except RecursionError:
        raise refuse(path, "lists nested too deep", "flat tables", "a bracket was not closed") from None
    except (
        YAMLError,
        ValueError,
        OverflowError,
        LookupError,
        AttributeError,
        TypeError,
        AssertionError,
    ) as e:
        # the parser lets some broken escapes and directives through as plain errors of Python
        what = type(e).__name__
        raise refuse(
            path, f"text that is not YAML ({what})", "YAML text", "a sign or an escape in it is not allowed"
        ) from None


def _remedy(lines: list[str], at: int) -> str:
    """What most likely happened: a tab, a bracket left open in a row, a blank forgotten, a line moved sideways."""
    here = lines[at] if 0 <= at < len(lines) else ""
    before = next((x for x in reversed(lines[: max(at, 0)]) if x.strip() and not x.lstrip().startswith("#")), "")
    if "\t" in here[: len(here) - len(here.lstrip())]:
        return "a tab stands before this line: put blanks there, as many as in the lines around it"
    for line in (before, here):
        if any(line.count(a) != line.count(b) for a, b in ("{}", "[]")):
            return f"a bracket is missing in {quoted(line.strip())}"
    if re.match(r"\s*(- )?[A-Za-z_]+:\S", before) and not re.match(r"\s*(- )?[A-Za-z_]+:(\s|$)", before):
        return f"a blank is missing behind the ':' of {quoted(before.strip())}"
    if _depth(here) != _depth(before):
        return "this line begins too far left or right: keys of one row stand exactly under each other"
    return "a quote, a bracket or a blank after ':' is missing here or in the line before"


def _depth(line: str) -> int:
    """Where the first word stands, behind the '- ' of a row."""
    return len(line) - len(line.lstrip(" -"))


@dataclass
class _Reader:
    path: Path
    report: Reporter
    nodes: int = 0
    open_nodes: set[int] = field(default_factory=set)

    def line(self, node: Any, key: str = "") -> Line:
        mark = node.start_mark
        return Line(self.path.name, mark.line + 1, mark.column + 1, "", key)

    def _enter(self, node: Any) -> None:
        self.nodes += 1
        at = self.line(node)
        if self.nodes > MOST_NODES:
            raise refuse(
                self.path,
                "aliases that multiply themselves",
                f"at most {MOST_NODES} values",
                "write the rows out instead of using '*'",
                (at.line, at.column),
            )
        if id(node) in self.open_nodes:
            raise refuse(
                self.path,
                "an alias that contains itself",
                "rows that end",
                "write the rows out instead of using '*'",
                (at.line, at.column),
            )
        if len(self.open_nodes) > DEEPEST:
            raise refuse(
                self.path,
                "lists nested too deep",
                "flat tables",
                "a bracket was not closed",
                (at.line, at.column),
            )

    def cell(self, node: Any) -> Cell:
        """A node as text, list or mapping; empty is None."""
        from ruamel.yaml.nodes import MappingNode, ScalarNode

        self._enter(node)
        if isinstance(node, ScalarNode):
            empty = str(node.tag).endswith(":null") or not node.value.strip()
            return None if empty else str(node.value)
        self.open_nodes.add(id(node))
        try:
            if isinstance(node, MappingNode):
                return {key: self.cell(value) for key, _, value in self.entries(node)}
            return [self.cell(item) for item in node.value]
        finally:
            self.open_nodes.discard(id(node))

    def entries(self, node: Any, where: str = "") -> Iterator[tuple[str, Line, Any]]:
        """Keys and values of a mapping; a key given twice is a complaint and its first value counts."""
        from ruamel.yaml.nodes import ScalarNode

        seen: dict[str, Line] = {}
        for key_node, value in node.value:
            at = self.line(key_node, where)
            if not isinstance(key_node, ScalarNode):
                self.report.error(
                    at, "a list where a key belongs", "a word and ':'", "a '?' or a bracket is left over"
                )
                continue
            key = str(key_node.value).strip()
            if key in seen:
                self.report.error(
                    at,
                    f"the key {quoted(key)} a second time (first in line {seen[key].line})",
                    "each key once",
                    "the second is left over from copying: delete one of them",
                )
                continue
            seen[key] = at
            yield key, at, value

    def row(self, node: Any, table: str, where: str) -> Row | None:
        from ruamel.yaml.nodes import MappingNode

        at = self.line(node, where)
        if not isinstance(node, MappingNode):
            found = quoted(node.value) if isinstance(node.value, str) else "a list"
            self.report.error(
                at,
                found,
                f"a row of '{table}': keys and values",
                f"write it as '- {columns(table)[0]}: ...' with one key a line",
            )
            return None
        self._enter(node)
        row = Row({}, {}, at)
        self.open_nodes.add(id(node))
        known = columns(table)
        for key, key_at, value in self.entries(node, where):
            column = find(key, known)
            place = Line(key_at.file, key_at.line, key_at.column, "", f"{where}.{column or key}")
            if column is None:
                maybe = suggestion(key, known, else_say="leave it out; 'planner schema' lists the columns")
                if AFTER_A_COMMA.fullmatch(key):
                    maybe = "a decimal point belongs there: a comma begins the next key"
                self.report.error(
                    place,
                    f"the unknown key {quoted(key)}",
                    f"a column of '{table}'",
                    maybe,
                )
            elif column in row.values:
                self.report.error(
                    place, f"the key {quoted(key)} a second time", "each key once", "delete one of them"
                )
            else:
                row.values[column] = self.cell(value)
                row.lines[column] = place
        self.open_nodes.discard(id(node))
        return row

    def table(self, node: Any, table: str, at: Line) -> RawTable:
        from ruamel.yaml.nodes import MappingNode, SequenceNode

        found = RawTable([], at)
        if table == "block":
            row = self.row(node, table, table)
            return RawTable([row] if row else [], at, broken=row is None)
        if isinstance(node, SequenceNode):
            self._enter(node)
            self.open_nodes.add(id(node))
            if len(node.value) > MOST_ROWS:
                self.report.error(
                    at,
                    f"{len(node.value)} rows of '{table}'",
                    f"at most {MOST_ROWS}",
                    "it should be several blocks",
                )
            for i, item in enumerate(node.value[:MOST_ROWS], 1):
                row = self.row(item, table, f"{table}[{i}]")
                if row is not None:
                    found.rows.append(row)
            found.broken = bool(node.value) and not found.rows
            self.open_nodes.discard(id(node))
        elif isinstance(node, MappingNode) or str(node.value).strip():
            what = "a single row" if isinstance(node, MappingNode) else quoted(node.value)
            self.report.error(
                self.line(node, table),
                f"{what} under '{table}'",
                "a list of rows",
                "put '- ' before each row",
            )
            found.broken = True
        return found


def read_yaml(path: Path, data: bytes, report: Reporter) -> RawFile:
    """The tables of a YAML file. Raises BadFile when it is no YAML at all; lesser slips go to `report`."""
    from ruamel.yaml.nodes import MappingNode

    node = _compose(path, decoded(path, data))
    raw = RawFile(path.name, workbook=False, line=Line(path.name, 1, 1))
    if not isinstance(node, MappingNode):
        found = "an empty file" if node is None else "text that is no table"
        raise refuse(
            path, found, "the tables 'block' and 'athletes'", "start from what 'planner new' writes", (1, 1)
        )
    reader = _Reader(path, report)
    try:
        reader.open_nodes.add(id(node))
        for key, at, value in reader.entries(node):
            table = find(key, TABLES)
            place = Line(at.file, at.line, at.column, "", table or key)
            if table is None:
                report.error(
                    place,
                    f"the unknown table {quoted(key)}",
                    "a table this file can have",
                    suggestion(key, TABLES),
                )
            elif table in raw.tables:
                report.error(
                    place, f"the table '{table}' a second time", "each table once", "join the two lists"
                )
            else:
                raw.tables[table] = reader.table(value, table, place)
    except BadFile as error:
        told = (*(c for c in report.complaints if not c.warning), *error.complaints)
        raise BadFile(tuple(dict.fromkeys(told))) from None
    return raw
