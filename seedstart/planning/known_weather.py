"""What is known of the weather of a day: measured, forecast in a file, or written down.

The one answer to "what will the night be". What was measured wins over what was forecast, a later
forecast over an earlier one; both stay in their files.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from msgspec import Struct

from seedstart.growing.minima_screen import COLDEST_TENTHS, WARMEST_TENTHS
from seedstart.season.journal.entries import Forecast
from seedstart.season.journal.journal import Journal
from seedstart.season.weather.weather_days import ELEMENTS, Element

if TYPE_CHECKING:  # the readers of its files cost every command some 8 ms
    from seedstart.season.weather.weather_folder import Issue, WeatherFile

WRITTEN_DOWN: Final = "written down"
# Weather longer ago moves no step of hardening off, and no forecast reaches farther.
_DAYS_BACK: Final = 60
_DAYS_AHEAD: Final = 30


class KnownDay(Struct, frozen=True, kw_only=True):
    """What is known of one day's weather; None where nothing says.

    Attributes:
        tmin_c: Lowest temperature, °C.
        tmax_c: Highest, °C.
        wind_ms: Mean wind, m/s.
        gust_ms: Strongest gust, m/s.
        rain_mm: Rain, mm.
        sun_h: Hours of sun.
        measured: Whether its temperature was measured.
        night_behind: Whether its lowest is that of the night that ended on its morning.
        issued: When the forecast was made that the rest is from; empty where all was measured.
        source: The file, or that it was written down.
    """

    tmin_c: float | None = None
    tmax_c: float | None = None
    wind_ms: float | None = None
    gust_ms: float | None = None
    rain_mm: float | None = None
    sun_h: float | None = None
    measured: bool = False
    night_behind: bool = False
    issued: str = ""
    source: str = ""


Weather = Mapping[date, KnownDay]


class _Told(Struct, frozen=True):
    """What one voice says of a day."""

    values: Mapping[str, float]
    issued: str | None
    source: str
    of_nights: bool = False


def tonight(weather: Weather, today: date) -> float | None:
    """The lowest that is expected tonight, °C: the colder of today's and tomorrow's minimum.

    The coldest hour may lie on either side of midnight. A minimum of today that was measured, or
    folded from hours, is that of the night that is behind.
    """
    days = [weather.get(today + timedelta(days=step)) for step in (0, 1)]
    if days[0] is not None and days[0].night_behind:
        days = days[1:]
    return min((one.tmin_c for one in days if one and one.tmin_c is not None), default=None)


def forecasts_of(journal: Journal, until: date | None = None) -> dict[date, Forecast]:
    """The latest forecast of each day that was written down, by day.

    Args:
        journal: All entries.
        until: Leaves out what was written after that day.
    """
    found: dict[date, Forecast] = {}
    for subject in journal.of:
        if subject[0] != "day":
            continue
        for entry in journal.in_force(subject):
            if isinstance(entry, Forecast) and (until is None or entry.at.date() <= until):
                found[entry.day] = entry
    return found


def known_weather(
    typed: Mapping[date, Forecast], files: Iterable["WeatherFile"], today: date
) -> dict[date, KnownDay]:
    """The weather as it is known on a day, by day.

    Args:
        typed: What was written down, by day.
        files: Those of the season's weather folder.
        today: The day: forecasts made later and days measured later are not known yet.
    """
    voices: dict[date, list[_Told]] = {}
    for file in files:
        for issue in file.issues:
            for day, told in _of_issue(issue, file.name, today):
                voices.setdefault(day, []).append(told)
    for day, entry in typed.items():
        found = ((key, getattr(entry, key)) for key in ELEMENTS)
        values: dict[str, float] = {key: value for key, value in found if value is not None}
        # Of a file's forecast of the same day the grower's own word is the later one.
        issued = f"{entry.at:%Y-%m-%dT%H:%M}"
        voices.setdefault(day, []).append(_Told(values, issued, WRITTEN_DOWN))
    return {day: _joined(voices[day]) for day in sorted(voices)}


def _of_issue(issue: "Issue", name: str, today: date) -> Iterator[tuple[date, _Told]]:
    if issue.issued is not None and issue.issued[:10] > today.isoformat():
        return
    last = today if issue.issued is None else today + timedelta(days=_DAYS_AHEAD)
    first = (today - timedelta(days=_DAYS_BACK)).toordinal()
    for day in range(first, last.toordinal() + 1):
        values = dict[str, float](_values(issue, day))
        if values:
            of_nights = issue.issued is None or issue.days.of_nights
            yield date.fromordinal(day), _Told(values, issue.issued, name, of_nights)


def _values(issue: "Issue", day: int) -> Iterator[tuple[Element, float]]:
    low = issue.days.tmin_tenths.get(day)
    if low is not None and COLDEST_TENTHS <= low <= WARMEST_TENTHS:
        yield "tmin_c", low / 10
    for element, values in issue.days.others.items():
        value = values.get(day)
        if value is not None:
            yield element, value


def _joined(voices: list[_Told]) -> KnownDay:
    """One day as its voices tell it together, what counts most last."""
    ordered = sorted(voices, key=lambda one: (one.issued is None, one.issued or ""))
    values: dict[str, float] = {}
    night_behind = False
    for one in ordered:
        values |= one.values
        night_behind = one.of_nights if "tmin_c" in one.values else night_behind
    measured = [one for one in ordered if one.issued is None]
    temperatures = {key for one in measured for key in one.values} & {"tmin_c", "tmax_c"}
    forecast = [one for one in ordered if one.issued is not None]
    return KnownDay(
        **values,
        measured=bool(temperatures),
        night_behind=night_behind,
        issued=(forecast[-1].issued or "") if forecast else "",
        source=(measured or forecast)[-1].source,
    )
