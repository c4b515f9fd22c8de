"""Finds text that reaches out of its cell, by walking the engine's own boxes after layout.

The boxes are not part of the engine's public interface: the version is pinned, and a test with a planted
long word guards this file. Text inside drawings and drawings over each other are not seen.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

PX_PER_MM = 96 / 25.4
SIDEWAYS_MM = 0.25  # tolerance; rounding of glyph widths
UPRIGHT_MM = 0.8  # a line's box is taller than its ink
CELLS = ("td", "th", "div", "p", "h1", "h2", "li", "section")


@dataclass(frozen=True)
class Spill:
    """Text beyond its cell: the cell as the template named it (data-cell), the text, how far in mm."""

    page: int
    cell: str
    text: str
    beyond_mm: float


@dataclass(frozen=True)
class _Frame:
    left: float
    top: float
    right: float
    bottom: float
    upright: bool  # height is fixed, so reaching out of it below is a fault


def spills(page_box: Any, page: int) -> Iterator[Spill]:
    """Every text of a page that leaves its cell or the page, worst place once per cell."""
    edge = _Frame(0, 0, page_box.margin_width(), page_box.margin_height(), True)
    worst: dict[tuple[str, str], Spill] = {}
    for cell, text, beyond in _walk(page_box, edge, edge, "page"):
        key = (cell, text)
        if key not in worst or worst[key].beyond_mm < beyond:
            worst[key] = Spill(page, cell, text, round(beyond, 2))
    yield from worst.values()


def _walk(box: Any, frame: _Frame, edge: _Frame, cell: str) -> Iterator[tuple[str, str, float]]:
    element = getattr(box, "element", None)
    tag = getattr(box, "element_tag", "") or ""
    if element is not None and hasattr(element, "get") and element.get("data-cell"):
        cell = element.get("data-cell")
    margin_box = type(box).__name__ == "MarginBox"
    if margin_box:
        cell = f"margin {box.at_keyword.lstrip('@')}"
    if (
        (tag in CELLS or margin_box)
        and hasattr(box, "border_width")
        and type(box).__name__
        not in (
            "InlineBox",
            "LineBox",
            "TextBox",
        )
    ):
        frame = _frame_of(box, margin_box)
    text = getattr(box, "text", None)
    if isinstance(text, str) and text.strip():
        beyond = _beyond(box, frame, edge)
        if beyond > 0:
            yield cell, text.strip()[:60], beyond
    for child in getattr(box, "children", ()):
        yield from _walk(child, frame, edge, cell)


def _frame_of(box: Any, margin_box: bool) -> _Frame:
    left, top = box.border_box_x(), box.border_box_y()
    fixed = margin_box or box.style["height"] != "auto"
    return _Frame(left, top, left + box.border_width(), top + box.border_height(), fixed)


def _beyond(box: Any, frame: _Frame, edge: _Frame) -> float:
    """Millimetres by which a text leaves its frame or the page, tolerance already taken off."""
    right = box.position_x + box.width
    bottom = box.position_y + box.height
    sideways = max(
        right - frame.right, frame.left - box.position_x, right - edge.right, edge.left - box.position_x
    )
    upright = bottom - edge.bottom
    if frame.upright:
        upright = max(upright, bottom - frame.bottom, frame.top - box.position_y)
    return float(max(sideways / PX_PER_MM - SIDEWAYS_MM, upright / PX_PER_MM - UPRIGHT_MM))


def only_spare(page_box: Any) -> bool:
    """Whether all that stands on a page, head and foot apart, is in elements marked `data-spare`."""
    return not any(_kept(page_box.children[0]))


def _kept(box: Any) -> Iterator[Any]:
    """What takes room in a box and is not marked as spare."""
    element = getattr(box, "element", None)
    if element is not None and hasattr(element, "get") and element.get("data-spare") is not None:
        return
    children = getattr(box, "children", ())
    for child in children:
        yield from _kept(child)
    if not children and box.height:
        yield box
