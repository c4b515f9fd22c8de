"""Commands that look: show, review, export, history."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Annotated

import typer

from planner.cli.clock import moment
from planner.cli.options import File, Json, Now, block_file
from planner.cli.words import WIDTH, day_lines, legend, review_lines, week_lines
from planner.domain.errors import Told
from planner.domain.names import meant_by

MUST_BROKEN = 4


class NotFound(Told):
    """An athlete, date or file that is not there."""


def show(
    file: File,
    athlete: Annotated[str, typer.Option("--athlete", help="Only this athlete, day by day.")] = "",
    day: Annotated[str, typer.Option("--day", help="Only this day, YYYY-MM-DD.")] = "",
    season: Annotated[
        bool, typer.Option("--season", help="The weeks at a glance: phases and shares; needs no plan.")
    ] = False,
    back: Annotated[bool, typer.Option("--back", help="Look back: planned beside done, marks, fouls.")] = False,
    since: Annotated[str, typer.Option("--from", help="With --back: the first day, YYYY-MM-DD.")] = "",
    until: Annotated[str, typer.Option("--until", help="With --back: the last day, YYYY-MM-DD.")] = "",
    number: Annotated[
        int | None, typer.Option("--revision", min=1, help="An earlier plan, by its number.")
    ] = None,
    against: Annotated[
        int | None, typer.Option("--against", min=1, help="Only what differs from the revision of this number.")
    ] = None,
    now: Now = "",
    as_json: Json = False,
) -> None:
    """Show the plan in the terminal: by week, athlete or day; what changed; the season at a glance; or look back.

    Example: planner show spring/block.yaml --revision 4 --against 1
    """
    from planner.known import at_a_glance

    if sum((season, back, against is not None)) > 1:
        raise NotFound("--season, --back, --against: found more than one, needed one.\nMaybe run it twice.")
    if season:
        _season(block_file(file), athlete, as_json)
        return
    if back:
        _back(block_file(file), athlete, (since, until), now, as_json)
        return
    if against is not None:
        _compare(block_file(file), (number or 0, against), athlete, day, as_json)
        return
    problem, stored = at_a_glance(block_file(file), number or 0)
    found = list(stored.placements)
    if athlete:
        athlete = _known(athlete, problem.athletes)
        found = [p for p in found if p.athlete == athlete]
    if day:
        found = [p for p in found if p.day == _day(day)]
    if as_json:
        from planner.domain.record import placement_record

        print(json.dumps([placement_record(p) for p in found], ensure_ascii=False, indent=2, default=str))
        return
    state = f"revision {stored.revision.number}, {stored.revision.status}"
    print(f"{problem.block.name}, {problem.block.begins:%d %b} - {problem.block.ends:%d %b %Y}, {state}")
    if athlete or day:
        days = [_day(day)] if day else problem.days
        print("\n".join(day_lines(problem, found, days, athlete) or ["Nothing is planned."]))
        return
    begins = problem.block.begins - timedelta(problem.block.begins.weekday())
    while begins <= problem.block.ends:
        days = [begins + timedelta(i) for i in range(7)]
        print()
        print("\n".join(week_lines(problem, found, days)))
        begins += timedelta(7)
    print()
    print("\n".join(legend(p.unit.family for p in found)))


def _compare(file: Path, numbers: tuple[int, int], athlete: str, day: str, as_json: bool) -> None:
    from planner.cli.compared_words import compared_json, compared_lines, narrowed
    from planner.comparing import compared

    problem, found = compared(file, numbers[1], numbers[0])
    who = (_known(athlete, problem.athletes),) if athlete else ()
    found = narrowed(found, who, _day(day) if day else None)
    if as_json:
        print(json.dumps(compared_json(found), ensure_ascii=False, indent=2))
    else:
        print("\n".join(compared_lines(found, problem.block.name)))


def _season(file: Path, athlete: str, as_json: bool) -> None:
    from planner.cli.season_words import season_lines
    from planner.domain.plain import plain
    from planner.known import understand
    from planner.season import outline_of

    outline = outline_of(understand(file))
    names = tuple(outline.weeks)
    if athlete:
        names = (athlete := _known(athlete, names),)
    if as_json:
        weeks = {n: [{**plain(w, lines=False), "words": w.words} for w in outline.weeks[n]] for n in names}
        found = {"name": outline.name, "weeks": weeks, "remarks": outline.remarks}
        print(json.dumps(found, ensure_ascii=False, indent=2))
    else:
        print("\n".join(season_lines(outline, names)))


def _back(file: Path, athlete: str, days: tuple[str, str], now: str, as_json: bool) -> None:
    from planner.cli.back_words import back_lines
    from planner.cli.making import settings_of
    from planner.domain.plain import plain
    from planner.looking_back import Days, look_back

    first, last = (_day(text) if text else None for text in days)
    problem, found = look_back(file, settings_of(now), Days(first, last))
    if athlete:
        athlete = _known(athlete, problem.athletes)
    own = [o for o in found.own if not athlete or o.athlete == athlete]
    if as_json:
        print(json.dumps({
            "from": str(found.first), "until": str(found.last),
            "athletes": [plain(o, lines=False) for o in own],
            "squad": plain(found.squad, lines=False),
        }, ensure_ascii=False, indent=2, default=str))  # fmt: skip
    else:
        print("\n".join(back_lines(found, own, squad=not athlete)))


def _known(athlete: str, names: Sequence[str]) -> str:
    """The name in full; capitals do not matter, and the beginning of one name only will do."""
    found = meant_by(athlete, names)
    if found is None:
        raise NotFound(f"--athlete: found '{athlete}', needed one of: {', '.join(names)}.\n"
                       "Maybe two names begin like that, or a letter is wrong.")  # fmt: skip
    return found


def review(
    file: File,
    plan: Annotated[Path | None, typer.Argument(help="A plan table (CSV) written elsewhere.")] = None,
    as_json: Json = False,
) -> None:
    """Review the present plan, or any plan table a person wrote, by the rule book; no solver.

    Example: planner review spring/block.yaml my-own-week.csv
    """
    from planner.flow import review_table
    from planner.review import sentence

    _, outcome = review_table(block_file(file), plan)
    if as_json:
        from planner.domain.record import finding_record

        found = {
            "findings": [{**finding_record(f), "sentence": sentence(f)} for f in outcome.findings],
            "score": outcome.score,
            "not_judged": outcome.not_judged,
        }
        print(json.dumps(found, ensure_ascii=False, indent=2, default=str))
    else:
        print("\n".join(review_lines(outcome)))
    if outcome.musts_broken:
        raise typer.Exit(MUST_BROKEN)


def export(
    file: File,
    as_json: Json = False,
    as_csv: Annotated[bool, typer.Option("--csv", help="The plan as a table.")] = False,
    to: Annotated[Path | None, typer.Option("--to", help="Write to this file.")] = None,
) -> None:
    """Give the present plan to another program: JSON (default) or CSV, to standard output or a file.

    Example: planner export spring/block.yaml --csv --to plan.csv
    """
    from planner.flow import numbers_now
    from planner.known import facts_of, planned
    from planner.numbers.lines import said
    from planner.review import sentence
    from planner.review.export import plan_csv, plan_json

    if as_json and as_csv:
        raise NotFound("--json and --csv: found both, needed one.\nMaybe run the command twice.")
    file = block_file(file)
    problem, stored = planned(file)
    if as_csv:
        text = plan_csv(problem, stored.outcome.plan)
    else:
        now = moment("", problem.block.time_zone)
        by = numbers_now(file, problem, stored.outcome.plan, facts_of(file), now)
        made = plan_json(
            problem, stored.outcome, stored.revision, lines=lambda p: said(by.of(p)), sentence=sentence
        )
        text = json.dumps(made, ensure_ascii=False, indent=2, sort_keys=False) + "\n"
    if to is None:
        print(text, end="")
        return
    part = to.with_name(f".{to.name}.part")
    try:
        part.write_text(text, encoding="utf-8", newline="")
        part.replace(to)
    finally:
        part.unlink(missing_ok=True)
    print(f"Wrote {to}.")


def history(
    file: File,
    facts: Annotated[
        bool, typer.Option("--facts", help="Everything recorded, with the numbers that 'log undo' asks for.")
    ] = False,
    as_json: Json = False,
) -> None:
    """List the revisions: what, why, when, and which were handed out; or the recorded facts (for the coach only).

    Example: planner history spring/block.yaml --facts
    """
    from planner.ledger import Ledger

    with Ledger.open(block_file(file), create=False) as ledger:
        rows = ledger.history()
        told = ledger.facts(include_undone=True) if facts else ()
    if facts:
        from planner.cli.told_words import fact_lines, fact_records

        nothing = ["Nothing is recorded yet. Maybe look at 'planner log FILE'."]
        print(json.dumps(fact_records(told), ensure_ascii=False, indent=2) if as_json
              else "\n".join(fact_lines(told) or nothing))  # fmt: skip
        return
    if as_json:
        print(json.dumps(
            [{
                "revision": r.revision.number,
                "made_at": r.revision.made_at.isoformat(),
                "reason": r.revision.reason,
                "status": r.revision.status,
                "units": r.placements,
                "findings": r.findings,
                "handed_out_at": [h.handed_out_at.isoformat() for h in r.handed_out],
            } for r in rows], ensure_ascii=False, indent=2))  # fmt: skip
        return
    for r in rows:
        line = (f"{r.revision.number:>3}  {r.revision.made_at:%a %d %b %Y %H:%M}  {r.revision.reason}, "
                f"{r.placements} units, {r.revision.status}")  # fmt: skip
        print("\n".join(textwrap.wrap(line, WIDTH, subsequent_indent="       ")))
        for h in r.handed_out:
            until = f", up to {h.until}" if h.until else ""
            print(f"       handed out {h.handed_out_at:%a %d %b %Y %H:%M}{until}")
    if not rows:
        print("Nothing is recorded yet. Maybe run 'planner build' first.")


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise NotFound(f"--day: found '{text}', needed a date like 2027-03-28.\n"
                       "Maybe mind the order year-month-day.") from None  # fmt: skip
