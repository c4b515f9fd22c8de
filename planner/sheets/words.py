"""Words a coach says: amounts, dates, phases, limits. No abbreviation that the sheet does not explain."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import date, datetime

from planner.catalogue import any_in_words
from planner.domain.block import Away, Limit

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

PHASES: Mapping[str, str] = {
    "general-preparation": "General preparation: building the base",
    "specific-preparation": "Specific preparation: speed, jumps, strength",
    "pre-competition": "Pre-competition: from training towards the event",
    "competition": "Competition time: compete and stay sharp",
    "taper": "Taper: less work, same quality",
    "bridge": "Bridge: easy days between two parts of the season",
    "transition": "Transition: rest and other sport",
}
WEEK_KINDS: Mapping[str, str] = {
    "easier": "This week is lighter on purpose.",
    "taper": "Less work on purpose, so that you arrive fresh.",
    "easing": "A little less on purpose before the competition.",
    "competition": "A competition week: freshness comes first.",
    "camp": "Camp: day by day, as it stands here.",
    "transition": "A week to recover.",
}
AWAY_KINDS: Mapping[str, str] = {
    "away": "Away",
    "exam": "Exam",
    "travel": "Travel",
    "camp arrival": "Arrival",
    "camp departure": "Departure",
}
STAGES: Mapping[int, str] = {
    0: "no training with it until a clinician has looked",
    1: "own work only, as agreed with the clinician",
    2: "light, controlled work only",
    3: "easy running and landing only, below full effort",
    4: "event work below full effort",
    5: "full training, but less of it",
    6: "cleared, keep up the strength work for it",
}
AFTER_ILLNESS: Mapping[int, str] = {0: "rest, no training", 1: STAGES[1]}
EASY_FIRST = "easy work first, stop when it feels wrong"


def clean(text: str) -> str:
    """The text without control signs and direction overrides, which could garble or hide other words."""
    kept = []
    for sign in text:
        kind = unicodedata.category(sign)
        turns = sign in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
        if kind == "Cs":
            kept.append("\ufffd")
        elif kind == "Cc" or turns:
            kept.append(" ")
        else:
            kept.append(sign)
    return " ".join("".join(kept).split())


def sentence(text: str) -> str:
    """First letter large, one full stop at the end; '' stays ''."""
    text = clean(text)
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")


def title(text: str) -> str:
    """First letter large; the rest as it is."""
    text = clean(text)
    return text[:1].upper() + text[1:]


def shorter(text: str, longest: int) -> str:
    """The text, cut at a word with an ellipsis when it is longer than `longest` signs."""
    text = clean(text)
    if len(text) <= longest:
        return text
    cut = text[: longest - 1]
    head = cut.rsplit(" ", 1)[0] if " " in cut[longest // 2 :] else cut
    return head.rstrip(" ,;:") + "…"


def times(text: str) -> str:
    """'4 x 3 at 80 %' with a multiplication sign; an x inside a word stays."""
    return re.sub(r"(?<=\d) ?x ?(?=[\d(])", " × ", clean(text))


def day_of(day: date) -> str:
    return WEEKDAYS[day.weekday()]


def short_date(day: date) -> str:
    """'30 Mar'."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def long_date(day: date) -> str:
    """'Tue 30 Mar 2027'."""
    return f"{day_of(day)} {short_date(day)} {day.year}"


def unbroken(text: str) -> str:
    """The text with every figure tied to the sign or unit that follows it."""
    return re.sub(r"(?<=\d) (?=(?:%|m|min|s|kg|cm|×)(?![a-z]))", "\u00a0", text)


def unbroken_event(name: str) -> str:
    """The name of an event as one piece: 'long jump' and '100 m hurdles' do not end a line half."""
    return clean(name).replace(" ", "\u00a0")


def span(first: date, last: date) -> str:
    """'29 Mar – 4 Apr 2027'; the year stands once unless it changes."""
    if first == last:
        return f"{short_date(first)} {first.year}"
    if first.year != last.year:
        return f"{short_date(first)} {first.year} – {short_date(last)} {last.year}"
    if first.month == last.month:
        return f"{first.day}–{short_date(last)} {last.year}"
    return f"{short_date(first)} – {short_date(last)} {last.year}"


def clock(moment: datetime) -> str:
    return f"{moment:%H:%M}"


def stamp(moment: datetime) -> str:
    """'Sat 9 Jan 2027, 18:40'."""
    return f"{long_date(moment.date())}, {clock(moment)}"


def listed(words: tuple[str, ...]) -> str:
    """'a, b and c'."""
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


def away_words(entry: Away, day: date) -> str:
    """'Away until 14:00', 'Exam', 'Travel, 3 h'. A whole day needs no clock time."""
    word = AWAY_KINDS.get(entry.kind, title(entry.kind))
    text = word
    if entry.kind == "camp arrival":
        return f"{word} {clock(entry.ends)}" if entry.ends.date() == day else word
    if entry.kind == "camp departure":
        return f"{word} {clock(entry.begins)}" if entry.begins.date() == day else word
    whole_first = entry.begins.date() < day or entry.begins.hour == 0
    whole_last = entry.ends.date() > day or (entry.ends.hour, entry.ends.minute) >= (23, 0)
    if not whole_first:
        text += f" from {clock(entry.begins)}"
    if not whole_last:
        text += f" until {clock(entry.ends)}"
    if entry.travel_hours:
        text += f", {entry.travel_hours} h on the way"
    return text


def limit_words(limit: Limit, first: date, last: date) -> str:
    """A limit for its owner: region and side, what may be done, no cause: 'Right knee: at most 6 landings'.

    A hold-back by the coach names no region and no reason. Dates stand when they fall inside the week.
    """
    until = ""
    if limit.begins and limit.begins > first:
        until += f" from {day_of(limit.begins)} {short_date(limit.begins)}"
    if limit.ends and limit.ends < last:
        until += f" until {day_of(limit.ends)} {short_date(limit.ends)}"
    if limit.hold_back or limit.region == "whole":
        return f"Lighter days for you{until}, as agreed with the coach."
    side = "" if limit.side in ("", "both", "whole") else f"{limit.side} "
    region = limit.region.replace("calf-achilles", "calf and Achilles tendon").replace("low-back", "low back")
    where, said = title(f"{side}{region}"), STAGES[limit.stage]
    if region == "illness":
        where = "While ill" if limit.stage == 0 else "After illness"
        said = AFTER_ILLNESS.get(limit.stage, EASY_FIRST)
    return f"{where}{until}: {'; '.join((said, *_own_caps(limit)))}."


def _own_caps(limit: Limit) -> list[str]:
    said = []
    if limit.days_between is not None:
        gap = limit.days_between
        said.append(f"{gap} {'day' if gap == 1 else 'days'} between sessions that load it")
    if limit.contacts_a_week is not None:
        said.append(f"at most {limit.contacts_a_week} contacts a week")
    if limit.hard_contacts_a_week is not None:
        said.append(f"at most {limit.hard_contacts_a_week} hard contacts a week")
    if limit.landings_a_session is not None:
        landings = limit.landings_a_session
        said.append("no landings" if landings == 0 else f"at most {landings} landings a session")
    if limit.run_up_steps is not None:
        said.append(f"run-ups of at most {limit.run_up_steps} steps")
    if limit.speed_percent is not None:
        said.append(f"no faster than {limit.speed_percent} %")
    if limit.banned:
        said.append("no " + listed(tuple(any_in_words(b) for b in sorted(limit.banned))))
    return said
