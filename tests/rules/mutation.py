"""Break one file of the rule book at a time and see whether the rules' own examples and universes notice.

    python tests/rules/mutation.py [FILE ...] [--processes N] [--seconds N]

Each mutant changes one thing in `constrain`, `check` or what they call (see mutants.py). It is caught when an
example is miscounted, when the faces disagree in a trial (see agreement.py: examples, universe, universe partly
settled or with one of the rule's numbers changed from a day on), or when it raises. A file that rules share
(_hours, _travel ...) is broken too, and any of the rules that import it may notice. What survives stands in
argued.toml with the reason why no plan can show it, or is open: it needs a better example or universe. An entry
of the table that no longer survives is stale. Exit code 1 when any is open, stale or not examined.

Not part of .ci/run: it takes minutes. `--seconds` is a net under a mutant that never ends, not a budget.
"""

from __future__ import annotations

import argparse
import ast
import multiprocessing
import re
import signal
import sys
import time
import tomllib
import types
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from types import FrameType

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parent))

from agreement import Counted, Trial, agree, by_findings, by_rows, rows_of, trials
from mutants import Mutant, mutants

import planner.rules
from planner.domain.view import PlanView
from planner.rules import BookRule, book
from planner.solve.rows import RowStore

NO_FACE = ("__init__", "_board", "_page", "_rule", "_tiny")  # what a rule is written in, not what it says
ARGUED = Path(__file__).with_name("argued.toml")


def argued() -> Mapping[str, list[dict[str, str]]]:
    """By file: `where` a mutant that survives stands, and `why` no plan can show it."""
    made: Mapping[str, list[dict[str, str]]] = tomllib.loads(ARGUED.read_text(encoding="utf-8"))
    return made


@dataclass(frozen=True)
class Known:
    """A trial with what the unbroken rule says of it."""

    trial: Trial
    store: RowStore
    rows: list[Counted]
    found: list[Counted]


@dataclass
class Report:
    """What became of the mutants of one file."""

    file: str
    tried: int = 0
    survivors: list[tuple[str, int]] = field(default_factory=list)  # where, line
    not_examined: list[str] = field(default_factory=list)
    seconds: float = 0.0  # of processor time, which a busy machine does not stretch

    @property
    def argued(self) -> set[str]:
        return {e["where"] for e in argued().get(self.file, [])}

    @property
    def open(self) -> list[tuple[str, int]]:
        return [(where, line) for where, line in self.survivors if where not in self.argued]

    @property
    def stale(self) -> list[str]:
        return sorted(self.argued - {where for where, _ in self.survivors} - set(self.not_examined))


class RanOutError(BaseException):
    """No error of the mutant's own: nothing in a rule may catch it."""


@contextmanager
def at_most(seconds: int) -> Iterator[None]:
    def ran_out(_signal: int, _frame: FrameType | None) -> None:
        raise RanOutError

    signal.signal(signal.SIGALRM, ran_out)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)


def source_of(rule: BookRule) -> str:
    return Path(str(rule.module.__file__)).read_text(encoding="utf-8")


@cache
def shared() -> Mapping[str, tuple[str, ...]]:
    """By file that rules share: the rules that import it, and so have to notice."""
    files = [f.stem for f in Path(str(planner.rules.__file__)).parent.glob("_*.py") if f.stem not in NO_FACE]
    return {f: tuple(r.id for r in book().values() if re.search(rf"\b{f}\b", source_of(r))) for f in sorted(files)}


def mutants_of(name: str) -> Iterator[Mutant]:
    """All mutants of a rule, or of a file that rules share."""
    file = Path(str(planner.rules.__file__)).with_name(f"{name}.py")
    return mutants(file.read_text(encoding="utf-8"), shared=name in shared())


def examine(name: str, seconds: int) -> Report:
    """Every mutant of one file, against what the rules say unbroken (worked out once)."""
    report, began = Report(name), time.process_time()
    rules = [book()[r] for r in shared().get(name, (name,))]
    known = {rule.id: [_known(rule, trial) for trial in trials(rule)] for rule in rules}
    for mutant in mutants_of(name):
        report.tried += 1
        try:
            with at_most(seconds):
                if not caught(name, mutant, known):
                    report.survivors.append((mutant.where, mutant.line))
        except RanOutError:
            report.not_examined.append(mutant.where)
    report.seconds = time.process_time() - began
    return report


def _known(rule: BookRule, trial: Trial) -> Known:
    store = rows_of(rule, trial.made)
    rows = [by_rows(store, plan) for plan in trial.plans]
    found = [_found(rule, trial, view) for view in trial.views]
    assert all(agree(rule.rule, r, f) for r, f in zip(rows, found, strict=True)), f"{rule.id}: {trial.what}"
    return Known(trial, store, rows, found)


def _found(rule: BookRule, trial: Trial, view: PlanView) -> Counted:
    return by_findings(rule.rule, trial.made, rule.check(view, trial.made))


def caught(name: str, mutant: Mutant, known: Mapping[str, list[Known]]) -> bool:
    """Does any trial of any rule notice?"""
    try:
        asked = [(broken, k) for broken in load(name, mutant) for k in known[broken.id]]
        asked.sort(key=lambda one: one[1].trial.example is None)  # the examples of all of them first
        return any(_miscounted(broken, mutant, k) or _disagree(broken, mutant, k) for broken, k in asked)
    except Exception:
        return True  # a mutant that raises is noticed


def load(name: str, mutant: Mutant) -> Iterator[BookRule]:
    """The rule that is broken; or, one after the other, the rules that import the broken file."""
    if name not in shared():
        yield _run(book()[name], mutant.tree)
        return
    whole = f"{planner.rules.__name__}.{name}"
    sound, module = sys.modules[whole], types.ModuleType(whole)
    exec(compile(mutant.tree, str(sound.__file__), "exec"), module.__dict__)
    for rule in (book()[r] for r in shared()[name]):
        try:
            sys.modules[whole] = module
            setattr(planner.rules, name, module)
            again = _run(rule, ast.parse(source_of(rule)))
        finally:
            sys.modules[whole] = sound
            setattr(planner.rules, name, sound)
        yield again


def _run(rule: BookRule, tree: ast.Module) -> BookRule:
    module = types.ModuleType(rule.module.__name__)
    module.__file__ = rule.module.__file__
    exec(compile(tree, str(module.__file__), "exec"), module.__dict__)
    return BookRule(module.RULE, rule.sentence, module)


def _miscounted(broken: BookRule, mutant: Mutant, known: Known) -> bool:
    example = known.trial.example
    if example is None or "check" not in mutant.faces:
        return False
    found = broken.check(known.trial.views[0], known.trial.made)
    return sum(f.amount for f in found) != example.findings or any(
        f.tier != example.tier for f in found if example.tier
    )


def _disagree(broken: BookRule, mutant: Mutant, known: Known) -> bool:
    """Do the faces disagree on a plan? The face that the mutant does not touch is not asked again."""
    trial, rows, found = known.trial, iter(known.rows), iter(known.found)
    if "constrain" in mutant.faces:
        store = rows_of(broken, trial.made)
        same = store.rows == known.store.rows and store.columns == known.store.columns
        if same and "check" not in mutant.faces:
            return False
        rows = (by_rows(store, plan) for plan in trial.plans)
    if "check" in mutant.faces:
        found = (_found(broken, trial, view) for view in trial.views)
    return any(not agree(broken.rule, r, f) for r, f in zip(rows, found, strict=True))


def quoted(where: str) -> str:
    """As argued.toml writes it."""
    return f"'{where}'" if "'" not in where else f"'''{where}'''"


def main() -> int:
    """Examine the files named, or all of them; list what is open or stale as it comes."""
    known = [*shared(), *book()]
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("files", nargs="*", metavar="FILE", choices=[*known, []])
    words.add_argument("--processes", type=int, default=2)
    words.add_argument("--seconds", type=int, default=120, help="for one mutant")
    given = words.parse_args()
    began, reports = time.monotonic(), []
    with multiprocessing.Pool(given.processes) as pool:
        for report in pool.imap_unordered(partial(examine, seconds=given.seconds), given.files or known):
            reports.append(report)
            show(report)
    tried, alive = sum(r.tried for r in reports), sum(len(r.survivors) for r in reports)
    opened, stale = sum(len(r.open) for r in reports), sum(len(r.stale) for r in reports)
    skipped = sum(len(r.not_examined) for r in reports)
    print(
        f"{tried} mutants of {len(reports)} files: {tried - alive - skipped} caught, {alive - opened} argued, "
        f"{opened} open, {skipped} not examined; {stale} entries stale; {time.monotonic() - began:.0f} s, "
        f"{sum(r.seconds for r in reports):.0f} s of processor time"
    )
    return 1 if opened or stale or skipped else 0


def show(report: Report) -> None:
    kept = len(report.survivors) - len(report.open)
    print(
        f"{report.file}: {report.tried} mutants, {len(report.open)} open, {kept} argued ({report.seconds:.0f} s)",
        flush=True,
    )
    for where, line in report.open:
        print(f"    open, line {line}\n    where = {quoted(where)}", flush=True)
    for where in report.stale:
        print(f"    stale: where = {quoted(where)}", flush=True)
    for where in report.not_examined:
        print(f"    time ran out: where = {quoted(where)}", flush=True)


if __name__ == "__main__":
    sys.exit(main())
