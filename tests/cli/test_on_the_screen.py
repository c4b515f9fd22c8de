"""Lines of the terminal, from a plan drawn by hand."""

from __future__ import annotations

import fcntl
import io
import os
import struct
import termios
from dataclasses import dataclass, replace
from datetime import date, time
from pathlib import Path

import pytest

from planner.cli.app import SHORT
from planner.cli.endings import columns, fitted
from planner.cli.replanned import options_lines
from planner.cli.words import build_summary, day_lines, in_room, sheet_lines, week_lines
from planner.domain.block import EventStart, Limit
from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.domain.revision import Revision
from planner.options import Way
from planner.review.changes import Change
from planner.sheets.report import Overflow, PrintReport
from tests.sheets import world


@dataclass(frozen=True)
class Built:
    outcome: Outcome
    problem: Problem
    revision: Revision
    unchanged: bool = False


def test_names_stand_whole_where_there_is_room_and_never_alike() -> None:
    names = ("Ada Lindmoor", "Theodora Montgomery-Fairweather", "Theodora Lindqvist-Abrahamson")
    assert in_room(names, 20) == {
        "Ada Lindmoor": "Ada Lindmoor",
        "Theodora Montgomery-Fairweather": "Theodora M.",
        "Theodora Lindqvist-Abrahamson": "Theodora L.",
    }


def test_the_week_shows_every_name_in_eighty_columns() -> None:
    problem = world.problem()
    lines = week_lines(problem, world.placements(), problem.days[:7])
    assert all(any(line.startswith(name) for line in lines) for name in problem.athletes)
    assert max(map(len, lines)) <= 80


def test_the_calendar_of_an_athlete_stands_among_the_sessions() -> None:
    problem = world.problem()
    lines = day_lines(problem, world.placements(), problem.days, world.S)
    assert lines[-1] == "Sun 18 Apr  Fjordby spring meeting, long jump; supporting competition"
    assert not any(world.J in line for line in lines)
    exam = day_lines(problem, (), problem.days, world.L)
    assert exam == ["Fri 09 Apr  Exam from 08:00 until 14:00"]


def test_who_trains_not_once_is_named_first() -> None:
    remarks = (f"{world.T}, week of Mon 5 Apr: no tempo", f"{world.T}, week of Mon 5 Apr: no runs", "Bo: no gym")
    outcome = replace(world.outcome(), remarks=remarks)
    outcome = replace(outcome, plan=replace(outcome.plan, placements=tuple(
        p for p in outcome.plan.placements if p.athlete != world.T
    )))  # fmt: skip
    made = Built(outcome, world.problem(), world.REVISION)
    said = " ".join(build_summary(made, Path("spring")))  # type: ignore[arg-type]  # what of a result is read
    assert f"Not one session: {world.T}. Look at what is unusual: planner check spring" in said
    assert "no tempo" in said and "no runs" not in said and "no gym" in said and "and 1 more" in said


def test_a_build_repeats_who_is_entered_under_a_limit_and_names_no_region() -> None:
    problem = world.problem()
    meet = next(c for c in problem.block.competitions if c.athlete == world.S)

    def said(stage: int) -> str:
        block = replace(problem.block, limits=(Limit(world.S, "hamstring", "left", stage),))
        made = Built(world.outcome(), replace(problem, block=block), world.REVISION)
        lines = build_summary(made, Path("spring"))  # type: ignore[arg-type]  # what of a result is read
        return " ".join(" ".join(lines).split())

    assert f"{world.S} is entered in {meet.name} (Sun 18 Apr) under a limit" in said(4)
    assert "a person does (clinician, coach and athlete)" in said(4) and "hamstring" not in said(4)
    assert "is entered in" not in said(5)


def test_a_build_repeats_two_events_of_the_main_competition_until_a_person_accepts_them() -> None:
    problem = world.problem()

    def said(**more: object) -> str:
        meets = tuple(
            replace(c, **more) if c.athlete == world.A else c  # type: ignore[arg-type]
            for c in problem.block.competitions
        )
        block = replace(problem.block, competitions=meets)
        made = Built(world.outcome(), replace(problem, block=block), world.REVISION)
        lines = build_summary(made, Path("spring"))  # type: ignore[arg-type]  # what of a result is read
        assert max(map(len, lines)) <= 80
        return " ".join(" ".join(lines).split())

    starts = (EventStart("200 m", time(11, 30)), EventStart("100 m", time(12, 20)))
    asked = "Several events on one day at Fjordby spring meeting (Sun 18 Apr):"
    assert f"{asked} {world.A} (100 m and 200 m, the time between them is not known)." in said()
    assert f"{asked} {world.A} (200 m 11:30 and 100 m 12:20, 50 minutes from start" in said(starts=starts)
    assert "Several events" not in said(starts=starts, gap_accepted="Holm: two short races")
    assert "Several events" not in said(importance="supporting")


def test_other_options_say_only_where_they_differ_from_the_first() -> None:
    day = date(2027, 3, 1)
    same = Change("Ada Norrby", day, "extensive bounding, 60 contacts on the grass beside it", "", "left out")
    lost = Change("Ada Norrby", day, "long jumps, 9 jumps", "", "left out")
    moved = Change("Ada Norrby", day, "long jumps, 9 jumps", "Tue 2 Mar (evening)", "moved")
    only_first = Change("Ada Norrby", day, "mobility, 20 minutes", "", "left out")

    def way(sentence: str, *changes: Change) -> Way:
        return Way(world.problem(), frozenset(), world.outcome(), changes, sentence)

    ways = (way("It moves.", same, moved, only_first), way("It is left out.", same, lost))
    lines = options_lines(ways, Path("spring"))
    second = " ".join(" ".join(lines[lines.index("- Option 2. It is left out.") :]).split())
    assert "long jumps, 9 jumps is left out" in second and "extensive bounding" not in second
    assert "not as in option 1: Ada Norrby: Mon 1 Mar: mobility, 20 minutes is left out" in second
    assert "1 change as in option 1." in second and "--options --option 2" in second
    assert sum("extensive bounding" in line for line in lines) == 1 and max(map(len, lines)) <= 80
    whole = " ".join(options_lines(ways, Path("spring"), 2))
    assert "extensive bounding" in whole and "It moves." not in whole and "--option 2" in whole


def test_no_line_of_the_help_is_cut_at_eighty_columns() -> None:
    assert all(len(said) <= 80 - len("  hand-out  ") for said in SHORT.values())


def test_the_books_keep_to_eighty_columns(capsys: pytest.CaptureFixture[str]) -> None:
    from planner.cli.book import rules as show_rules
    from planner.cli.book import units as show_units
    from planner.rules import book

    show_units()
    listed = capsys.readouterr().out
    assert "flying-sprints            Flying sprints" in listed and "[...]" not in listed
    for name in book():
        show_rules(name)
    shown = capsys.readouterr().out
    assert "{rule: taper_volume, parameter: touches, value: 1}" in " ".join(shown.split())
    assert max(map(len, (listed + shown).splitlines())) <= 80


def test_an_error_is_broken_between_words() -> None:
    said = fitted("block.yaml, line 9: found one-and-a-half; needed 1.\nMaybe so.", 30)
    assert said == "block.yaml, line 9: found\n  one-and-a-half; needed 1.\nMaybe so."
    listed = fitted("These collide:\n  - Ada, Monday evening, and Bo.\n/a/long/path/to/a/block.yaml: gone.", 20)
    assert listed.splitlines() == [
        "These collide:", "  - Ada, Monday", "    evening, and Bo.", "/a/long/path/to/a/block.yaml:", "  gone.",
    ], "a list keeps its indent, a path stays whole"  # fmt: skip


def test_an_error_is_as_wide_as_the_screen_and_never_wider_than_the_rest() -> None:
    master, slave = os.openpty()
    with open(slave, "w", encoding="utf-8") as screen, open(master, "rb", buffering=0):
        for wide, asked in ((60, 60), (200, 80), (10, 40)):
            fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, wide, 0, 0))
            assert columns(screen) == asked
    assert columns(io.StringIO()) == 80, "a pipe or a file"


def test_the_same_text_that_does_not_fit_is_said_once() -> None:
    spills = tuple(Overflow(f"page of {n}", 1, "foot", "a long contact", 0.5) for n in "abc")
    said = " ".join(sheet_lines(PrintReport(overflow=spills)))
    assert said.count("a long contact") == 1 and "And on 2 more pages." in " ".join(said.split())
