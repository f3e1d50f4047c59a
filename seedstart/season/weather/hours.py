"""A table of hours, as an exported forecast or a station's log has it → days in a zone.

The night of a day is the one that ends on its morning: its lowest stands between 18:00 on the day
before and 18:00. Every other element is of the day by the calendar. What the hours leave open is
no figure, rather than one too warm.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise
from statistics import fmean as mean
from typing import Final, NamedTuple

from seedstart.problems import BadInputError, Problem, gathered
from seedstart.season.loggers.local_time import find_zone
from seedstart.season.weather.cells import PROGRESS_EVERY, ReportRows, Sheet, figures, note
from seedstart.season.weather.weather_days import Days, Element
from seedstart.text import plural

_EVENING: Final = 18  # a minimum is read in the morning and counts for that day: from memory
_MORNING: Final = 9  # the coldest hour is behind then
# What lies between two hours is not known. Three hours apart is what forecasts thin out to; six
# leave out the coldest of the night. Ours, no source.
_FARTHEST_S: Final = 3 * 3600
_ROWS_A_DAY: Final = 3  # from so many on a table is of hours
_SEEN: Final = 400
_CLOCK: Final = re.compile(
    r".*?\d[T ]\s*(\d{1,2}):?(\d\d)(?::?\d\d(?:[.,]\d+)?)?\s*([ap]m)?\s*"
    r"(Z|UTC|GMT|[+-]\d\d:?\d\d)?\s*",
    re.IGNORECASE,
)
_SUMS: Final = frozenset[Element]({"rain_mm", "sun_h"})
_HIGHEST: Final = frozenset[Element]({"tmax_c", "gust_ms"})


class _Hour(NamedTuple):
    """When a row is of.

    Attributes:
        at_s: Seconds of the epoch.
        day: Of the calendar, as its ordinal number.
        night: The day on whose morning the night ends that it belongs to.
    """

    at_s: float
    day: int
    night: int


def are_hours(cells: Sequence[str]) -> bool:
    """Whether a column of times has many of each day."""
    some = [cell for cell in cells[:_SEEN] if cell.strip()]
    if not some or not all(map(_CLOCK.fullmatch, some)):
        return False
    days = {re.split(r"[T ]", cell.strip())[0] for cell in some}
    return len(set(some)) >= _ROWS_A_DAY * len(days)


def zone_in(text: str) -> tzinfo | None:
    """The zone that a header states, in brackets or as its last word; None where it states none."""
    if found := re.search(
        r"[(\[]\s*([^)\]]+?)\s*[)\]]\s*$|[ _,](utc|gmt)\s*$", text, re.IGNORECASE
    ):
        name = found[1] or found[2]
        try:
            return find_zone(name.upper() if name.upper() in {"UTC", "GMT"} else name)
        except ValueError:
            return None
    return None


def read_hours(sheet: Sheet, own: tzinfo | None, zone: tzinfo | None, progress: ReportRows) -> Days:
    """The days of a table of hours.

    Args:
        sheet: The table; its day is read from the date of a time.
        own: The zone of times without an offset, where the file states one; else the season's.
        zone: Of the season; without one a day is what the times themselves call so.
        progress: Called with the rows read so far.

    Raises:
        BadInputError: A time without an offset is left out by the zone's change of clocks.
    """
    problems: list[Problem] = []
    hours = _hours(sheet, own, zone, progress, problems)
    tmin: dict[int, int] = {}
    others: dict[Element, dict[int, float]] = {}
    thin = 0
    for column in sheet.columns:
        values = figures(column, sheet.grid)
        known = {
            hour: value
            for hour, value in zip(reversed(hours), reversed(values), strict=True)
            if hour is not None and value is not None
        }
        if column.element == "tmin_c":
            tmin, thin = _nights(known, zone)
        else:
            others[column.element] = _days(known, column.element, zone)
    notes = ["hours folded into days: a night's lowest is that from 18:00 on the day before on"]
    if thin:
        notes.append(f"{plural(thin, 'night')} left out, of which not every three hours are known")
    return Days(
        file=sheet.file,
        layout=sheet.layout,
        tmin_tenths=tmin,
        others=others,
        stations=sheet.stations,
        of_nights=True,
        notes=(*sheet.notes, *notes),
        problems=tuple(gathered(problems)),
    )


def _hours(
    sheet: Sheet,
    own: tzinfo | None,
    zone: tzinfo | None,
    progress: ReportRows,
    problems: list[Problem],
) -> list[_Hour | None]:
    """When each row is of; None where that cannot be read."""
    cells = sheet.grid.column(sheet.day.places[0])
    moments = [_moment(cell, sheet.day.read) for cell in cells]
    walls = [stamp.replace(tzinfo=None) for stamp in moments if stamp is not None]
    places = range(len(cells))
    backwards = bool(walls) and walls[0] > walls[-1]
    hours: list[_Hour | None] = [None] * len(cells)
    before = None
    for number, place in enumerate(reversed(places) if backwards else places, start=1):
        if number % PROGRESS_EVERY == 0:
            progress(number)
        if (moment := moments[place]) is None:
            hint = "No time of the calendar: this line was left out."
            note(problems, sheet, place, cells[place], hint)
            continue
        if moment.tzinfo is None:
            moment = _placed(moment, own or zone, before)
            if moment is None:
                raise BadInputError([_skipped(sheet, place, cells[place])])
        wall = moment.astimezone(zone) if zone else moment.replace(tzinfo=UTC)
        before, day = wall.timestamp(), wall.toordinal()
        hours[place] = _Hour(before, day, day + (wall.hour >= _EVENING))
    return hours


def _moment(cell: str, day: Callable[[str], int]) -> datetime | None:
    """A time as it is written, without a zone where it states none."""
    try:
        return datetime.fromisoformat(cell.strip())
    except ValueError:
        clock = _CLOCK.fullmatch(cell)
    try:
        if clock is None:
            return None
        half = timedelta(0)
        hour, minute = int(clock[1]), int(clock[2])
        if clock[3]:
            half, hour = timedelta(hours=12 * (clock[3][0] in "pP")), hour % 12
        start = datetime.combine(date.fromordinal(day(cell)), time(hour, minute)) + half
        return start.replace(tzinfo=find_zone(clock[4])) if clock[4] else start
    except ValueError:
        return None


def _placed(wall: datetime, zone: tzinfo | None, before: float | None) -> datetime | None:
    """A time on a wall in a zone; None where its clocks leave it out in spring.

    Of the autumn hour that comes twice the second is meant where the first lies behind already.
    """
    at = wall.replace(tzinfo=zone or UTC)
    if before is not None and at.timestamp() <= before:
        at = at.replace(fold=1)
    shown = datetime.fromtimestamp(at.timestamp(), zone or UTC).replace(tzinfo=None)
    return at if shown == wall else None


def _skipped(sheet: Sheet, place: int, cell: str) -> Problem:
    hint = (
        "The clocks go forward over this hour, so its times are not those of the season. Say of "
        "which zone they are: date=HEADER|UTC, or the name of a zone behind the bar."
    )
    line = sheet.first_line + sheet.grid.numbers[place]
    return Problem(file=sheet.file, line=line, key="date", found=cell, hint=hint)


def _nights(known: Mapping[_Hour, float], zone: tzinfo | None) -> tuple[dict[int, int], int]:
    """The lowest of each night, tenths of a degree; of how many inside too little is known."""
    by_night: dict[int, dict[float, float]] = defaultdict(dict)
    for hour, value in known.items():
        by_night[hour.night][hour.at_s] = value
    found = {
        night: round(10 * min(values.values()))
        for night, values in by_night.items()
        if _are_close(values, _at(night - 1, _EVENING, zone), _at(night, _MORNING, zone))
    }
    if not by_night:
        return {}, 0
    return found, len(by_night.keys() - found.keys() - {min(by_night), max(by_night)})


def _days(known: Mapping[_Hour, float], element: Element, zone: tzinfo | None) -> dict[int, float]:
    """An element of each day of whose hours of work enough is known."""
    by_day: dict[int, dict[float, float]] = defaultdict(dict)
    for hour, value in known.items():
        by_day[hour.day][hour.at_s] = value
    fold = sum if element in _SUMS else max if element in _HIGHEST else mean
    return {
        day: round(fold(values.values()), 2)
        for day, values in by_day.items()
        if _are_close(values, _at(day, _MORNING, zone), _at(day, _EVENING, zone))
    }


def _are_close(times: Iterable[float], first_s: float, last_s: float) -> bool:
    """Whether no two neighbours between two moments lie farther apart than a coldest hour hides."""
    inside = [one for one in sorted(times) if first_s < one < last_s]
    return all(later - one <= _FARTHEST_S for one, later in pairwise([first_s, *inside, last_s]))


def _at(day: int, hour: int, zone: tzinfo | None) -> float:
    return datetime.combine(date.fromordinal(day), time(hour), zone or UTC).timestamp()
