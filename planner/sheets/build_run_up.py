"""From an athlete's run-ups to the card: one page for each event and take-off leg, its full run-up on it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from planner.catalogue import run_up_steps
from planner.domain.block import Athlete, RunUp, Weather
from planner.domain.own_shoes import own_shoes
from planner.domain.problem import Problem
from planner.domain.shoe import NO_SHOE, UNNAMED, Shoe
from planner.numbers.jumps import full_in_shoe, in_whole_shoes
from planner.numbers.lines import metres, shoes_words
from planner.numbers.other_leg import trial_steps
from planner.numbers.run_up_card import RunUpCard, ShortMark, run_up_card
from planner.numbers.run_up_work import LEAST_RUNS, SessionReading
from planner.sheets import words
from planner.sheets.build_athlete import FOOT_SIGNS, squad_foot
from planner.sheets.build_phases import phase_lines
from planner.sheets.recorded import Recorded, RunUpKey
from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_run_up import (
    MarkView,
    ReadingView,
    RunUpPage,
    RunUpView,
    ShortView,
    WindRowView,
)

RUN_UP_EVENTS = ("long jump", "triple jump")
OLD_DAYS = 60  # a mark older than this is measured again before it is trusted; common practice, no source
READINGS = 3  # rows for readings on the card
RUN_LINES = 8  # rows for today's runs where no phases stand
TARGET_LINES = 2  # rows for other targets
SHORT_LINES = 2  # short run-ups of which it is said what their jumps suggest
ABOUT_CM = 10  # an estimate is said to this
NAME_SIGNS = 30
CAUTION = "Stop on pain and tell the coach; a clinician and the local rules go before this card."
MISS = (
    "Off by more than half a step ({} cm): count the steps, check stance and tape, or change by two steps. "
    "No shoe lengths."
)


def run_ups_of(athlete: Athlete, problem: Problem) -> tuple[RunUpKey, ...]:
    """The full run-ups an athlete has, in every shoe with one: the own leg first, shoes as they were first set."""
    rows = own_rows(athlete, problem)
    found: dict[RunUpKey, None] = {}
    for row in rows:
        leg = row.leg or athlete.take_off_leg
        if row.event in RUN_UP_EVENTS and row.steps == full_in_shoe(rows, row.event, leg, row.worn):
            found[athlete.name, row.event, row.steps, leg, row.worn] = None
    return tuple(sorted(found, key=lambda k: (k[3] != athlete.take_off_leg, k[1])))


def own_rows(athlete: Athlete, problem: Problem) -> tuple[RunUp, ...]:
    """The athlete's run-ups, each with its whole shoe and its leg: a trial of the other leg has its own marks."""
    shoes = own_shoes(athlete.name, problem.block.run_ups)
    mine = in_whole_shoes((r for r in problem.block.run_ups if r.athlete == athlete.name), shoes)
    return tuple(replace(r, leg=r.leg or athlete.take_off_leg) for r in mine)


def trials_of(athlete: Athlete, problem: Problem, today: date) -> tuple[RunUpKey, ...]:
    """Trials of the other leg to come, in the athlete's first shoe."""
    found: dict[RunUpKey, None] = {}
    shoe = first_shoe(athlete, problem)
    for wish in (*problem.block.fixed, *problem.block.wishes):
        unit = problem.units.get(wish.unit)
        if wish.athlete == athlete.name and wish.day >= today and unit is not None and unit.is_trial:
            limits = (x.run_up_steps for x in problem.limits_on(athlete.name, wish.day))
            steps = trial_steps(min((s for s in limits if s), default=None))
            event = next(e for e in RUN_UP_EVENTS if e.split()[0] in unit.id)
            found[athlete.name, event, steps, unit.jumping_leg(athlete.take_off_leg), shoe] = None
    return tuple(found)


def first_shoe(athlete: Athlete, problem: Problem) -> Shoe:
    return next(iter(own_shoes(athlete.name, problem.block.run_ups)), NO_SHOE)


def first_run_ups(athlete: Athlete, problem: Problem, today: date) -> tuple[RunUpKey, ...]:
    """For a jumper whose run-up was never set: the usual steps of each event."""
    level, shoe = athlete.level_for("full-jumps"), first_shoe(athlete, problem)
    return tuple(
        (athlete.name, event, run_up_steps(event, level, athlete.age_on(today)), athlete.take_off_leg, shoe)
        for event in RUN_UP_EVENTS
        if event in athlete.events
    )


def run_up_view(
    athlete: Athlete, problem: Problem, revision: RevisionView, today: date, recorded: Recorded
) -> RunUpView | None:
    """The card of one athlete; None for somebody without a run-up. NoNumber for marks that contradict."""
    wanted = run_ups_of(athlete, problem) or first_run_ups(athlete, problem, today)
    known = {(event, leg) for _, event, _, leg, _ in wanted}
    tried = [t for t in trials_of(athlete, problem, today) if (t[1], t[3]) not in known]
    if not (*wanted, *tried):
        return None
    name = words.clean(athlete.name)
    block = problem.block
    rows, cards, pages = own_rows(athlete, problem), [], []
    for key in (*wanted, *tried):
        _, event, steps, leg, shoe = key
        person = replace(athlete, take_off_leg=leg)
        cards.append(run_up_card(person, rows, event, steps, today, recorded.logged.get(key), shoe=shoe))
    for card in cards:
        others = tuple(c for c in cards if (c.event, c.leg) == (card.event, card.leg) and c.shoe != card.shoe)
        pages.append(_page(card, others, athlete, problem, today, recorded))
    return RunUpView(
        title=f"Run-up card: {name}, {words.short_date(today)} {today.year}",
        name=words.shorter(name, NAME_SIGNS),
        pages=tuple(pages),
        caution=CAUTION,
        revision=revision,
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _page(  # a card, those in other shoes beside it, and what is known
    card: RunUpCard,
    others: tuple[RunUpCard, ...],
    athlete: Athlete,
    problem: Problem,
    today: date,
    recorded: Recorded,
) -> RunUpPage:
    other = card.leg != athlete.take_off_leg
    wind = along(problem, today)
    still = card.still
    board = _board(card, problem.block.run_ups)
    phases = phase_lines(card, athlete, problem, recorded) if card.event == "triple jump" else None
    half = round(still.mark_cm / card.still.steps / 2)
    return RunUpPage(
        key=f"{card.event}, {still.steps} steps, {card.leg}" + (f", {card.shoe.label}" if others else ""),
        name=words.shorter(athlete.name, NAME_SIGNS),
        event=words.title(card.event) + (f", board {board}" if board else ""),
        steps=str(still.steps),
        shoe=shoe_words(card.shoe) if others or card.shoe.name else "",
        leg=f"{card.leg} leg takes off" + (", the other leg" if other else ""),
        facts=(
            f"{words.title(card.front)} foot in front at the start, toe on the mark.",
            f"The {card.leg} foot lands {card.counted} times, the last on the board.",
            _shoe_said(card),
            *(_other_shoe(c) for c in others),
        ),
        care=_care(card, today),
        still=about(still.mark_cm, not card.estimate),
        still_said=_since(card, today),
        today="" if wind is None else metres(still.today(wind)),
        today_said="" if wind is None else f"{signed_wind(wind)} m/s forecast for {words.short_date(today)}",
        marks=_marks(card, today),
        wind=wind_rows(card, wind),
        wind_said=words.unbroken(f"Wind: {card.slope}."),
        miss_said=MISS.format(half),
        shorts=tuple(_short(s) for s in card.shorts),
        short_says=_short_says(card, recorded),
        readings=tuple(_reading(r) for r in reversed(card.last)),
        reading_lines=READINGS - len(card.last),
        phases=phases.rows if phases else (),
        phases_head=phases.head if phases else "",
        phases_said=phases.said if phases else (),
        target_lines=TARGET_LINES if phases else 0,
        run_lines=0 if phases else RUN_LINES,
        foot=f"{words.shorter(athlete.name, FOOT_SIGNS)}, run-up",
    )


def along(problem: Problem, day: date) -> float | None:
    """Wind along the runway on a day in m/s, + from behind; None when it is not known or comes from a side."""
    found: Weather | None = None
    for row in problem.block.weather:
        if row.day == day and row.wind is not None and row.wind_from in ("", "head", "tail"):
            found = row
    if found is None or found.wind is None:
        return None
    tenths = -abs(found.wind) if found.wind_from == "head" else found.wind
    return tenths / 10 if abs(tenths) <= 100 else None


def _board(card: RunUpCard, rows: tuple[RunUp, ...]) -> str:
    """'11 m' from the pit, for a triple jumper."""
    own = [r for r in rows if (r.athlete, r.event, r.steps) == (card.athlete, card.event, card.still.steps)]
    found = [r.board for r in own if r.board]
    if card.event != "triple jump" or not found:
        return ""
    return f"{found[-1] // 100} m" if found[-1] % 100 == 0 else f"{metres(found[-1])} m"


def _shoe_said(card: RunUpCard) -> str:
    """'Spikes, 26.2 cm.', 'Shoe 27.9 cm, usual, not measured.'."""
    name = words.title(words.clean(card.shoe.name)) or "Shoe"
    length = f"{card.still.shoe_cm:.1f} cm"
    return f"{name} {length}." if card.shoe.length else f"{name} {length}, usual, not measured."


def _other_shoe(card: RunUpCard) -> str:
    """'Flats: 33.05 m in still wind, on another card.', so that nobody takes the wrong one."""
    name = words.title(words.clean(card.shoe.label or UNNAMED))
    return f"{name}: {about(card.still.mark_cm, not card.estimate)} m in still wind, on another card."


def shoe_words(shoe: Shoe) -> str:
    """'in spikes', 'in the shoe of 26.2 cm', 'shoe not named'."""
    if shoe.name:
        return f"in {words.clean(shoe.name)}"
    return f"in the shoe of {shoe.label}" if shoe.length else UNNAMED


def _care(card: RunUpCard, today: date) -> tuple[str, ...]:
    said = []
    if card.estimate:
        said.append(
            "First estimate, not measured: five runs on the track, the middle one measured, then this card anew."
        )
    day = card.still.day
    if day is not None and (today - day).days > OLD_DAYS:
        said.append(f"Set {(today - day).days} days ago: measure it again before you trust it.")
    return tuple(said)


def _since(card: RunUpCard, today: date) -> str:
    day = card.still.day
    if card.estimate:
        return "an estimate"
    if day is None:
        return "day of measuring not noted"
    age = "today" if day == today else card.age.replace(" old", " ago")
    return f"set {words.day_of(day)} {words.short_date(day)} {day.year}, {age}"


def _marks(card: RunUpCard, today: date) -> tuple[MarkView, ...]:
    """As they lie from the board: coach's mark, check mark, start. All from the board, so one tape does it."""
    still = card.still
    out = 4 if still.steps > 5 else 2
    check = still.mark_cm - card.check_cm
    return (
        MarkView("Board", "0.00", "toe here"),
        MarkView(
            "Coach's mark",
            about(card.coach_cm, card.coach_measured),
            f"{out} steps to go" + _aged(card, card.coach_measured),
        ),
        MarkView(
            "Check mark",
            about(check, card.check_measured),
            f"step {card.check_steps}, {about(card.check_cm, card.check_measured)} from the start"
            + _aged(card, card.check_measured),
        ),
        MarkView("Start", metres(still.mark_cm), "still wind" + _doubt(not card.estimate), True),
    )


def about(cm: int, measured: bool) -> str:
    """A mark in metres; an estimate is rounded, so that nobody takes it for a tape's reading."""
    return metres(cm if measured else round(cm / ABOUT_CM) * ABOUT_CM)


def _aged(card: RunUpCard, measured: bool) -> str:
    """', estimate', ', 12 days old'; the age of the still-wind mark stands beside it already."""
    return f", {card.beside_age.replace('age not known', 'day not noted')}" if measured else ", estimate"


def _doubt(measured: bool) -> str:
    return "" if measured else ", estimate"


def signed_wind(mps: float) -> str:
    """'+2', '−0.8', '0'."""
    said = f"{abs(mps):.1f}".removesuffix(".0")
    return said if said == "0" else ("+" if mps > 0 else "−") + said


def shoes(found: Fraction) -> str:
    """'½ shoe', '1½ shoes', '' for nothing."""
    said = shoes_words(found)
    return "" if said == "nothing" else said.replace(" 1/2", "½").replace("1/2", "½")


def move_words(shift: int) -> str:
    """'back 17 cm', 'forward 8 cm', 'stay'."""
    if not shift:
        return "stay"
    return f"{'back' if shift > 0 else 'forward'} {abs(shift)} cm"


def wind_rows(card: RunUpCard, wind: float | None) -> tuple[WindRowView, ...]:
    here = None if wind is None else round(wind)
    return tuple(
        WindRowView(
            signed_wind(r.wind_mps), move_words(r.shift_cm), shoes(r.shoes),
            about(card.still.mark_cm + r.shift_cm, not card.estimate),
            r.wind_mps == 0, r.wind_mps == here,
        )
        for r in reversed(card.table)
    )  # fmt: skip


def _short(short: ShortMark) -> ShortView:
    said = short.age.replace("age not known", "day not noted") + (f", {short.shoe}" if short.shoe else "")
    return ShortView(f"{short.steps}", about(short.mark_cm, short.measured), said)


def _short_says(card: RunUpCard, recorded: Recorded) -> tuple[str, ...]:
    """From the longest short run-ups down, as many as the card has room for."""
    own = {
        steps: said
        for (name, event, steps, leg), said in recorded.short.items()
        if (name, event, leg) == (card.athlete, card.event, card.leg) and steps < card.still.steps
    }
    longest = sorted(own, reverse=True)[:SHORT_LINES]
    return tuple(words.unbroken(f"{steps} steps, {own[steps]}") for steps in longest)


def _reading(r: SessionReading) -> ReadingView:
    """Figures only where the runs are few: then nothing is said to follow from them."""
    few = r.runs < LEAST_RUNS
    return ReadingView(
        day=words.short_date(r.day),
        runs=str(r.runs),
        board=_signed(r.median_cm),
        spread=f"{r.spread_cm:.0f}",
        wind=_signed(r.explained_cm),
        rest=_signed(r.unexplained_cm),
        said="" if few else words.sentence(r.why),
    )


def _signed(cm: float) -> str:
    found = round(cm)
    return "0" if not found else f"{'+' if found > 0 else '−'}{abs(found)}"
