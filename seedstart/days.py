"""Days of a plan: windows, ISO weeks, work days, and the ways a grower writes a date."""

import re
from calendar import monthrange
from collections.abc import Collection
from datetime import date, timedelta
from typing import Final, NamedTuple

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WEEKDAYS_IN_FULL: Final = (
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
)  # fmt: skip
_AHEAD: Final = re.compile(r"(\d{1,3})\s*(?:d|days?)|(\d{1,2})\s*(?:w|weeks?)")
_NAMED: Final = re.compile(
    r"(?:(?P<day>\d{1,2})\.? (?P<month>[A-Za-z]{3,9})"
    r"|(?P<month_>[A-Za-z]{3,9})\.? (?P<day_>\d{1,2}))\.?(?:,? (?P<year>\d{4}))?"
)
MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


class Window(NamedTuple):
    """When a step may happen: the earliest, the best and the latest day, in this order."""

    earliest: date
    best: date
    latest: date

    def shifted(self, days: float) -> "Window":
        """The same window, whole days later (or earlier, when negative)."""
        step = timedelta(days=round(days))
        return Window(self.earliest + step, self.best + step, self.latest + step)

    def not_before(self, other: "Window") -> "Window":
        """No day of it ahead of the same one of another window."""
        return Window(
            max(self.earliest, other.earliest),
            max(self.best, other.best),
            max(self.latest, other.latest),
        )

    def not_after(self, other: "Window") -> "Window":
        """No day of it behind the same one of another window."""
        return Window(
            min(self.earliest, other.earliest),
            min(self.best, other.best),
            min(self.latest, other.latest),
        )

    @property
    def days(self) -> int:
        """Length from earliest to latest, in days."""
        return (self.latest - self.earliest).days

    def holds(self, day: date) -> bool:
        """Whether a day lies inside, ends included."""
        return self.earliest <= day <= self.latest

    @classmethod
    def around(cls, best: date, before: float, after: float) -> "Window":
        """A window from whole days before to whole days after its best day."""
        return cls(best - timedelta(days=round(before)), best, best + timedelta(days=round(after)))

    @classmethod
    def on(cls, day: date) -> "Window":
        """A window of one day."""
        return cls(day, day, day)


def iso_week(day: date) -> str:
    """The week as ISO 8601 writes it, as `2027-W09`; its year may differ from the day's."""
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02d}"


def monday_of(day: date) -> date:
    """The first day of the ISO week that holds `day`."""
    return day - timedelta(days=day.weekday())


# How far ahead a work day is looked for when the day to sow has passed, or is put off.
SOON_DAYS: Final = 14


def nearest_work_day(
    window: Window, work_days: Collection[str], away: Collection[tuple[date, date]] = ()
) -> date | None:
    """The day to work inside a window: nearest to best, the earlier of two as near.

    Args:
        window: Where to look.
        work_days: Weekdays as `wed`; none at all means every day.
        away: Pairs of first and last day on which nobody is there.

    Returns:
        The day, or None when the window holds no day on which the grower works.
    """
    if not work_days and not away and window.holds(window.best):
        return window.best  # of most growers nothing else is known
    for distance in range(window.days + 1):
        for day in (window.best - timedelta(distance), window.best + timedelta(distance)):
            works = not work_days or WEEKDAYS[day.weekday()] in work_days
            if window.holds(day) and works and not is_away(day, away):
                return day
    return None


def is_away(day: date, away: Collection[tuple[date, date]]) -> bool:
    """Whether the grower is away on that day; first and last days count."""
    return any(first <= day <= last for first, last in away)


def parse_day(text: str) -> date:
    """A day as a grower may write it without doubt: `2027-05-12`, `12 May 2027`, `May 12, 2027`.

    As screens show it too, with its weekday before it: `Wed 12 May 2027`. With full stops,
    `12.5.2027`, the day stands first: no other order writes them (common practice, no source).

    Raises:
        ValueError: Not a day, or one that may be read in two ways; the text says how to write it.
    """
    weekday, text = _weekday_before(text.strip())
    if iso := re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", text):
        return _on_its(weekday, _real_day(int(iso[1]), int(iso[2]), int(iso[3])))
    if named := _NAMED.fullmatch(text):
        if named["year"] is None:
            raise ValueError("a day needs its year: write it as year-month-day, 2027-05-12")
        month, day = _month_and_day(named)
        return _on_its(weekday, _real_day(int(named["year"]), month, day))
    if stops := re.fullmatch(r"(\d{1,2})\.(\d{1,2})\.(\d{4})", text):
        return _on_its(weekday, _real_day(int(stops[3]), int(stops[2]), int(stops[1])))
    if short := re.fullmatch(r"(\d{1,2})([./-])(\d{1,2})\2(\d{2}|\d{4})?", text):
        raise ValueError(_readings(int(short[1]), int(short[3]), short[4]))
    if re.fullmatch(r"\d{1,2}[./-]\d{1,2}[.]?", text):
        raise ValueError("a day needs its year: write it as year-month-day, 2027-05-12")
    raise ValueError("write the day as year-month-day, 2027-05-12")


def day_without_year(text: str, today: date, *, ahead: bool) -> date | None:
    """A day and month as screens show them, `20 May` or `Thu 20 May`: the nearest such day.

    Args:
        text: What was typed; None is given back where it names a year, or no month.
        today: The day it is; `20 May` may mean it.
        ahead: The next such day, not the last.

    Raises:
        ValueError: There is no such day, or it falls on another weekday.
    """
    weekday, text = _weekday_before(text.strip())
    named = _NAMED.fullmatch(text)
    if named is None or named["year"] is not None:
        return None
    month, day = _month_and_day(named)
    if day > (last := monthrange(2000, month)[1]):  # a leap year: it has every day there is
        raise ValueError(f"{date(2000, month, 1):%B} has {last} days")
    years = range(today.year, today.year + 9) if ahead else range(today.year, today.year - 9, -1)
    for year in years:
        if day <= monthrange(year, month)[1]:
            found = date(year, month, day)
            if (found >= today) if ahead else (found <= today):
                return _on_its(weekday, found)
    return None


def _month_and_day(named: re.Match[str]) -> tuple[int, int]:
    return _month(named["month"] or named["month_"]), int(named["day"] or named["day_"])


def _weekday_before(text: str) -> tuple[int | None, str]:
    """The weekday before a day, as a number from Monday on, and the rest."""
    word, _, rest = text.partition(" ")
    name = word.casefold().rstrip(".,")
    if len(name) >= 3 and name[:3] in WEEKDAYS and rest:
        number = WEEKDAYS.index(name[:3])
        if _WEEKDAYS_IN_FULL[number].startswith(name):
            return number, rest.strip()
    return None, text


def _on_its(weekday: int | None, day: date) -> date:
    if weekday is not None and day.weekday() != weekday:
        is_, said = (_WEEKDAYS_IN_FULL[one].title() for one in (day.weekday(), weekday))
        raise ValueError(f"{short_day(day)} {day.year} is a {is_}, not a {said}")
    return day


def day_ahead(text: str, today: date) -> date | None:
    """A day ahead as it is named: `saturday`, `3 days`, `20 May`; None where it is none.

    Raises:
        ValueError: It is past.
    """
    word = text.casefold().removeprefix("till ").removeprefix("until ").strip(" .")
    if word == "tomorrow":
        return today + timedelta(days=1)
    if len(word) >= 3 and word[:3] in WEEKDAYS and word.isalpha():
        number = WEEKDAYS.index(word[:3])
        ahead = (number - today.weekday() - 1) % 7 + 1
        named = _WEEKDAYS_IN_FULL[number].startswith(word)  # `sat` and `saturday`, not `sunny`
        return today + timedelta(days=ahead) if named else None
    if match := _AHEAD.fullmatch(word):
        days = int(match[1]) if match[1] else 7 * int(match[2])
        return today + timedelta(days=days) if days else None
    try:
        after = today + timedelta(days=1)
        day = day_without_year(word, after, ahead=True) or parse_day(word)
    except ValueError:
        return None
    if day <= today:
        raise ValueError(f"{day.isoformat()} is past: name a day that lies ahead")
    return day


def _month(name: str) -> int:
    try:
        return MONTHS.index(name[:3].lower()) + 1
    except ValueError:
        raise ValueError(f"{name} is no month: write the day like this: 2027-05-12") from None


def _real_day(year: int, month: int, day: int) -> date:
    if not 1 <= month <= 12:
        raise ValueError(f"there is no month {month}: write year-month-day, 2027-05-12")
    if not 1 <= day <= monthrange(year, month)[1]:
        name = date(year, month, 1).strftime("%B")
        last = monthrange(year, month)[1]
        raise ValueError(f"{name} {year} has {last} days")
    if not 1900 <= year <= 2200:
        raise ValueError("the year lies outside 1900 to 2200")
    return date(year, month, day)


DAY_ORDERS: Final = ("dmy", "mdy")


def day_in_order(text: str, order: str = "") -> date | None:
    """The day that a text with two short numbers means, as 31/03/2027.

    Args:
        text: Parted by strokes, hyphens or full stops, the year in full and last.
        order: `dmy` or `mdy`; without it only what has but one reading is a day.

    Returns:
        None where it has two readings and no order is said, or is no day.
    """
    short = re.fullmatch(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})", text.strip())
    if not short:
        return None
    first, second, year = int(short[1]), int(short[3]), int(short[4])
    meant = _meant(first, second, year)
    if order:
        day, month = (first, second) if order == "dmy" else (second, first)
        return next((one for one in meant if (one.day, one.month) == (day, month)), None)
    return meant[0] if len(meant) == 1 else None


def _meant(first: int, second: int, year: int) -> list[date]:
    """The days that two short numbers may mean, day first and month first."""
    return [
        date(year, month, day)
        for day, month in {(first, second): 0, (second, first): 0}
        if 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]
    ]


def _readings(first: int, second: int, year: str | None) -> str:
    """What a date written with two short numbers may mean, as the message that refuses it."""
    if year is None:
        return "a day needs its year: write it as year-month-day, 2027-05-12"
    full = int(year) if len(year) == 4 else 2000 + int(year)
    if not 1900 <= full <= 2200:
        return "the year lies outside 1900 to 2200"
    meant = [day.isoformat() for day in _meant(first, second, full)]
    if not meant:
        return "there is no such day: write it as year-month-day, 2027-05-12"
    if len(meant) == 1:
        return f"write it as {meant[0]}"
    return f"it may be read in two ways: write {meant[0]} or {meant[1]}"


def short_day(day: date) -> str:
    """A day for a narrow column, as `12 May`."""
    return f"{day.day} {MONTHS[day.month - 1].title()}"


def long_day(day: date) -> str:
    """A day in full, as `Wed 12 May 2027`."""
    return f"{WEEKDAYS[day.weekday()].title()} {short_day(day)} {day.year}"
