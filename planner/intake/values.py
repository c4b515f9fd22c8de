"""From a cell to a value: dates, clocks, numbers with units, lists, marks. Plain functions, no files.

Every function takes a cell of a YAML file (text) or of a workbook (typed) and raises `Misfit` when the
cell is something else than needed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation

from planner.domain.shoe import Shoe, shoe_of
from planner.intake.raw import Cell
from planner.intake.spelling import find, suggestion

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
LONGEST_NAME = 100  # signs
LONGEST_WORDS = 1000  # signs
SHOES = (150, 400)  # millimetres of a shoe, children and the tallest; common practice, no source
FIRST_YEAR, LAST_YEAR = 1900, 2199  # outside of these a date is a slip of the keyboard


class Misfit(ValueError):
    """A cell that cannot be read: what is needed instead, and a remedy."""

    def __init__(self, needed: str, maybe: str = "") -> None:
        self.needed, self.maybe = needed, maybe
        super().__init__(needed)


def text_of(cell: Cell, needed: str = "text") -> str:
    """A single cell as text; lists and mappings are refused."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, (str, int, float)):
        return unicodedata.normalize("NFC", str(cell)).strip()
    if isinstance(cell, (date, time)):
        return cell.isoformat()
    raise Misfit(needed, "this should be a single value, not a list")


def own_words(cell: Cell) -> str:
    """Words of the coach's own. A spreadsheet must never take them for a formula."""
    text = text_of(cell)
    if text[:1] in "=+-@" and text:
        raise Misfit(
            "words that do not begin with = + - or @ (a spreadsheet would take them for a formula)",
            f"begin with a letter: {text.lstrip('=+-@ ')[:40]}",
        )
    if any(unicodedata.category(c) in ("Cc", "Cs") for c in text):
        raise Misfit("words without control signs", "delete the sign and type the words again")
    if len(text) > LONGEST_WORDS:
        raise Misfit(f"at most {LONGEST_WORDS} signs", "say it shorter")
    return text


def name(cell: Cell) -> str:
    """A name of a person or thing, at most 100 signs, without the ';' that parts lists."""
    text = own_words(cell)
    if not text:
        raise Misfit("a name", "it was left empty")
    if ";" in text:
        raise Misfit("a name without ';' (that sign parts lists)", "leave the ';' out")
    if len(text) > LONGEST_NAME:
        raise Misfit(f"a name of at most {LONGEST_NAME} signs", "use a shorter name")
    return text


def shoe(cell: Cell) -> Shoe:
    """A shoe by its name, its length from 15 to 40 cm, or both: 'spikes 26.2 cm'."""
    text = own_words(cell)
    try:
        found = shoe_of(text)
    except ValueError as error:
        raise Misfit(str(error), "measure the sole from toe to heel") from None
    if found.length is not None and not SHOES[0] <= found.length <= SHOES[1]:
        needed = f"a shoe's length with its unit, {SHOES[0] // 10} to {SHOES[1] // 10} cm, such as 26.2 cm"
        raise Misfit(needed, "a decimal point is missing or in the wrong place")
    return found


def parts(cell: Cell, *, commas: bool = False) -> list[str]:
    """A list cell as texts: a YAML list, or one text parted by ';' (and ',' where names cannot hold one)."""
    if isinstance(cell, Sequence) and not isinstance(cell, str):
        found: list[str] = []
        for item in cell:
            found += parts(item, commas=commas)
        return found
    pieces = re.split("[;,]" if commas else ";", text_of(cell))
    return [p.strip() for p in pieces if p.strip()]


def names(cell: Cell) -> tuple[str, ...]:
    return tuple(name(p) for p in parts(cell))


def choice(cell: Cell, options: Sequence[str], what: str) -> str:
    """One of fixed words; case, blanks and hyphens do not matter."""
    text = text_of(cell, what)
    found = find(text, options)
    if found is None:
        raise Misfit(what, suggestion(text, options))
    return found


def choices(cell: Cell, options: Sequence[str], what: str) -> tuple[str, ...]:
    given = parts(cell, commas=True)
    unknown = [p for p in given if find(p, options) is None]
    if unknown and len(given) > 1:  # which of them it is stands in the sentence
        which = " and ".join(f"'{p}'" for p in unknown)
        needed = f"{what}; {which} {'is' if len(unknown) == 1 else 'are'} not among them"
        raise Misfit(needed, "; ".join(dict.fromkeys(s for p in unknown if (s := suggestion(p, options)))))
    return tuple(dict.fromkeys(choice(p, options, what) for p in given))


def yes_no(cell: Cell) -> bool:
    if isinstance(cell, bool):
        return cell
    text = text_of(cell, "yes or no").casefold()
    if text in ("yes", "true", "y", "1", "x"):
        return True
    if text in ("no", "false", "n", "0"):
        return False
    raise Misfit("yes or no", "write 'yes' or 'no'")


def decimal(cell: Cell, needed: str) -> Decimal:
    """A plain decimal number; a comma may stand for the point."""
    text = text_of(cell, needed).replace("−", "-")
    if not re.fullmatch(r"[+-]?\d{1,9}([.,]\d{1,6})?", text):
        raise Misfit(needed, "write a plain number such as 12 or 1.5")
    try:
        return Decimal(text.replace(",", "."))
    except InvalidOperation as error:  # pragma: no cover - the pattern above admits numbers only
        raise Misfit(needed) from error


def with_unit(cell: Cell, units: Mapping[str, int], needed: str, *, bare: str = "") -> int:
    """A number with its unit in whole small steps: `units` maps a unit to the steps in one of it.

    `bare` is the unit of a number written without one; without it the unit must be there.
    """
    text = text_of(cell, needed).replace("−", "-")
    found = re.fullmatch(r"([+-]?\d{1,9}(?:[.,]\d{1,6})?)\s*(\D*)", text)
    if not found:
        raise Misfit(needed, "write the number, a blank and the unit")
    unit = found[2].strip() or bare
    steps = next((n for u, n in units.items() if u.casefold() == unit.casefold()), None)
    if steps is None:
        raise Misfit(needed, "the unit is missing" if not unit else f"'{unit}' is the wrong unit here")
    value = Decimal(found[1].replace(",", ".")) * steps
    if value != value.to_integral_value():
        raise Misfit(needed, "it is given more exactly than it is counted; leave off the last digit")
    return int(value)


def whole(cell: Cell, low: int, high: int, what: str, *, unit: str = "") -> int:
    """A whole number within a range, both ends included; its unit may stand behind it."""
    needed = f"{what}: a whole number from {low} to {high}"
    if isinstance(cell, bool):
        raise Misfit(needed)
    value = with_unit(cell, {unit: 1}, needed, bare=unit)
    if not low <= value <= high:
        raise Misfit(needed, "a digit too many or too few was typed")
    return value


def day(cell: Cell, *, workbook: bool = False) -> date:
    """A real date: 2027-03-22, or a date cell of a workbook."""
    needed = "a date that exists, such as 2027-03-22"
    if isinstance(cell, datetime):
        if cell.time() != time(0):
            raise Misfit("a date without a clock time", "the clock belongs in another column")
        return _sane(cell.date())
    if isinstance(cell, date):
        return _sane(cell)
    text = text_of(cell, needed)
    if workbook:
        raise Misfit(
            "a real date cell, not text",
            "the cell is formatted as text: format it as a date and type the date again",
        )
    return _iso_day(text, needed)


def _iso_day(text: str, needed: str) -> date:
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
        raise Misfit(needed, "it should be written year-month-day")
    try:
        return _sane(date.fromisoformat(text))
    except ValueError as error:
        if isinstance(error, Misfit):
            raise
        raise Misfit(needed, "that month has fewer days; look at the calendar") from error


def _sane(value: date) -> date:
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        raise Misfit(f"a date between the years {FIRST_YEAR} and {LAST_YEAR}", "a digit of the year is wrong")
    return value


def days_listed(cell: Cell) -> tuple[date, ...]:
    """One or several dates; '2027-04-01..2027-04-05' stands for each date from first to last."""
    if isinstance(cell, (date, datetime)):
        return (day(cell),)
    needed = "dates such as 2027-03-31, or first..last"
    found: list[date] = []
    items = cell if isinstance(cell, Sequence) and not isinstance(cell, str) else [cell]
    for item in items:
        if isinstance(item, (date, datetime)):
            found.append(day(item))
            continue
        for piece in parts(item, commas=True):
            ends = [_iso_day(p.strip(), needed) for p in piece.split("..")]
            if len(ends) > 2 or ends[-1] < ends[0] or (ends[-1] - ends[0]).days > 400:
                raise Misfit(needed, "the later date stands first")
            found += [date.fromordinal(n) for n in range(ends[0].toordinal(), ends[-1].toordinal() + 1)]
    return tuple(found)


def clock(cell: Cell) -> time:
    """A clock time to the minute, 00:00 to 23:59."""
    needed = "a clock time such as 17:30"
    if isinstance(cell, datetime):
        raise Misfit(needed, "the date belongs in another column")
    if isinstance(cell, time):
        return cell.replace(second=0, microsecond=0, tzinfo=None)
    text = text_of(cell, needed)
    found = re.fullmatch(r"(\d{1,2}):(\d{2})(:00)?", text, re.ASCII)
    if not found or int(found[1]) > 23 or int(found[2]) > 59:
        raise Misfit(needed, "it should be written hours:minutes on the 24-hour clock")
    return time(int(found[1]), int(found[2]))


def moment(cell: Cell, *, workbook: bool = False) -> date | datetime:
    """A date, or a date with a clock time: 2027-03-24 or 2027-03-24 15:00."""
    if isinstance(cell, datetime):
        when = cell.replace(second=0, microsecond=0, tzinfo=None)
        return day(when.date()) if when.time() == time(0) else datetime.combine(day(when.date()), when.time())
    if isinstance(cell, date):
        return day(cell)
    needed = "a date, or a date and a clock time such as 2027-03-24 15:00"
    text = text_of(cell, needed)
    if workbook:
        raise Misfit(
            "a real date cell (with a clock time where you want one), not text",
            "the cell is formatted as text: format it as a date and type it again",
        )
    first, _, rest = text.replace("T", " ").partition(" ")
    found = _iso_day(first, needed)
    return datetime.combine(found, clock(rest.strip())) if rest.strip() else found


def weekdays(cell: Cell) -> tuple[int, ...]:
    """Weekdays 0 (Monday) to 6 (Sunday): 'Mon-Sat', 'Tue; Thu', 'daily'."""
    found: set[int] = set()
    for piece in parts(cell, commas=True):
        if piece.casefold() in ("daily", "every day", "all"):
            found |= set(range(7))
            continue
        ends = [weekday(p) for p in re.split(r"\s*[-–]\s*", piece)]
        if len(ends) > 2:
            raise Misfit("weekdays such as Mon-Sat or Tue; Thu", "there is a '-' too many")
        last = ends[-1] if ends[-1] >= ends[0] else ends[-1] + 7
        found |= {n % 7 for n in range(ends[0], last + 1)}
    if not found:
        raise Misfit("weekdays such as Mon-Sat or Tue; Thu", "the list was left empty")
    return tuple(sorted(found))


def weekday(cell: Cell) -> int:
    text = text_of(cell, "a weekday such as Tue")
    for i, (short, long) in enumerate(zip(WEEKDAYS, LONG_WEEKDAYS, strict=True)):
        if text.casefold() in (short.casefold(), long.casefold(), long.casefold() + "s"):
            return i
    raise Misfit("a weekday such as Tue", suggestion(text, LONG_WEEKDAYS))


def hours(cell: Cell) -> tuple[tuple[tuple[int, ...], time, time], ...]:
    """Own hours: 'Mon 16:00-18:00; Thu 17:00-19:00' -> weekdays, from, until."""
    needed = "hours such as 'Mon 16:00-18:00; Thu 17:00-19:00'"
    found = []
    for piece in parts(cell):
        match = re.fullmatch(r"(.+?)\s+(\d{1,2}:\d{2})\s*[-–]\s*(\d{1,2}:\d{2})", piece)
        if not match:
            raise Misfit(needed, "the weekday or one of the clock times is missing")
        begins, ends = clock(match[2]), clock(match[3])
        if ends <= begins:
            raise Misfit(needed, "the two clock times have changed places")
        found.append((weekdays(match[1]), begins, ends))
    return tuple(found)


def event_clocks(cell: Cell, events: Sequence[str]) -> tuple[tuple[str, time], ...]:
    """When events begin: 'long jump 11:00; 100 m hurdles 13:30', or a mapping; in order of time."""
    needed = "events with their clock times, such as long jump 11:00; 100 m hurdles 13:30"
    found: dict[str, time] = {}
    given: list[tuple[Cell, Cell]] = list(cell.items()) if isinstance(cell, Mapping) else []
    for piece in () if given else parts(cell):
        match = re.fullmatch(r"(.+?):?\s+(\d{1,2}:\d{2})", piece, re.ASCII)
        if not match:
            raise Misfit(needed, "an event or its clock time is missing")
        given.append((match[1], match[2]))
    for event, at in given:
        name = choice(event, events, f"an event with its clock time, not {event!r}")
        if name in found:
            raise Misfit(needed, f"'{name}' is given twice")
        found[name] = clock(at)
    return tuple(sorted(found.items(), key=lambda pair: (pair[1], pair[0])))


def pairs(cell: Cell, needed: str) -> list[tuple[str, Cell]]:
    """A small mapping: a YAML mapping, or text 'full-jumps: novice; top-speed: advanced' (':' optional)."""
    if isinstance(cell, Mapping):
        return [(str(k).strip(), v) for k, v in cell.items()]
    found: list[tuple[str, Cell]] = []
    for piece in parts(cell):
        key, mark, value = piece.partition(":")
        if not mark:
            split = re.fullmatch(r"(.*?)\s+(\d.*|\S+)", piece)  # 'Wed-Thu 2 h', 'full-jumps novice'
            key, value = (split[1], split[2]) if split else (piece, "")
        if not key.strip() or not value.strip():
            raise Misfit(needed, "a word or a number is missing")
        found.append((key.strip(), value.strip()))
    if len({k.casefold() for k, _ in found}) < len(found):
        raise Misfit(needed, "one of them is given twice")
    return found


def span(cell: Cell, low: int, high: int, what: str) -> tuple[int, int]:
    """A range '30-45' of whole numbers; one number stands for both ends."""
    needed = f"{what}: a range such as 30-45, from {low} to {high}"
    if isinstance(cell, Sequence) and not isinstance(cell, str):
        pieces = [text_of(c, needed) for c in cell]
    else:
        pieces = re.split(r"\s*[-–]\s*", text_of(cell, needed))
    if len(pieces) not in (1, 2):
        raise Misfit(needed)
    first, last = whole(pieces[0], low, high, what), whole(pieces[-1], low, high, what)
    if last < first:
        raise Misfit(needed, "the two numbers have changed places")
    return first, last


def other_sport(cell: Cell) -> dict[int, int]:
    """Minutes of other sport by weekday: 'Mon 1.5; Wed 2' hours, or hours a week, spread evenly."""
    needed = "hours of other sport: 'Mon 1.5; Wed 2', or the hours of a week"
    if isinstance(cell, (int, float)) or (
        isinstance(cell, str) and re.fullmatch(r"[\d.,]+\s*h?", cell.strip(), re.ASCII)
    ):
        total = with_unit(cell, {"h": 60}, needed, bare="h")
        if not 0 <= total <= 60 * 60:
            raise Misfit(needed + ", at most 60", "a decimal point is missing")
        return {i: total // 7 + (i < total % 7) for i in range(7)} if total else {}
    found: dict[int, int] = {}
    for key, value in pairs(cell, needed):
        minutes = with_unit(value, {"h": 60, "min": 1}, needed, bare="h")
        if not 0 <= minutes <= 12 * 60:
            raise Misfit(needed + ", at most 12 a day", "a decimal point is missing")
        for i in weekdays(key):
            found[i] = found.get(i, 0) + minutes
    return dict(sorted(found.items()))
