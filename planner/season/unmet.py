"""What the coach fixed by hand and nobody can give: said with its reason, and with what may stand in."""

from __future__ import annotations

from collections.abc import Iterable

from planner.catalogue import substitutes
from planner.domain.block import Wish
from planner.domain.plan import Refusal
from planner.domain.problem import Problem


def unmet(problem: Problem, rows: Iterable[Wish]) -> tuple[str, ...]:
    """A sentence for the coach for each of these rows of the table 'fixed' that nothing on offer can meet."""
    return tuple(_sentence(problem, w) for w in rows if not _offers(problem, w, w.unit))


def _offers(problem: Problem, w: Wish, unit: str) -> bool:
    return any(
        (p.athlete, p.day, p.unit.id) == (w.athlete, w.day, unit) and w.slot in ("", p.slot)
        for p in (*problem.candidates, *problem.kept, *problem.history)
    )


def _sentence(problem: Problem, w: Wish) -> str:
    slot = f", {w.slot}" if w.slot else ""
    because = "; ".join(dict.fromkeys(_why(r) for r in _reasons(problem, w))) or "the day has no such slot"
    known = [problem.units[u] for u in sorted(substitutes(w.unit)) if u in problem.units]
    instead = [u.name.lower() for u in known if _offers(problem, w, u.id)]
    maybe = f"{' or '.join(instead)}, which can be had there" if instead else "another day, or take the row out"
    unit = problem.units[w.unit].name.lower() if w.unit in problem.units else w.unit
    return (
        f"{w.athlete}, {w.day:%a %d %b}{slot}: {unit} must be here by the file and cannot be had, because: "
        f"{because}. Maybe {maybe}."
    )


def _reasons(problem: Problem, w: Wish) -> list[Refusal]:
    """What took the unit away; the line that says the row itself cannot be met is none of them."""
    found = [
        r for r in problem.refusals
        if r.athlete == w.athlete and r.day == w.day and r.unit in ("", w.unit) and r.line != w.line
        and (not w.slot or r.slot in ("", w.slot))
    ]  # fmt: skip
    return [r for r in found if r.unit] or found


def _why(r: Refusal) -> str:
    line = f" ({r.line})" if r.line else ""
    return f"{r.reason}{line}"
