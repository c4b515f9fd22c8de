"""Worker processes: the same answers as alone, also when one is killed, and an end when told to stop."""

from __future__ import annotations

import logging
import os
import signal
import threading
import time

import pytest

from planner.domain.problem import Problem
from planner.rules._tiny import World, problem
from planner.solve import search, solve
from planner.solve.blocks import cut
from planner.solve.cpsat import Limits
from planner.solve.linear import LinearModel, linear_model
from planner.solve.neighbourhoods import by_person_and_week
from planner.solve.parts import Parts
from planner.solve.pieces import Piece
from planner.solve.rows import write_rows
from planner.solve.state import State
from planner.solve.workers import Workers, _Worker

from .worlds import a_training_week


def a_block(days: int = 14, athletes: int = 3) -> Problem:
    units = ("flying-sprints", "heavy-strength", "extensive-tempo")
    return problem(World(units, days=days, athletes=athletes, amounts=("full", "lighter")))


def pieces_of(model: LinearModel) -> list[Piece]:
    """Every person's week as a piece that begins with nothing chosen."""
    parts, start = Parts(model), State(model.store).start(model)
    return [parts.piece(part, start) for part in by_person_and_week(model.store)]


@pytest.fixture(scope="module")
def model() -> LinearModel:
    return linear_model(write_rows(a_block(), a_training_week()))


def test_the_same_answers_with_any_number(model: LinearModel) -> None:
    pieces = pieces_of(model)
    answers = []
    for number in (1, 2, 3):
        with Workers(number) as workers:
            workers.load(model.numbers)
            answers.append(workers.solve(pieces, Limits(0.5)))
    assert answers[0] == answers[1] == answers[2]
    assert all(answer.values for answer in answers[0])


def test_a_killed_worker_changes_no_answer(model: LinearModel, caplog: pytest.LogCaptureFixture) -> None:
    pieces = pieces_of(model)
    with Workers(1) as alone:
        alone.load(model.numbers)
        expected = alone.solve(pieces, Limits(0.5))
    with caplog.at_level(logging.WARNING), Workers(2) as workers:
        workers.load(model.numbers)
        for process in workers.process_ids:
            os.kill(process, signal.SIGKILL)
        assert workers.solve(pieces, Limits(0.5)) == expected
        assert workers.solve(pieces, Limits(0.5)) == expected
    assert "ended from outside" in caplog.text


def test_told_to_stop_ends_the_workers_and_says_so(
    model: LinearModel, caplog: pytest.LogCaptureFixture
) -> None:
    asked = threading.Event()
    asked.set()
    with Workers(2) as workers:
        workers.load(model.numbers)
        begun = workers.process_ids
        answers = workers.solve(pieces_of(model) * 4, Limits(500.0, stop=asked.is_set))
        assert any(answer.stopped for answer in answers)
        assert len(begun) == 2 and not workers.process_ids
    assert "outside" not in caplog.text, "we ended them ourselves"
    for process in begun:
        with pytest.raises(ProcessLookupError):
            os.kill(process, 0)


def test_an_interrupt_from_the_keyboard_is_not_for_the_workers(model: LinearModel) -> None:
    pieces = pieces_of(model)
    with Workers(2) as workers:
        workers.load(model.numbers)
        expected = workers.solve(pieces, Limits(0.5))
        for process in workers.process_ids:
            os.kill(process, signal.SIGINT)
        time.sleep(0.05)
        assert workers.solve(pieces, Limits(0.5)) == expected
        assert len(workers.process_ids) == 2


def test_a_small_squad_starts_no_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """The short way goes through the same code, with nobody beside this process; a larger one asks for them."""
    started: list[_Worker] = []
    plain = _Worker.__init__

    def noted(worker: _Worker) -> None:
        started.append(worker)
        plain(worker)

    monkeypatch.setattr(_Worker, "__init__", noted)
    solve(a_block(), a_training_week(), budget="quick", processes=2)
    assert not started
    monkeypatch.setattr(search, "ONE_PIECE", 10)
    solve(a_block(), a_training_week(), budget="quick", processes=2, at_most=0.0)
    assert len(started) == 2
    assert all(worker._process.poll() is not None for worker in started), "none is left behind"


def test_no_process_can_be_started(
    model: LinearModel, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr("sys.executable", "/nowhere/python")
    pieces = pieces_of(model)[:2]
    with caplog.at_level(logging.WARNING), Workers(2) as workers:
        workers.load(model.numbers)
        assert all(answer.values for answer in workers.solve(pieces, Limits(0.5)))
    assert "could not be started" in caplog.text


def test_blocks_share_no_column_and_every_row_is_somewhere(model: LinearModel) -> None:
    parts = by_person_and_week(model.store)
    blocks = cut(model, parts)
    columns = [c for block in blocks.blocks for c in block.columns] + list(blocks.loose)
    assert sorted(columns) == list(range(len(model.low)))
    rows = [r for block in blocks.blocks for r in block.rows] + list(blocks.coupling)
    assert sorted(rows) == list(range(len(model.rows)))
    for block in blocks.blocks:
        own = {*block.columns, *blocks.loose}
        assert all(own.issuperset(model.rows[r].columns) for r in block.rows)
