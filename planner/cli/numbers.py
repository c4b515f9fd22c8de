"""`planner numbers`: figures to train by, from arguments or from a block's athletes."""

from __future__ import annotations

import json
import textwrap
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.numbers_of_file import Missing, card_of, forecast_of, of_file, own_fit, shoe_given, taper_of
from planner.cli.options import Json, Now, block_file
from planner.cli.words import WIDTH

if TYPE_CHECKING:
    from planner.numbers.answer import Answer

app = typer.Typer(
    name="numbers",
    help="Figures to train by; each with its formula in words, its source and its doubt.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
)
BlockFile = Annotated[Path | None, typer.Option("--file", help="A block file; its athlete's figures are used.")]
Who = Annotated[str, typer.Option("--athlete", help="Whose figures, with --file; a name's beginning will do.")]
LABEL = 24  # signs of the first column


def tell(answer: Answer, as_json: bool) -> None:
    """Print an answer for a coach at 80 columns, or for a program."""
    if as_json:
        found = {
            "title": answer.title, "rows": dict(answer.rows), "data": answer.data,
            "formula": answer.formula, "source": answer.source, "doubt": answer.doubt,
        }  # fmt: skip
        print(json.dumps(found, ensure_ascii=False, indent=2, default=float, allow_nan=False))
        return
    print(answer.title)
    for label, value in answer.rows:
        head = f"  {label:<{LABEL}} "
        print(textwrap.fill(value, WIDTH, initial_indent=head, subsequent_indent=" " * (LABEL + 3)))
    for label, text in (("How", answer.formula), ("Source", answer.source), ("Doubt", answer.doubt)):
        print(textwrap.fill(f"{label}: {text.rstrip('.')}.", WIDTH, initial_indent="  ", subsequent_indent="    "))


@app.command("run-up")
def run_up(
    mark: Annotated[str, typer.Option("--mark", help="Still-wind start mark: '33.20 m'.")] = "",
    steps: Annotated[int, typer.Option("--steps", help="Steps; with --file 0 takes the full run-up.")] = 0,
    shoe: Annotated[
        str, typer.Option("--shoe", help="The shoe: '26.2 cm', 'spikes 26.2 cm'; with --file also its name alone.")
    ] = "",
    wind: Annotated[str, typer.Option("--wind", help="Today's wind in m/s, + from behind.")] = "",
    run: Annotated[
        list[str] | None,
        typer.Option("--run", help="Board in cm (+ past the line), wind in m/s, coach's mark in cm: '8 +1.2 5'."),
    ] = None,
    coach_mark: Annotated[str, typer.Option("--coach-mark", help="Coach's mark from the board: '8.05 m'.")] = "",
    event: Annotated[str, typer.Option("--event", help="With --file: long jump or triple jump.")] = "long jump",
    file: BlockFile = None,
    athlete: Who = "",
    now: Now = "",
    as_json: Json = False,
) -> None:
    """Start mark, wind table; what a session's readings say.

    Example: planner numbers run-up --mark '33.20 m' --steps 18 --shoe '26.2 cm' --wind +1.5
    """
    from planner.numbers import answer_jumps
    from planner.numbers.answer import cm_of, number_of
    from planner.numbers.run_up_card import cm_of_shoe
    from planner.numbers.run_up_work import Run, StillMark

    found = of_file(file, athlete, now)
    if found is not None:
        tell(card_of(*found, event, steps, shoe_given(shoe), now), as_json)
        return
    if not mark or not steps:
        raise Missing("--mark and --steps: found too little, needed both, such as --mark '33.20 m' --steps 18.\n"
                      "Maybe use --file and --athlete.")  # fmt: skip
    given = shoe_given(shoe)
    coach = cm_of(coach_mark, "--coach-mark") if coach_mark else None
    still = StillMark(cm_of(mark, "--mark"), steps, cm_of_shoe(given), coach_cm=coach)
    if not run:
        today = number_of(wind, "--wind", "+1.5") if wind else None
        tell(answer_jumps.start_mark(still, given, today), as_json)
        return
    if wind:
        raise Missing(f"--wind and --run: found '{wind}' beside runs, needed the wind of each run: '8 +1.2 5'.\n"
                      "Maybe leave --wind out.")  # fmt: skip
    runs = []
    for text in run:
        parts = [number_of(p, "--run", "8 +1.2 5") for p in text.split()]
        if not 2 <= len(parts) <= 3:
            raise Missing(f"--run: found '{text}', needed board, wind and perhaps the coach's mark: '8 +1.2 5'.\n"
                          "Maybe the wind is missing; write 0 in still air.")  # fmt: skip
        runs.append(Run(round(parts[0]), parts[1], coach_cm=round(parts[2]) if len(parts) == 3 else None))
    tell(answer_jumps.readings(still, given, date.min, runs), as_json)


@app.command("phases")
def phases(
    target: Annotated[str, typer.Option("--target", help="Distance to aim at: '12.50 m'.")] = "",
    shares: Annotated[str, typer.Option("--shares", help="Own shares of hop, step, jump: '36/29/35'.")] = "",
    two: Annotated[str, typer.Option("--two", help="Hop and step together: '9.80 m', for a range.")] = "",
    jump_shares: Annotated[str, typer.Option("--jump-shares", help="Own shares of the jump: '30 35'.")] = "",
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """Triple jump: marks for a target, or what two phases come to.

    Example: planner numbers phases --target '12.50 m' --shares 36/29/35
    """
    from planner.numbers import answer_jumps
    from planner.numbers.answer import cm_of, number_of
    from planner.numbers.jumps import shares_for
    from planner.numbers.marks import best_mark, of_athlete

    if two:
        own = [number_of(s, "--jump-shares", "'30 35'") for s in jump_shares.split()]
        tell(answer_jumps.two_phases(cm_of(two, "--two"), own), as_json)
        return
    found, level, total = of_file(file, athlete), "developing", 0
    if found is not None:
        best = best_mark(of_athlete(found[0], found[1].name), "triple jump", "cm")
        total, level = (best.value if best else 0), found[1].level_for("technical-jumps")
    total = cm_of(target, "--target") if target else total
    if not total:
        raise Missing("--target: found nothing, needed a distance such as '12.50 m'.\n"
                      "Maybe the block has no triple jump of this athlete.")  # fmt: skip
    given = tuple(number_of(s, "--shares", "36/29/35") for s in shares.split("/")) if shares else None
    if given is not None and len(given) != 3:
        raise Missing(f"--shares: found '{shares}', needed three, such as 36/29/35.\nMaybe one is missing.")
    used, said = shares_for(level, None if given is None else (given[0], given[1], given[2]))
    tell(answer_jumps.phases(total, used, said), as_json)


@app.command("sprint")
def sprint(
    split: Annotated[
        list[str] | None, typer.Option("--split", help="metres=seconds since the start: 10=1.89, 10=1.89 hand.")
    ] = None,
    free: Annotated[str, typer.Option("--free", help="Fit too: 'time shift' or 'flying distance'.")] = "nothing",
    metres: Annotated[int, typer.Option("--metres", help="Distance of the targets.")] = 0,
    best: Annotated[str, typer.Option("--best", help="Best over it: '4.20 s'.")] = "",
    hand: Annotated[bool, typer.Option("--hand", help="The best was timed by hand.")] = False,
    start: Annotated[
        str, typer.Option("--start", help="With --file: standing, blocks, race or flying.")
    ] = "standing",
    percent: Annotated[str, typer.Option("--percent", help="A band: '95-98'.")] = "",
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """A sprint from its splits, or target times from a best.

    With --file and no --metres the splits are the athlete's times of one day over growing distances.

    Example: planner numbers sprint --metres 30 --best '4.20 s' --percent 98-100
    """
    from planner.numbers.answer import hundredths_of, percents, split_of
    from planner.numbers.answer_runs import sprint_fit, sprint_targets
    from planner.numbers.marks import STARTS, Best, best_run, of_athlete, other_start

    if split:
        tell(sprint_fit([split_of(s) for s in split], free), as_json)
        return
    if start not in STARTS:
        raise Missing(f"--start: found '{start}', needed one of: {', '.join(STARTS)}.\nMaybe leave it out.")
    found = of_file(file, athlete)
    if found is not None and not metres and not best:
        tell(own_fit(*found, start, free), as_json)
        return
    if metres <= 0:
        raise Missing("--metres: found nothing to run, needed a distance such as 30.\nMaybe give --split instead.")
    own = None
    if best:
        doubt = "timed by hand; by gates about 0.24 s more" if hand else ""
        own = Best(hundredths_of(best, "--best"), "as given, by hand" if hand else "as given", hand, doubt)
    elif found is not None:
        marks = of_athlete(found[0], found[1].name)
        own = best_run(marks, metres, STARTS[start])
        if own is None:
            none = f"{found[1].name} has no {start} best over {metres} m"
            other = other_start(marks, metres, STARTS[start]) or none
            raise Missing(f"{other}; needed one.\nMaybe test it, or name another --start.")
    if own is None:
        raise Missing("--best: found nothing, needed a time such as '4.20 s'.\nMaybe use --file and --athlete.")
    tell(sprint_targets(metres, own, percents(percent, "--percent") if percent else None), as_json)


@app.command("strength")
def strength(
    weight: Annotated[str, typer.Option("--weight", help="What was lifted: '100 kg'.")] = "",
    repetitions: Annotated[int, typer.Option("--repetitions", help="How often; the last only just clean.")] = 1,
    lift: Annotated[str, typer.Option("--lift", help="With --file: which lift.")] = "squat",
    percent: Annotated[str, typer.Option("--percent", help="A band: '75-85'.")] = "",
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """The best single lift as a range, and loads for the bar.

    Example: planner numbers strength --weight '100 kg' --repetitions 5
    """
    from planner.numbers.answer import half_kg_of, percents
    from planner.numbers.answer_runs import strength as answer
    from planner.numbers.marks import best_mark, of_athlete

    found, half_kg = of_file(file, athlete), 0
    if weight:
        half_kg = half_kg_of(weight, "--weight")
    elif found is not None:
        best = best_mark(of_athlete(found[0], found[1].name), lift, "half-kg")
        half_kg = best.value if best else 0
    if not half_kg:
        raise Missing("--weight: found nothing, needed a weight such as '100 kg'.\n"
                      "Maybe the block has no such lift.")  # fmt: skip
    tell(answer(half_kg, repetitions, percents(percent, "--percent") if percent else None), as_json)


@app.command("load", short_help="A week's sum and shape; with --file the present plan by week.")
def load(
    day: Annotated[list[int] | None, typer.Option("--day", help="A day's effort x minutes; rest 0.")] = None,
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """What loads describe: a week's sum and shape; with --file the present plan, week by week.

    Example: planner numbers load --day 420 --day 180 --day 0 --day 510 --day 0 --day 600 --day 0
    """
    from planner.numbers.answer_load import block_load
    from planner.numbers.answer_load import load as answer

    if day:
        tell(answer(day), as_json)
        return
    if (found := of_file(file, athlete)) is None or file is None:
        raise Missing("--day: found no load, needed one a day.\nMaybe use --file and --athlete.")
    athlete = found[1].name
    from planner.domain.view import PlanView
    from planner.known import planned

    problem, stored = planned(block_file(file))
    view = PlanView(stored.outcome.plan, problem)
    weeks = [
        (f"week {i}, {w.days[0]:%d %b}", [view.day_load(athlete, d) for d in w.days])
        for i, w in enumerate(problem.weeks.get(athlete, ()), 1)
    ]
    tell(block_load(weeks, f"Planned load, {athlete}"), as_json)


@app.command("taper", short_help="Shares of the usual amount day by day; what was found.")
def taper(
    days: Annotated[int, typer.Option("--days", help="How many days.")] = 14,
    cut: Annotated[float, typer.Option("--cut", help="Percent less in all.")] = 50,
    step: Annotated[bool, typer.Option("--step", help="The same share every day, not little by little.")] = False,
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """Shares of the usual amount day by day; with --file the planned load before the main competition.

    Example: planner numbers taper --days 14 --cut 50
    """
    from planner.numbers.answer_load import taper as answer

    if (found := of_file(file, athlete)) is not None and file is not None:
        tell(taper_of(block_file(file), found[1].name, days), as_json)
        return
    tell(answer(days, cut, step=step), as_json)


@app.command("heat")
def heat(
    air: Annotated[float | None, typer.Option("--air", help="Shade temperature, degrees C.")] = None,
    humidity: Annotated[float | None, typer.Option("--humidity", help="Percent.")] = None,
    wet_bulb: Annotated[float | None, typer.Option("--wet-bulb", help="Natural wet bulb, degrees C.")] = None,
    globe: Annotated[float | None, typer.Option("--globe", help="Globe thermometer, degrees C.")] = None,
    wbgt: Annotated[float | None, typer.Option("--wbgt", help="WBGT as read, degrees C.")] = None,
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """What the published heat bands advise; with --file for every forecast of the block.

    Example: planner numbers heat --air 31 --humidity 45
    """
    from planner.numbers import answer_load

    if (found := of_file(file, athlete)) is not None:
        tell(forecast_of(*found), as_json)
    elif wbgt is not None:
        tell(answer_load.heat_by_index(wbgt), as_json)
    elif wet_bulb is not None and globe is not None and air is not None:
        tell(answer_load.heat_by_globe(wet_bulb, globe, air), as_json)
    elif air is not None and humidity is not None:
        tell(answer_load.heat_by_air(air, humidity), as_json)
    else:
        raise Missing("found too few readings, needed --wbgt, or --air and --humidity, or --wet-bulb, --globe and "
                      "--air.\nMaybe only the humidity is missing.")  # fmt: skip


@app.command("wind")
def wind(
    event: Annotated[str, typer.Option("--event", help="100 m, 200 m, hurdles, long or triple jump.")] = "100 m",
    mark: Annotated[str, typer.Option("--mark", help="'11.92 s' or '6.35 m'.")] = "",
    speed: Annotated[str, typer.Option("--wind", help="m/s, + from behind.")] = "",
    altitude: Annotated[float, typer.Option("--altitude", help="Metres above the sea (100 m only).")] = 0.0,
    file: BlockFile = None,
    athlete: Who = "",
    as_json: Json = False,
) -> None:
    """What a wind was worth; an estimate.

    Example: planner numbers wind --event '100 m' --mark '11.92 s' --wind +1.4
    """
    from planner.numbers.answer import cm_of, hundredths_of, number_of
    from planner.numbers.answer_runs import wind as answer
    from planner.numbers.marks import best_mark, of_athlete

    unit = "cm" if event.endswith("jump") else "hundredths"
    found, value, blown = of_file(file, athlete), 0, None
    if found is not None and not mark:
        best = best_mark(of_athlete(found[0], found[1].name), event, unit)
        if best is not None:
            value, blown = best.value, None if best.wind is None else best.wind / 10
    if mark:
        value = cm_of(mark, "--mark") if unit == "cm" else hundredths_of(mark, "--mark")
    if speed:
        blown = number_of(speed, "--wind", "+1.4")
    if not value or blown is None:
        raise Missing("--mark and --wind: found too little, needed both, such as --mark '11.92 s' --wind +1.4.\n"
                      "Maybe the block's mark has no wind.")  # fmt: skip
    tell(answer(event, value, unit, blown, altitude), as_json)
