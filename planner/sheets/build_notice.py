"""From the changes of a re-plan to the change notice."""

from __future__ import annotations

from collections.abc import Sequence

from planner.domain.problem import Problem
from planner.review.changes import Change
from planner.sheets import words
from planner.sheets.build_athlete import squad_foot
from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_notice import NoticeRow, NoticeView

LEFT_OUT = "left out"
CAUTION = (
    "Missed work stays missed: nothing is added later. Stop on pain; a clinician and the local rules go first."
)


def notice_view(
    changes: Sequence[Change],
    unchanged: Sequence[str],
    reasons: Sequence[str],
    problem: Problem,
    revision: RevisionView,
) -> NoticeView:
    """The notice of one re-plan; rows by athlete and day."""
    block = problem.block
    rows: list[NoticeRow] = []
    last = ""
    for c in changes:
        now = words.title(c.now) if c.now else LEFT_OUT
        when = f"{words.day_of(c.day)} {words.short_date(c.day)}"
        was = words.title(c.was) or "nothing"
        rows.append(NoticeRow(words.clean(c.athlete), c.athlete != last, when, was, now))
        last = c.athlete
    return NoticeView(
        title=f"Change notice: {words.clean(block.name)}",
        sub=words.span(block.begins, block.ends),
        squad=words.clean(block.squad),
        revision=revision,
        reasons=tuple(words.sentence(r) for r in reasons),
        rows=tuple(rows),
        unchanged=words.listed(tuple(words.clean(n) for n in unchanged)),
        caution=CAUTION,
        foot=f"Change notice, {words.shorter(block.name, 28)}",
        foot_squad=squad_foot(block.squad, block.contact),
    )
