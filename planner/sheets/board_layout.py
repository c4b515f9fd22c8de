"""How wide each lane of the board is, how a week is cut into pages, and how many athletes a page holds.

Widths come from the shipped face's own figures. A lane begins as narrow as its longest word; what is left
of the paper goes, bit by bit, to the lane where it saves most lines, so a slot with few people stays narrow.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from planner.sheets.fonts import width_mm
from planner.sheets.paper import BOARD_PT, LABEL_PT, NAME_MM, WEEK_MM, Paper
from planner.sheets.view_board import BoardCell, BoardLane, BoardPage, BoardRow, BoardUnit, SaidView

LINE_MM = 3.9  # a line of a cell; board.css says the same
HEAD_LINE_MM = 3.5  # a line of a lane's head, a label
BARS_MM = 3.5
AIR_MM = 1.4  # above and below a row, its rule
ROW_MM = 9.2  # least height of a row: load, then hours and fast days
SIDES_MM = 4.4  # left and right of a lane's words: rule, black edge, small letter
PLATE_MM = 4.6  # plate and gap; later lines of a unit are indented as much
TRIANGLE_MM = 3.4  # of an arrival or a departure, and its gap
LEAST_MM = 13  # of a lane
QUIET_MM = 13.5
WIDER_MM = (1.0, 2.0, 4.0, 7.0, 11.0)  # steps tried when a lane is widened
SPARE_MM = 3.0  # kept free on each page: a line may be a little longer than counted
TITLE_MM = 12.0
DAYS_MM = 6.5
LEGEND_MM = 7.2  # two lines


def pages_of(page: BoardPage, paper: Paper) -> tuple[BoardPage, ...]:
    """The week of one page cut into as few pages as hold it: whole days, then whole athletes."""
    days = [lane.date for lane in page.lanes]
    best: tuple[BoardPage, ...] = ()
    for count in range(1, len(set(days)) + 1):
        found: list[BoardPage] = []
        for lanes in _cut(page, days, count):
            part = _only(page, lanes)
            if not _fits(part, paper):
                break
            found += _by_athletes(_widened(part, paper), paper)
        else:
            if not best or len(found) <= len(best):  # of equals, the one with more athletes on each page
                best = tuple(found)
            if len(best) <= count:  # more parts make no fewer pages
                break
    return best or tuple(
        one
        for lanes in _cut(page, days, len(set(days)))
        for one in _by_athletes(_widened(_only(page, lanes), paper), paper)
    )


def _cut(page: BoardPage, days: Sequence[str], count: int) -> Iterator[list[int]]:
    """The lanes' places in `count` runs of whole days, about equally full."""
    need = [_need(page, i) for i in range(len(days))]
    groups = [[i for i, _ in run] for _, run in groupby(enumerate(days), key=lambda x: x[1])]
    left, todo = sum(need), count
    run: list[int] = []
    taken = 0.0
    for k, group in enumerate(groups):
        more = sum(need[i] for i in group)
        days_left = len(groups) - k
        over = taken + more / 2 > left / todo or days_left < todo
        if run and todo > 1 and over:
            yield run
            left, todo, run, taken = left - taken, todo - 1, [], 0.0
        run = run + group
        taken += more
    if run:
        yield run


def _need(page: BoardPage, i: int) -> float:
    """What a lane would like: room for most of its cells on a line each, more when many train in it."""
    cells = [row.cells[i] for row in page.rows]
    return _least(page, i) + sum(len(cell.units) for cell in cells)


def _only(page: BoardPage, lanes: list[int]) -> BoardPage:
    rows = tuple(replace(row, cells=tuple(row.cells[i] for i in lanes)) for row in page.rows)
    return replace(page, lanes=tuple(page.lanes[i] for i in lanes), rows=rows)


def _room(paper: Paper) -> float:
    return paper.inner_width - NAME_MM - WEEK_MM


def _fits(page: BoardPage, paper: Paper) -> bool:
    return sum(_least(page, i) for i in range(len(page.lanes))) <= _room(paper)


def _least(page: BoardPage, i: int) -> float:
    """The lane's longest word with what stands beside it."""
    lane = page.lanes[i]
    if lane.quiet:
        return QUIET_MM
    words = [width_mm(w, LABEL_PT, "Regular") for w in f"{lane.title} {' '.join(lane.texts)}".split()]
    for row in page.rows:
        words += [w + PLATE_MM for unit in row.cells[i].units for w in _unit_words(unit)]
        words += [w for said in row.cells[i].said for w in _said_words(said)]
    return max([LEAST_MM, *(w + SIDES_MM for w in words)])


def _said_words(said: SaidView) -> list[float]:
    """Widths of the words; the first one stands beside its triangle."""
    found = [width_mm(w, BOARD_PT, "SemiBold") for w in said.text.split()]
    if said.turn and found:
        found[0] += TRIANGLE_MM
    return found


def _unit_words(unit: BoardUnit) -> list[float]:
    found = [width_mm(w, BOARD_PT, "Regular") for w in unit.name.split()]
    found.append(width_mm(unit.amount, BOARD_PT, "Bold") + 1.3)
    return found + [width_mm(w, LABEL_PT, "Regular") for w in unit.where.split()]


def _lines(words: Sequence[float], room: float) -> int:
    """How many lines words take, filled from the left."""
    count, used = 1, 0.0
    gap = width_mm(" ", BOARD_PT)
    for w in words:
        if used and used + gap + w > room:
            count, used = count + 1, w
        else:
            used += w + (gap if used else 0)
    return count


class _Measured:
    """The words of a page in millimetres; heights of heads and cells at a width, each counted once."""

    def __init__(self, page: BoardPage) -> None:
        self._heads = tuple(_head_words(lane) for lane in page.lanes)
        self._cells = tuple(tuple(_cell_words(cell) for cell in row.cells) for row in page.rows)
        self._bars = tuple(tuple(BARS_MM if cell.bars else 0.0 for cell in row.cells) for row in page.rows)
        self._known: dict[tuple[int, float], tuple[float, ...]] = {}

    def lane(self, i: int, width: float) -> tuple[float, ...]:
        """Heights in a lane at a width: its head, then its cell in every row, air included."""
        found = self._known.get((i, width))
        if found is None:
            room = width - SIDES_MM - PLATE_MM
            head = HEAD_LINE_MM * sum(_lines(w, width - SIDES_MM) for w in self._heads[i])
            cells = [
                max(ROW_MM, AIR_MM + bars[i] + LINE_MM * sum(_lines(w, room) for w in row[i]))
                for row, bars in zip(self._cells, self._bars, strict=True)
            ]
            found = self._known[i, width] = (head, *cells)
        return found

    def rows(self, widths: Sequence[float]) -> list[float]:
        """Height of the head and of every row at these widths: the tallest lane's."""
        return [max(at) for at in zip(*(self.lane(i, w) for i, w in enumerate(widths)), strict=True)]


def _head_words(lane: BoardLane) -> tuple[tuple[float, ...], ...]:
    return tuple(
        tuple(width_mm(w, LABEL_PT, "SemiBold") for w in text.split()) for text in (lane.title, *lane.texts)
    )


def _cell_words(cell: BoardCell) -> tuple[tuple[float, ...], ...]:
    said = tuple(tuple(_said_words(x)) for x in cell.said)
    return said + tuple(tuple(_unit_words(unit)) for unit in cell.units)


def _widened(page: BoardPage, paper: Paper) -> BoardPage:
    """The page with a width for every lane; together they fill the paper."""
    measured = _Measured(page)
    widths = [_least(page, i) for i in range(len(page.lanes))]
    left = _room(paper) - sum(widths)
    while (best := _best(measured, widths, left)) is not None:
        widths[best[0]] += best[1]
        left -= best[1]
    open_lanes = [i for i, lane in enumerate(page.lanes) if not lane.quiet] or list(range(len(widths)))
    for i in open_lanes:
        widths[i] += max(0.0, left) / len(open_lanes)
    lanes = tuple(replace(lane, width_mm=round(w, 2)) for lane, w in zip(page.lanes, widths, strict=True))
    return replace(page, lanes=lanes)


def _best(measured: _Measured, widths: Sequence[float], left: float) -> tuple[int, float] | None:
    """The lane and the millimetres that save most height for each millimetre; None when nothing saves."""
    columns = [measured.lane(i, w) for i, w in enumerate(widths)]
    ranked = [sorted(at)[-2:] for at in zip(*columns, strict=True)]  # the two tallest of each row
    best: tuple[float, float, int, float] | None = None
    for i, column in enumerate(columns):
        for more in WIDER_MM:
            if more > left:
                break
            wider = measured.lane(i, widths[i] + more)
            saved = 0.0
            for now, then, tallest in zip(column, wider, ranked, strict=True):
                if now == tallest[-1]:
                    saved += now - max(then, tallest[0] if len(tallest) > 1 else 0.0)
            own = sum(column) - sum(wider)
            gain = (saved / more, own / more, -i, more)
            if gain[:2] > (0.0, 0.0) and (best is None or gain > best):
                best = gain
    return None if best is None else (-best[2], best[3])


def _by_athletes(page: BoardPage, paper: Paper) -> list[BoardPage]:
    """The page cut by athletes when its rows are too high for one sheet, about equally full."""
    head, *cells = _Measured(page).rows([lane.width_mm for lane in page.lanes])
    rows = [max(high, _name(row)) for high, row in zip(cells, page.rows, strict=True)]
    room = paper.height - paper.top - paper.bottom - TITLE_MM - DAYS_MM - head - _foot(page, paper) - SPARE_MM
    for count in range(1, len(rows) + 1):
        runs = _even(rows, count)
        if all(sum(rows[i] for i in run) <= room for run in runs) or count == len(rows):
            return [replace(page, rows=tuple(page.rows[i] for i in run)) for run in runs]
    return [page]


def _even(rows: Sequence[float], count: int) -> list[list[int]]:
    runs: list[list[int]] = [[]]
    left, taken = sum(rows), 0.0
    for i, high in enumerate(rows):
        todo = count - len(runs) + 1
        if runs[-1] and todo > 1 and (taken + high / 2 > left / todo or len(rows) - i < todo):
            left, taken = left - taken, 0.0
            runs.append([])
        runs[-1].append(i)
        taken += high
    return runs


def _name(row: BoardRow) -> float:
    name = _lines([width_mm(w, 11, "Bold") for w in row.name.split()], NAME_MM - 1.5)
    below = _lines([width_mm(w, LABEL_PT, "Regular") for w in f"{row.events} {row.care}".split()], NAME_MM - 3)
    return AIR_MM + 4.4 * name + 3.7 * below


def _foot(page: BoardPage, paper: Paper) -> float:
    """Key and legend below the table."""
    keys = [15 + width_mm(key.name, LABEL_PT, "Regular") for key in page.keys]
    return 3 + 4.2 * _lines(keys, paper.inner_width) + LEGEND_MM if keys else 3 + LEGEND_MM
