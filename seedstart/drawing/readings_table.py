"""Readings as lines: the last of each series, and what was made of a logger's file."""

from datetime import datetime, tzinfo

from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.season.loggers import Understood
from seedstart.season.series import Readings, Series
from seedstart.text import plural
from seedstart.units import Units, show_temperature

_STATION, _QUANTITY, _VALUE = 18, 12, 12
_UNITS = {
    "ppfd_umol": "µmol/m²s",
    "lux": "lx",
    "dli_mol": "mol/m²d",
    "rh_percent": "%",
    "ec_ms_cm": "mS/cm",
    "ph": "",
}


def readings_lines(
    readings: Readings, zone: tzinfo, units: Units = "metric", width: int = 80
) -> list[Line]:
    """A line a series: its last good reading, when, how many there are, how many are in doubt."""
    if not readings:
        text = "No logger files yet: `seedstart readings add FILE` takes one in."
        return wrapped(text, width)
    head = f"  {'station':<{_STATION}} {'quantity':<{_QUANTITY}} {'last':<{_VALUE}} when, how many"
    lines: list[Line] = [(Span(head, "quiet"),)]
    for series in readings.values():
        good = series.good()
        last = good if len(good) else series
        at = datetime.fromtimestamp(last.at_s[-1], zone)
        doubt = len(series) - len(good)
        marked = f", {doubt} in doubt" if doubt else ""
        value = show_value(series.quantity, last.value[-1], units)
        lines.append(
            plain(
                f"  {fitted(series.station, _STATION)} {series.quantity:<{_QUANTITY}} "
                f"{value:<{_VALUE}} {at:%Y-%m-%d %H:%M}, {len(series)} readings{marked}"
            )
        )
    return lines


def show_value(quantity: str, value: float, units: Units = "metric") -> str:
    """A reading with its unit."""
    if quantity in {"soil_c", "air_c"}:
        return show_temperature(round(value, 1), units)
    return f"{value:.4g} {_UNITS.get(quantity, '')}".rstrip()


def understood_lines(
    found: Understood, fresh: Readings, units: Units = "metric", width: int = 80
) -> list[Line]:
    """What was made of a file, to be looked at before it is kept."""
    lines = [heading(found.file)]
    span = ""
    if found.first and found.last:
        span = f", {found.first:%Y-%m-%d %H:%M} to {found.last:%Y-%m-%d %H:%M}"
    order = f", dates are {found.order}" if found.order else ""
    zone = f", clock in {found.zone}" if found.zone else ", times with their offset"
    text = f"{plural(found.rows, 'row')} parted by {found.separator}{span}{order}{zone}."
    lines += wrapped(text, width, indent="  ")
    for column in found.columns:
        lines.append(plain(f"  column {column.header!r}: {column.role}"))
    for one in found.shown:
        value = show_value(one.quantity or "", one.value, units)
        where = one.station or "?"
        lines.append(plain(f"  line {one.line:>7}  {one.at:%Y-%m-%d %H:%M %z}  {where}  {value}"))
    for problem in found.problems:
        lines += wrapped(f"! {problem}", width, indent="  ", role="warn")
    lines += [_series_line(series) for series in fresh.values()]
    return lines


def _series_line(series: Series) -> Line:
    counts: dict[str, int] = {}
    for mark in series.marks:
        if mark:
            counts[mark] = counts.get(mark, 0) + 1
    marks = ", ".join(f"{count} {mark.replace('_', ' ')}" for mark, count in counts.items())
    doubt = f"; marked: {marks}" if marks else ""
    return plain(f"  {series.station}, {series.quantity}: {len(series)} new readings{doubt}")
