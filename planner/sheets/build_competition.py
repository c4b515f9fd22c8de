"""From a competition of an athlete to the card of the day: times, warm-up, marks for the wind, attempts, cues."""

from __future__ import annotations

from dataclasses import replace

from planner.domain.block import Athlete, Block, Competition, EventStart
from planner.domain.competing import limits_against, several_events
from planner.domain.problem import Problem
from planner.domain.shoe import UNNAMED
from planner.numbers.lines import metres
from planner.numbers.run_up_card import RunUpCard, run_up_card
from planner.sheets import words
from planner.sheets.build_athlete import FOOT_SIGNS, squad_foot
from planner.sheets.build_run_up import NAME_SIGNS, along, own_rows, run_ups_of, shoe_words, signed_wind, wind_rows
from planner.sheets.competition_day import PLANS, Act, kind_of
from planner.sheets.one_day import before, collisions, moments, own_moments, rows, starts_known
from planner.sheets.recorded import Recorded
from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_competition import CompetitionPage, CompetitionView, StartView, TimeRow
from planner.sheets.view_run_up import WindRowView

MOST_SHOES = 2  # columns of the wind table; the still-wind mark of a third shoe is said above it
CUES = 2  # at most; more cannot be thought of on a runway
CUE_LINES = 2
NOTE_LINES = 9
COMBINED = {"heptathlon": "long jump", "decathlon": "long jump", "pentathlon": "long jump"}
IMPORTANCE = {"main": "main competition", "supporting": "supporting competition"}
CAUTION = (
    "Stop on pain and tell the coach; a clinician, the judges and the local rules go before this card.",
    "Athletes under 18 are there with an adult.",
)
UNDECIDED = "Whether you compete is not decided by this card: your clinician, your coach and you decide."
ASK = "Ask your coach whether you do all of them: nobody has decided it yet"
TIMES = "The meeting's own times for call room and warm-up go first."
WHOLE_DAY = "Meal, arrival and the whole day: card of {first}."


def competition_view(
    athlete: Athlete, competition: Competition, problem: Problem, revision: RevisionView, recorded: Recorded
) -> CompetitionView:
    """The card; one page an event, the earliest first. NoNumber for start marks that contradict each other."""
    name = words.clean(athlete.name)
    day = competition.first_day
    block = problem.block
    events, starts = _in_order(athlete, competition)
    limits = [x for x in problem.limits_on(athlete.name, day) if x.stage < 6 or x.hold_back]
    cues = _cues(athlete.name, competition, problem, recorded)
    dates = words.long_date(day)
    if competition.last_day != day:
        dates = (
            f"{words.day_of(day)} to {words.day_of(competition.last_day)}, {words.span(day, competition.last_day)}"
        )
    return CompetitionView(
        title=f"{name}: {words.clean(competition.name)}, {words.short_date(day)} {day.year}",
        name=words.shorter(athlete.name, NAME_SIGNS),
        meeting=words.shorter(competition.name, 60),
        day=dates,
        importance=IMPORTANCE.get(competition.importance, "trained through"),
        cues=cues,
        cue_lines=CUE_LINES - min(len(cues), 1),
        care=(
            *((UNDECIDED,) if limits_against(block, competition) else ()),
            *_several(block, competition),
            *collisions(starts),
            *dict.fromkeys(words.limit_words(x, day, day) for x in limits),
        ),
        caution=CAUTION,
        pages=tuple(_page(event, starts, athlete, competition, problem, recorded) for event in events),
        revision=revision,
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _in_order(athlete: Athlete, competition: Competition) -> tuple[tuple[str, ...], tuple[EventStart, ...]]:
    """The events, earliest start first and then those whose start is not known; and the starts."""
    events = competition.events or athlete.events or ("",)
    starts = starts_known(competition, events)
    return tuple(dict.fromkeys((*(x.event for x in starts), *events))), starts


def _several(block: Block, competition: Competition) -> tuple[str, ...]:
    """Of an athlete in several events: the time between them, and whether a person has found it long enough."""
    found = several_events(block, competition)
    if found is None:
        return ()
    agreed = "Your coach has agreed to both" if len(found.events) == 2 else "Your coach has agreed to all of them"
    return (f"{words.title(str(found))}. {agreed if found.accepted else ASK}.",)


def _cues(name: str, competition: Competition, problem: Problem, recorded: Recorded) -> tuple[str, ...]:
    """What was agreed after bailed attempts first, then the aims of the latest days up to the competition."""
    found = [recorded.cues[name]] if name in recorded.cues else []
    aims = [
        t
        for t in problem.block.themes
        if t.athlete == name and (t.begins or competition.first_day) <= competition.first_day
    ]
    found += [t.aim for t in reversed(aims)]
    return tuple(words.sentence(x) for x in dict.fromkeys(found))[:CUES]


def _page(  # an event of somebody's competition, and what is known
    event: str,
    starts: tuple[EventStart, ...],
    athlete: Athlete,
    competition: Competition,
    problem: Problem,
    recorded: Recorded,
) -> CompetitionPage:
    plan = PLANS[kind_of(event)]
    cards = _cards(event, athlete, competition, problem, recorded)
    wind = along(problem, competition.first_day)
    later = _is_later(event, starts, competition)
    return CompetitionPage(
        key=event or "event",
        event=words.title(event) or "Event",
        times=_times(event, later, starts),
        times_said=f"{TIMES} {WHOLE_DAY.format(first=words.unbroken_event(starts[0].event))}" if later else TIMES,
        starts=tuple(_start(card, wind, len(cards) > 1) for card in cards),
        wind=tuple(zip(*(_wind(card, wind, len(cards) > 1) for card in cards[:MOST_SHOES]), strict=True)),
        notes=0 if cards else NOTE_LINES,
        row_word=plan.row_word,
        columns=plan.columns,
        rows=plan.rows,
        warm_up=plan.again_order if later else plan.warm_up,
        foot=f"{words.shorter(athlete.name, FOOT_SIGNS)}, {words.short_date(competition.first_day)}",
    )  # fmt: skip


def _cards(
    event: str, athlete: Athlete, competition: Competition, problem: Problem, recorded: Recorded
) -> list[RunUpCard]:
    """The run-up of the event by the take-off leg, in each shoe; in combined events that of the long jump."""
    jump = COMBINED.get(event.lower(), event.lower())
    rows = own_rows(athlete, problem)
    return [
        run_up_card(athlete, rows, jump, key[2], competition.first_day, recorded.logged.get(key), shoe=key[4])
        for key in run_ups_of(athlete, problem)
        if (key[1], key[3]) == (jump, athlete.take_off_leg)
    ]


def _wind(card: RunUpCard, wind: float | None, several: bool) -> tuple[WindRowView, ...]:
    """The wind table of one shoe; beside another one its unit stands in the head of the column."""
    rows = wind_rows(card, wind)
    return tuple(replace(r, shift=r.shift.removesuffix(" cm")) for r in rows) if several else rows


def _start(card: RunUpCard, wind: float | None, several: bool) -> StartView:
    age = card.age.replace("age not known", "day not noted") + (", an estimate" if card.estimate else "")
    return StartView(
        shoe=words.title(words.clean(card.shoe.label or UNNAMED)) if several else "",
        still=metres(card.still.mark_cm),
        still_said=f"{card.event}, {card.still.steps} steps"
        + (f", {shoe_words(card.shoe)}, {age}" if card.shoe.name and not several else f", {age}"),
        today="" if wind is None else metres(card.still.today(wind)),
        today_said="" if wind is None else f"{signed_wind(wind)} m/s forecast",
    )


def _is_later(event: str, starts: tuple[EventStart, ...], competition: Competition) -> bool:
    """Whether another event comes before it on that day, so that meal and arrival are on another card.

    Without `starts` the one start in the file is that of the first event, so all others come later.
    """
    if not starts or event == starts[0].event:
        return False
    timed = event in [x.event for x in starts]
    return timed or (not competition.starts and competition.first_day == competition.last_day)


def _times(event: str, later: bool, starts: tuple[EventStart, ...]) -> tuple[TimeRow, ...]:
    """Clock times back from the start; without one the minutes before it, and room to write.

    The card of the first event has the whole day, those of the others their own part of it.
    """
    start = next((x for x in starts if x.event == event), None)
    if start is None:
        plan = PLANS[kind_of(event)]
        return tuple(_unknown(act) for act in (plan.later if later else plan.acts))
    return rows(own_moments(start), several=False) if later else rows(moments(starts), several=len(starts) > 1)


def _unknown(act: Act) -> TimeRow:
    return TimeRow("", before(act), act.said, not act.minutes)
