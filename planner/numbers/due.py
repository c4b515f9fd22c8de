"""Which tests are due for an athlete: the tests of the own events whose mark is missing or old.

The lists and the age are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from planner.domain.block import Athlete, Mark

OLD_AFTER_DAYS = 56  # eight weeks; a mark without a date counts as old
OF_JUMPS = ("30 m", "flying 20 m", "five bounds")
OF_SPRINTS = ("30 m", "30 m blocks", "flying 20 m")
OF_LONG_SPRINTS = ("30 m", "flying 20 m", "200 m")
TESTS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("long jump", "triple jump", "high jump", "pole vault"), OF_JUMPS),
    **dict.fromkeys(("60 m", "75 m", "80 m", "100 m", "150 m", "200 m", "hurdles"), OF_SPRINTS),
    **dict.fromkeys((f"{metres} m hurdles" for metres in (60, 75, 80, 100, 110)), OF_SPRINTS),
    **dict.fromkeys(("300 m", "400 m", "300 m hurdles", "400 m hurdles"), OF_LONG_SPRINTS),
    **dict.fromkeys(("heptathlon", "decathlon", "pentathlon", "octathlon", "combined events", "all"), OF_JUMPS),
}


def due_tests(athlete: Athlete, marks: Sequence[Mark], day: date) -> tuple[tuple[str, int | None], ...]:
    """Tests that are due on a day and how many days old the newest mark is (None: there is none, or no date)."""
    wanted = dict.fromkeys(t for event in athlete.events for t in TESTS.get(event, ("30 m",)))
    found: list[tuple[str, int | None]] = []
    for test in wanted:
        days = [(day - m.day).days for m in marks if m.event == test and m.day is not None and m.day <= day]
        age = min(days, default=None)
        if age is None or age > OLD_AFTER_DAYS:
            found.append((test, age))
    return tuple(found)


def due_words(athlete: Athlete, marks: Sequence[Mark], day: date) -> str:
    """'due: flying 20 m (no dated mark), 30 m (92 days old)'; '' when every mark is new enough."""
    due = due_tests(athlete, marks, day)
    said = [f"{test} ({'no dated mark' if age is None else f'{age} days old'})" for test, age in due]
    return f"due: {', '.join(said)}" if said else ""
