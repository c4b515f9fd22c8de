"""Figures of facts as a coach reads them: whole smallest steps inside, metres, m/s and degrees on the screen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from planner.domain.block import Mark
from planner.domain.following import mark_words

FELT = {"wind": "m/s", "air": "°C", "wbgt": "°C"}  # tenths inside


def _metres(cm: int) -> str:
    return f"{cm / 100:.2f} m"


def _cm(cm: int) -> str:
    return f"{cm} cm"


OF_FIELDS: Mapping[str, Callable[[int], str]] = {"start_mark": _metres, "coach_mark": _metres, "target": _metres}
OF_PIT: Mapping[str, Callable[[int], str]] = {  # of one attempt or one run; there the coach's mark is a reading
    "start_mark": _metres, "hop": _metres, "step": _metres, "jump": _metres,
    "board": _cm, "gap": _cm, "coach_mark": _cm,
}  # fmt: skip


IN_ORDER = ("board", "wind", "gap", "start_mark", "coach_mark", "hop", "step", "jump", "clip")


def figure(name: str, value: Any, *, at_the_pit: bool = False) -> str:
    """'1.2 m/s', '28.5 °C', '33.20 m' where the field has a unit, else the value as it is.

    `at_the_pit`: the field is one of an attempt or of a run; there wind has its sign, + from behind.
    """
    if not isinstance(value, int) or isinstance(value, bool):
        return str(value)
    if name in FELT:
        signed = "+" if at_the_pit and value > 0 else ""
        return f"{signed}{value / 10:.1f} {FELT[name]}"
    of = (OF_PIT if at_the_pit else OF_FIELDS).get(name)
    return of(value) if of else str(value)


def of_the_pit(record: Mapping[str, Any]) -> str:
    """One attempt or one run: '5.91 m, wind +0.8 m/s, gap 4 cm', 'foul', 'board 12 cm, wind +0.2 m/s'."""
    said = []
    outcome, ended = record.get("outcome"), record.get("ended")
    if outcome == "mark" and isinstance(record.get("value"), int):
        said.append(mark_words(Mark("", "", record["value"], record["unit"])))
    elif outcome:
        said.append(str(outcome))
    if ended not in (None, "completed"):
        said.append(str(ended))
    for name in IN_ORDER:
        if record.get(name) not in ("", None):
            said.append(f"{name.replace('_', ' ')} {figure(name, record[name], at_the_pit=True)}")
    return ", ".join(said)
