"""The calendar of a frost date alone: a row for each crop."""

from collections.abc import Iterable
from datetime import date

from seedstart.cli.calendar_command import Dated
from seedstart.cli.crop_files import crop_table
from seedstart.crop_table.crop import Crop, Source
from seedstart.crop_table.find import find_crop
from seedstart.crop_table.load import CropTable
from seedstart.days import parse_day
from seedstart.planning.calendar.frost_dates import FrostDates, frost_dates
from seedstart.planning.calendar.row import Row
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.sowing_request import Ask, Where, tray_setting
from seedstart.problems import Typed
from seedstart.units import Temperatures, Units, parse_risk, parse_temperatures


def bare_calendar(
    typed: Typed,
    last_frost: str,
    risk: str | None,
    names: tuple[str, ...],
    station_temperature: str | None,
    units: Units,
) -> Dated:
    """A row for each crop, without a season: at one temperature, or each at its tray setting."""
    table = crop_table()
    day = typed.read("--last-frost", last_frost, parse_day)
    share = typed.read("--risk", risk, parse_risk)
    medium = typed.read(
        "--station-temperature", station_temperature, lambda text: parse_temperatures(text, units)
    )
    crops = [typed.take(find_crop(table, name, file="--crop")) for name in names]
    typed.done()
    if day is None:
        raise ValueError("a day that could not be read has been refused")
    frost = frost_dates(day, 50 if share is None else share)
    chosen = list(dict.fromkeys(crop for crop in crops if crop)) or every_dated(table)
    rows = bare_rows(chosen, frost, medium, table.sources, units)
    return Dated(rows, frost, table.sources)


def every_dated(table: CropTable) -> list[Crop]:
    """The crops that get a date: raised indoors, or sown in place."""
    return [
        crop
        for crop in table.crops.values()
        if crop.weeks_before_last_frost is not None or crop.sow_outdoors_weeks is not None
    ]


def bare_rows(
    crops: Iterable[Crop],
    frost: FrostDates,
    medium: Temperatures | None,
    sources: dict[str, Source],
    units: Units = "metric",
) -> list[Row]:
    """A row for each crop: at one temperature, or each at its own mixed-tray setting."""
    where = Where("", medium) if medium else None
    asks = (
        Ask(crop=crop, where=where or tray_setting(crop), frost=frost, sources=sources, units=units)
        for crop in crops
    )
    rows = [plan(ask) for ask in asks]
    return sorted(rows, key=lambda row: (row.sow_day or date.max, row.crop))
