"""Keep measured figures beside the harness and draw them: results.json, and the figures in RESULTS.md.

The words around the figures in RESULTS.md are written by a person and stay; `python tests/bench/results.py`
draws the figures again from results.json.
"""

from __future__ import annotations

import importlib.metadata
import json
import os
import platform
from collections.abc import Callable, Mapping
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generated import size_of

if TYPE_CHECKING:
    from squads import Measured

HERE = Path(__file__).parent
DATA, PAGE = HERE / "results.json", HERE / "RESULTS.md"
BEGINS, ENDS = "<!-- figures: drawn by tests/bench/results.py -->", "<!-- end of figures -->"
WIDEST = 50  # signs of the longest bar
CURVE_POINTS = 12  # rows of a curve at most
Figures = Mapping[str, Any]


def record(found: Measured) -> None:
    """Keep one size's figures (in place of older ones) and draw all again."""
    known = json.loads(DATA.read_text(encoding="utf-8")) if DATA.exists() else {}
    known[found.size] = {
        **asdict(found),
        "bound": found.bound,
        "date": date.today().isoformat(),
        "versions": _versions(),
        "machine": f"{platform.system()} {platform.machine()}, {os.cpu_count()} processors",
    }
    ordered = dict(sorted(known.items(), key=lambda kv: _weeks(kv[0])))
    DATA.write_text(json.dumps(ordered, indent=1) + "\n", encoding="utf-8")
    draw(ordered)


def draw(known: Figures) -> None:
    """Put the figures of all sizes into RESULTS.md."""
    words = PAGE.read_text(encoding="utf-8") if PAGE.exists() else f"# Results\n\n{BEGINS}\n{ENDS}\n"
    before, _, rest = words.partition(BEGINS)
    after = rest.partition(ENDS)[2]
    parts = [_sizes(known), _growth(known)]
    for name, figures in known.items():
        parts += [f"### {name}", _machine(figures), _table(figures), _curve(figures)]
    text = "\n\n".join(part for part in parts if part)
    PAGE.write_text(f"{before}{BEGINS}\n\n{text}\n\n{ENDS}{after}", encoding="utf-8")


def _versions() -> str:
    others = (f"{name} {importlib.metadata.version(name)}" for name in ("ortools", "highspy"))
    return ", ".join([f"Python {platform.python_version()}", *others])


def _weeks(size: str) -> int:
    athletes, weeks = size_of(size)
    return athletes * weeks


def _machine(figures: Figures) -> str:
    return (
        f"{figures['date']}, {figures['versions']}, {figures['machine']}; random seed {figures['random_seed']}; "
        f"most memory {figures['megabytes']} MB."
    )


def _sizes(known: Figures) -> str:
    rows = [
        [
            name,
            len(f["parts"]),
            *(max(p[key] for p in f["parts"]) for key in ("candidates", "columns", "rows", "terms")),
            f"{_to_first_plan(f):.1f}",
            ", ".join(f"{step} {seconds:.1f}" for step, seconds in f["steps"].items() if seconds >= 0.05),
        ]
        for name, f in known.items()
    ]
    head = ["size", "parts", "candidates", "columns", "rows", "terms", "first plan, processor s", "of which"]
    return "Rows are those of the largest part.\n\n" + _markdown(head, rows)


def _to_first_plan(figures: Figures) -> float:
    """Steps in brackets come after the first plan."""
    return sum(seconds for name, seconds in figures["steps"].items() if not name.startswith("("))


def _growth(known: Figures) -> str:
    """Bars, by athlete-weeks: what grows, and how."""
    drawn: list[tuple[str, Callable[[Figures], float | None], str]] = [
        ("rows written, all parts", lambda f: sum(p["rows"] for p in f["parts"]), ",.0f"),
        ("processor seconds to the first complete reviewed plan", _to_first_plan, ".1f"),
        ("points per athlete-week of the planner's best plan above the bound", _left, ".2f"),
    ]
    lines = ["```text"]
    for title, value, form in drawn:
        found = {name: v for name, f in known.items() if (v := value(f)) is not None}
        most = max(found.values(), default=0) or 1
        lines.append(title)
        for name, v in found.items():
            bar = "█" * round(WIDEST * v / most)
            lines.append(f"  {name:>6} ({_weeks(name):3} athlete-weeks) {bar} {v:{form}}")
    return "\n".join([*lines, "```"])


def _left(figures: Figures) -> float | None:
    ours = [r for r in figures["runs"] if r["scheme"].startswith("planner") and r["should"] is not None]
    return (min(r["should"] for r in ours) - figures["bound"]) / _weeks(figures["size"]) if ours else None


def _table(figures: Figures) -> str:
    each, bound = _weeks(figures["size"]), figures["bound"]
    greedy = next((r["should"] for r in figures["runs"] if r["scheme"] == "greedy"), None)
    rows = []
    for run in figures["runs"]:
        should, own = run["should"], "-" if run["bound"] is None else run["bound"]
        row = [run["scheme"], f"{run['seconds']:.1f}", f"{run['load']:.1f}"]
        if should is None:
            rows.append([*row, "no plan", "", own, "", "", ""])
            continue
        gap = should - bound
        share = f"{100 * gap / should:.1f} %" if should else "0 %"
        closed = f"{100 * (greedy - should) / (greedy - bound):.0f} %" if greedy and greedy > bound else ""
        rows.append([*row, should, run["prefer"], own, share, f"{gap / each:.2f}", closed])
    head = ["scheme", "seconds", "load", "should", "prefer", "own bound"]
    head += ["above the bound", "points an athlete-week", "of greedy's distance closed"]
    apart = "No bound was asked for apart from the planner's own." if not figures["alone"] else (
        f"Lost for each athlete alone, whatever is planned: {figures['alone']} points "
        f"({figures['alone'] / each:.2f} an athlete-week). Best bound known: {bound}."
    )
    return f"{apart}\n\n{_markdown(head, rows)}"


def _curve(figures: Figures) -> str:
    """Value and bound over time of the planner's longest run."""
    runs = [r for r in figures["runs"] if r["curve"]]
    if not runs:
        return ""
    run = max(runs, key=lambda r: r["seconds"])
    points = run["curve"]
    step = -(-len(points) // CURVE_POINTS)
    shown = [*points[::step], *([points[-1]] if (len(points) - 1) % step else [])]
    rows = [
        [f"{p['seconds']:.1f}", p["part"], p["should"], "-" if p["bound"] is None else p["bound"]]
        for p in shown
    ]
    return f"{run['scheme']}, over time:\n\n{_markdown(['seconds', 'part', 'should', 'bound'], rows)}"


def _markdown(head: list[str], rows: list[list[Any]]) -> str:
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(str(cell) for cell in line) + " |" for line in lines)


if __name__ == "__main__":
    draw(json.loads(DATA.read_text(encoding="utf-8")))
