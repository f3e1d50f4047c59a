"""Daily files with a header as weather services hand them out: which it is, and what stands where.

Sources: the services' own descriptions of their files; tests/reference/weather_format_samples has
an invented file of each, and the minima that a reader must return.
"""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from seedstart.season.weather.cells import (
    TENTHS,
    Column,
    DayCells,
    Grid,
    compact_day,
    day_in_three,
    iso_day,
)

Unit = str  # C or F
KMH: Final = 1 / 3.6
_INCH_MM: Final = 25.4
_MPH_MS: Final = 0.44704
F_SCALE: Final = 5 / 9
F_SHIFT: Final = -32.0


class Layout(NamedTuple):
    """What stands where in a file with a header.

    Attributes:
        name: What kind of file it is, in words.
        day: Where the day stands.
        columns: What is read of it.
        station: The column that names the station; None where none does.
        notes: For the grower.
        needs_unit: Whether the file does not say what its temperatures are in.
    """

    name: str
    day: DayCells
    columns: tuple[Column, ...]
    station: int | None = None
    notes: tuple[str, ...] = ()
    needs_unit: bool = False


Heads = dict[str, int]


def published_layout(heads: Heads, grid: Grid, unit: Unit | None) -> Layout | None:
    """What a header of a published daily file says; None where it is none of them.

    Args:
        heads: Place of each column by its header, in lower case without blanks at the ends.
        grid: The rows under it: some headers are of two kinds of file.
        unit: Of temperatures that do not say it.
    """
    if {"mess_datum", "tnk"} <= heads.keys():
        return _dwd(heads)
    if "date/time" in heads and any(head.startswith("min temp (") for head in heads):
        return _environment_canada(heads)
    if {"year", "month", "day", "tmin"} <= heads.keys():
        return _meteostat(heads)
    if {"station", "date", "tmin"} <= heads.keys():
        if "tmin_attributes" in heads and _is_in_tenths(grid.column(heads["tmin"])):
            return _ghcn_access(heads)
        return _order_form(heads, grid, unit)
    return None


def _present(heads: Heads, columns: Sequence[tuple[str, Column]]) -> tuple[Column, ...]:
    """The columns that the file has."""
    return tuple(column._replace(place=heads[head]) for head, column in columns if head in heads)


def _dwd(heads: Heads) -> Layout:
    """Deutscher Wetterdienst, daily KL: TNK is the minimum at 2 m, TGK that at the ground."""
    columns = _present(heads, [
        ("tnk", Column("tmin_c", 0)), ("txk", Column("tmax_c", 0)), ("fm", Column("wind_ms", 0)),
        ("fx", Column("gust_ms", 0)), ("rsk", Column("rain_mm", 0)), ("sdk", Column("sun_h", 0)),
    ])  # fmt: skip
    name = "DWD daily climate (KL)"
    return Layout(
        name, DayCells((heads["mess_datum"],), compact_day), columns, heads.get("stations_id")
    )


# N and Y stand in the legend of the older files: "temperature missing but known to be > 0", "< 0".
_CANADA_FLAGS: Final = {"M": "failed", "N": "above", "Y": "below"}


def _environment_canada(heads: Heads) -> Layout:
    def place(start: str) -> int | None:
        return next((at for head, at in heads.items() if head.startswith(start)), None)

    found: list[Column] = []
    for start, element, scale in (
        ("min temp (", "tmin_c", 1.0),
        ("max temp (", "tmax_c", 1.0),
        ("total precip (", "rain_mm", 1.0),
        ("spd of max gust (", "gust_ms", KMH),
    ):
        at, flags = place(start), place(start.removesuffix("(") + "flag")
        if at is not None:
            flag = (lambda text: _CANADA_FLAGS.get(text.strip(), "")) if flags else (lambda _: "")
            found.append(Column(element, at, scale, 0.0, flags, flag))  # type: ignore[arg-type]
    day = DayCells((heads["date/time"],), iso_day)
    return Layout("Environment Canada daily", day, tuple(found), heads.get("climate id"))


def _meteostat(heads: Heads) -> Layout:
    """Daily CSV of Meteostat: a file a station and year; a source column marks what is modelled."""
    day = DayCells((heads["year"], heads["month"], heads["day"]), day_in_three)
    columns = _present(heads, [
        ("tmin", Column("tmin_c", 0)), ("tmax", Column("tmax_c", 0)),
        ("prcp", Column("rain_mm", 0)), ("wspd", Column("wind_ms", 0, KMH)),
        ("wpgt", Column("gust_ms", 0, KMH)),
        ("tsun", Column("sun_h", 0, 1 / 60)),
    ])  # fmt: skip
    return Layout("Meteostat daily", day, columns)


def _second_flag(text: str) -> str:
    """Whether the quality flag, second of "M,Q,S", says that a value failed a check."""
    parts = text.split(",")
    return "failed" if len(parts) > 1 and parts[1].strip() else ""


def _with_flags(heads: Heads, column: Column, head: str) -> Column:
    flags = heads.get(f"{head}_attributes")
    return column if flags is None else column._replace(flags=flags, flag=_second_flag)


def _ghcn_access(heads: Heads) -> Layout:
    columns = tuple(
        _with_flags(heads, Column(element, heads[head], TENTHS), head)  # type: ignore[arg-type]
        for head, element in (
            ("tmin", "tmin_c"), ("tmax", "tmax_c"), ("prcp", "rain_mm"), ("awnd", "wind_ms"),
            ("wsfg", "gust_ms"),
        )
        if head in heads
    )  # fmt: skip
    return Layout("GHCN-Daily CSV", DayCells((heads["date"],), iso_day), columns, heads["station"])


def _order_form(heads: Heads, grid: Grid, unit: Unit | None) -> Layout:
    """NOAA's order form: °C to a tenth or whole °F, as it was ordered; the file does not say."""
    needs_unit = unit is None
    if unit is None and any("." in cell for cell in grid.column(heads["tmin"])):
        unit, needs_unit = "C", False  # Fahrenheit comes in whole degrees
    shift, scale = (F_SHIFT, F_SCALE) if unit == "F" else (0.0, 1.0)
    rain, wind = (_INCH_MM, _MPH_MS) if unit == "F" else (1.0, 1.0)
    columns = tuple(
        _with_flags(heads, Column(element, heads[head], by, plus), head)  # type: ignore[arg-type]
        for head, element, by, plus in (
            ("tmin", "tmin_c", scale, shift), ("tmax", "tmax_c", scale, shift),
            ("prcp", "rain_mm", rain, 0.0), ("awnd", "wind_ms", wind, 0.0),
        )
        if head in heads
    )  # fmt: skip
    station = heads["station"]
    name = "NOAA order form"
    return Layout(
        name, DayCells((heads["date"],), iso_day), columns, station, needs_unit=needs_unit
    )


def _is_in_tenths(cells: Sequence[str]) -> bool:
    """Whether values are tenths of °C: whole numbers, and over a year some beyond any whole °F."""
    if any("." in cell for cell in cells):
        return False
    whole = [abs(int(cell)) for cell in cells if re.fullmatch(r" *-?[0-9]{1,3} *", cell)]
    return len(whole) < 300 or max(whole) > 130
