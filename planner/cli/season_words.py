"""The season at a glance for the terminal: what each athlete's weeks are for, 80 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from planner.cli.words import WIDTH, wrapped
from planner.domain.dates import said_day
from planner.season import Outline

INDENT = " " * 13


def season_lines(outline: Outline, athletes: Sequence[str]) -> list[str]:
    """For each athlete the run of phases, then a line a week; what the shape lacks comes last."""
    lines = [f"{outline.name}, {said_day(outline.begins)} - {said_day(outline.ends)} {outline.ends.year}"]
    for name in athletes:
        runs = ", ".join(f"{phase} {n}" for phase, n, _, _ in outline.stretches(name))
        lines += ["", *textwrap.wrap(f"{name} (weeks: {runs})", WIDTH, subsequent_indent="  ")]
        for week in outline.weeks[name]:
            fast = "no fast day" if not week.fast_days.target else f"{week.fast_days.target} fast"
            text = f"{week.words}; {fast}, {week.training_days.target} training days"
            lead = f"  {said_day(week.first):<11}"
            lines += textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=INDENT)
    if outline.remarks:
        lines += ["", "What the shape lacks:"]
        lines += [line for remark in outline.remarks for line in wrapped(remark)]
    return lines
