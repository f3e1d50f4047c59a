"""Other daily tables: the plain `date,tmin_c`, a grower's own sheet, an exported forecast.

What a column is, is read off its header, or said once and remembered (`weather_columns.py`).
"""

import re
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import tzinfo
from itertools import pairwise
from typing import Final, NamedTuple

from msgspec import Struct, field

from seedstart.problems import BadInputError, Problem
from seedstart.season.loggers.local_time import find_zone
from seedstart.season.weather.cells import (
    Column,
    DayCells,
    Grid,
    compact_day,
    day_first,
    iso_day,
    month_first,
)
from seedstart.season.weather.hours import are_hours, zone_in
from seedstart.season.weather.published import F_SCALE, F_SHIFT, KMH, Layout
from seedstart.season.weather.weather_days import ELEMENTS, Element

Units = Mapping[str, tuple[float, float]]  # by unit: scale and shift into the element's own
_TEMPERATURES: Final = {
    "c": (1.0, 0.0), "celsius": (1.0, 0.0), "f": (F_SCALE, F_SHIFT),
    "fahrenheit": (F_SCALE, F_SHIFT), "k": (1.0, -273.15),
}  # fmt: skip
_SPEEDS: Final = {
    "m/s": (1.0, 0.0), "ms": (1.0, 0.0), "km/h": (KMH, 0.0), "kmh": (KMH, 0.0), "kph": (KMH, 0.0),
    "mph": (0.44704, 0.0), "mp/h": (0.44704, 0.0), "kn": (0.514444, 0.0), "kt": (0.514444, 0.0),
}  # fmt: skip
_DEPTHS: Final = {"mm": (1.0, 0.0), "in": (25.4, 0.0), "inch": (25.4, 0.0), "cm": (10.0, 0.0)}
_TIMES: Final = {"h": (1.0, 0.0), "min": (1 / 60, 0.0), "s": (1 / 3600, 0.0)}
UNITS: Final[dict[Element, Units]] = {
    "tmin_c": _TEMPERATURES, "tmax_c": _TEMPERATURES, "wind_ms": _SPEEDS, "gust_ms": _SPEEDS,
    "rain_mm": _DEPTHS, "sun_h": _TIMES,
}  # fmt: skip
_NOT_OF_THE_AIR: Final = frozenset({
    "wind", "gust", "gusts", "rain", "precip", "precipitation", "humidity", "rh", "soil", "ground",
    "dew", "dewpoint", "apparent", "feels", "feelslike", "chill", "pressure", "uv", "radiation",
    "snow", "sun", "sunshine", "cloud", "source", "flag", "attributes",
})  # fmt: skip
_LOW: Final = frozenset({"min", "minimum", "low", "lowest", "tmin", "mintemp", "tempmin"})
_HIGH: Final = frozenset({"max", "maximum", "high", "highest", "tmax", "maxtemp", "tempmax"})
_TEMPERATURE: Final = frozenset({"temp", "temperature", "t"})
_RAIN: Final = frozenset({"rain", "precip", "precipitation", "rainfall", "prcp"})
_CHANCE: Final = frozenset({"prob", "probability", "chance", "percentile"})
_NO_AMOUNT: Final = _CHANCE | {"hours", "duration", "type", "direction", "dir", "bearing"}
_PERIOD: Final = re.compile(r"(\d+)[_ ]?hours?")
_DATE: Final = frozenset({"date", "day", "time", "datum", "datetime", "timestamp", "valid"})
_UNIT: Final = re.compile(
    r"(?:[(\[]\s*°?\s*([^)\]]+?)\s*[)\]]|[ _]°?(c|f|ms|kmh|mph|kn|mm|in|h|min|s)|,\s*(\S+))\s*$",
    re.IGNORECASE,
)
_OF_MONTHS_DAYS: Final = 27


class Answers(Struct, frozen=True, kw_only=True):
    """What a grower says of a weather file; empty where the file is to speak.

    Attributes:
        unit: Of temperatures that state none: C or F.
        station: The one to read of a file with several.
        order: Of day and month in its dates: dmy or mdy.
        columns: Header of the column by element (and `date`), its unit or zone behind a bar:
            `Low|F`, `time|UTC`.
    """

    unit: str | None = None
    station: str | None = None
    order: str | None = None
    columns: dict[str, str] = field(default_factory=dict)


class Headed(NamedTuple):
    """A table with a header of its own.

    Attributes:
        layout: What stands where in it.
        hourly: Whether it has many rows a day.
        zone: Of its times, where it states one.
    """

    layout: Layout
    hourly: bool
    zone: tzinfo | None


def headed_layout(names: Sequence[str], grid: Grid, answers: Answers, file: str) -> Headed:
    """What stands where in a table with a header of its own.

    Args:
        names: The headers, as they stand there.
        grid: The rows under them.
        answers: What the grower said of it.
        file: For what is wrong.

    Raises:
        BadInputError: No column has the day or any weather, or a named column is not there.
    """
    named = _named_columns(names, answers, file)
    place, stated = named.pop("date") if "date" in named else (_date_place(names, grid), "")
    if place is None:
        hint = "No column was seen to hold the day: name the one that does."
        raise BadInputError([Problem(file=file, key="date", allowed=tuple(names), hint=hint)])
    cells = grid.column(place)
    hourly = are_hours(cells)
    found: dict[Element, tuple[int, str]] = {}
    # Of amounts over one, six and twelve hours the first is that of each row.
    for at, name in sorted(enumerate(names), key=lambda one: hours_in(one[1])):
        element = element_of(name)
        if element is not None and element not in found and at != place:
            found[element] = at, unit_in(name)
    if hourly:
        found = _of_each_hour(names) | found
    found |= named  # type: ignore[arg-type]
    if not found:
        hint = "No column was seen to hold a lowest temperature: name the one that does."
        raise BadInputError([Problem(file=file, key="columns", allowed=tuple(names), hint=hint)])
    columns, notes, asks = _columns(found, names, answers)
    day = DayCells((place,), _day_reader(cells, answers, file))
    _refuse_months(day.read, cells, file)
    name = f"table of {'hours' if hourly else 'days'}"
    layout = Layout(name, day, columns, _station_place(names), tuple(notes), asks)
    return Headed(layout, hourly, _zone_of(names[place], stated, file))


def _of_each_hour(names: Sequence[str]) -> dict[Element, tuple[int, str]]:
    """The temperature of an hour, which is its lowest and its highest."""
    for place, name in enumerate(names):
        words = set(re.findall(r"[a-z]+", name.casefold()))
        if words & _TEMPERATURE and not words & (_NOT_OF_THE_AIR | _LOW | _HIGH | _NO_AMOUNT):
            return dict.fromkeys(("tmin_c", "tmax_c"), (place, unit_in(name)))
    return {}


def _zone_of(name: str, stated: str, file: str) -> tzinfo | None:
    """The zone of a column of times, as its header or the grower says it.

    Raises:
        BadInputError: The grower names one that there is not.
    """
    if not stated or stated == unit_in(name):
        return zone_in(name)
    try:
        return find_zone(stated)
    except ValueError as error:
        problem = Problem(file=file, key="date", found=stated, allowed=(str(error),))
        raise BadInputError([problem]) from None


def element_of(name: str) -> Element | None:
    """What a column holds, by its header; None where it does not say it plainly."""
    for element in ELEMENTS:
        if name.strip().casefold() == element:
            return element
    words = set(re.findall(r"[a-z]+", _PERIOD.sub("", name.casefold())))
    if words & {"sun", "sunshine", "tsun"} and not words & (_HIGH | _CHANCE):
        return "sun_h"
    if words & _NO_AMOUNT:
        return None
    if words & {"gust", "gusts", "windgust", "windgusts", "wpgt"}:
        return "gust_ms"
    if words & {"wind", "windspeed", "wspd"} and not words & (_HIGH | _LOW):
        return "wind_ms"
    if words & _RAIN and not words & (_HIGH | _LOW):
        return "rain_mm"
    if words & _NOT_OF_THE_AIR:
        return None
    if words & _LOW:
        return "tmin_c"
    return "tmax_c" if words & _HIGH else None


def hours_in(name: str) -> int:
    """Over how many hours an amount is, as its header says; zero where it does not."""
    found = _PERIOD.search(name.casefold())
    return int(found[1]) if found else 0


def unit_in(name: str) -> str:
    """The unit that a header states, in lower case; empty where it states none."""
    match = _UNIT.search(name.strip())
    if not match:
        return ""
    return next(part for part in match.groups() if part).casefold().replace("°", "").strip()


def _named_columns(
    names: Sequence[str], answers: Answers, file: str
) -> dict[str, tuple[int | None, str]]:
    """Columns that the grower named, and their units."""
    places = {name.strip().casefold(): place for place, name in enumerate(names)}
    found: dict[str, tuple[int | None, str]] = {}
    problems: list[Problem] = []
    for element, text in answers.columns.items():
        header, _, unit = text.rpartition("|") if "|" in text else (text, "", "")
        place = places.get(header.strip().casefold())
        known = ("date", *ELEMENTS)
        if element not in known:
            problems.append(Problem(file=file, key="column", found=element, allowed=known))
        elif place is None:
            problems.append(Problem(file=file, key=element, found=header, allowed=tuple(names)))
        else:
            unit = unit.strip() if element == "date" else unit.strip().casefold().lstrip("°")
            found[element] = place, unit or unit_in(names[place])
    if problems:
        raise BadInputError(problems)
    return found


def _columns(
    found: Mapping[Element, tuple[int, str]], names: Sequence[str], answers: Answers
) -> tuple[tuple[Column, ...], list[str], bool]:
    """Columns with their units, what was left out for want of one, whether one is to be asked."""
    columns: list[Column] = []
    notes: list[str] = []
    asks = False
    for element, (place, stated) in found.items():
        plain = names[place].strip().casefold() == element
        unit = stated
        if element in {"tmin_c", "tmax_c"} and unit not in _TEMPERATURES and not plain:
            unit = (answers.unit or "").casefold()
            asks = asks or not unit
        scale, shift = UNITS[element].get(unit, (0.0, 0.0)) if not plain else (1.0, 0.0)
        if scale or element in {"tmin_c", "tmax_c"}:
            columns.append(Column(element, place, scale or 1.0, shift))
        else:
            notes.append(f"column “{names[place]}” has no unit and was left out")
    return tuple(columns), notes, asks


def _date_place(names: Sequence[str], grid: Grid) -> int | None:
    """The column whose header and rows are dates, else the first whose rows are."""
    are = [place for place in range(len(names)) if _are_dates(grid.column(place)[:20])]
    named = (at for at in are if set(re.findall(r"[a-z]+", names[at].casefold())) & _DATE)
    return next(named, are[0] if are else None)


def _are_dates(cells: Sequence[str]) -> bool:
    some = [cell.strip() for cell in cells if cell.strip()]
    wanted = r"\d{4}-\d\d-\d\d(?:[T ].*)?|(?:19|20)\d{6}|\d{1,2}[./-]\d{1,2}[./-]\d{4}(?: .*)?"
    return bool(some) and sum(bool(re.fullmatch(wanted, cell)) for cell in some) > len(some) / 2


def _day_reader(cells: Sequence[str], answers: Answers, file: str) -> Callable[[str], int]:
    """How the days of a column are written.

    Raises:
        BadInputError: Day and month could be either way about.
    """
    first = next((cell.strip() for cell in cells if cell.strip()), "")
    if re.match(r"\d{4}-", first):
        return iso_day
    if re.fullmatch(r"\d{8}", first):
        return compact_day
    if order := _order(cells, answers.order):
        return day_first if order == "dmy" else month_first
    hint = f"{first} may be read in two ways: say dmy (day first) or mdy (month first)."
    raise BadInputError([Problem(file=file, key="order", allowed=("dmy", "mdy"), hint=hint)])


def _order(cells: Sequence[str], answer: str | None) -> str | None:
    if answer in {"dmy", "mdy"}:
        return answer
    pairs = [match for cell in cells if (match := re.match(r"\s*(\d{1,2})([./-])(\d{1,2})", cell))]
    if any(int(match[1]) > 12 for match in pairs) or (pairs and pairs[0][2] == "."):
        return "dmy"
    return "mdy" if any(int(match[3]) > 12 for match in pairs) else None


def _station_place(names: Sequence[str]) -> int | None:
    heads = [name.strip().casefold() for name in names]
    return next((heads.index(word) for word in ("station", "station_id") if word in heads), None)


def _refuse_months(day: Callable[[str], int], cells: Sequence[str], file: str) -> None:
    """A row a month is no daily record.

    Raises:
        BadInputError: It is one.
    """
    days: list[int] = []
    for cell in cells[:60]:
        with suppress(ValueError):
            days.append(day(cell))
    steps = [later - one for one, later in pairwise(days)]
    if len(days) >= 3 and min(steps) >= _OF_MONTHS_DAYS:
        raise BadInputError([monthly(file)])


def monthly(file: str) -> Problem:
    """Why a file of months is refused."""
    hint = (
        "It has one row a month: means of months cannot say on which day the last frost came. Get "
        "the daily file of the same station."
    )
    return Problem(file=file, hint=hint)
