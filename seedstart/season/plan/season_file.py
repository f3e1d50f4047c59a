"""season.toml and lots.toml → the plan of a season, every fault of both files at once."""

from collections.abc import Callable, Sequence
from datetime import date
from functools import cached_property
from typing import Final, get_args
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop
from seedstart.crop_table.load import CropTable
from seedstart.days import WEEKDAYS
from seedstart.growing.frost import FrostRisk
from seedstart.problems import BadInputError, Problem, nearest_word
from seedstart.season.plan.checked import Fault, Table, key_of, placed_with, refuse_clashes
from seedstart.season.plan.lamps import Lamp
from seedstart.season.plan.lots import Known, Lot, read_lots
from seedstart.season.plan.names import Called, Names
from seedstart.season.plan.stations import (
    Container,
    Station,
    StationKind,
    Tray,
    read_container,
    read_places,
    with_shipped,
)
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.plan.typed_values import (
    RefusedError,
    between,
    day,
    full_text,
    number,
    one_of,
    quantity,
    text,
    whole,
)
from seedstart.season.trials.planned_test import PlannedTest
from seedstart.season.trials.trial_plan import TrialPlan
from seedstart.text import folded
from seedstart.units import Units, parse_temperature

__all__ = [
    "LOTS_FILE",
    "SEASON_FILE",
    "Container",
    "Frost",
    "Lamp",
    "Lot",
    "Season",
    "Station",
    "StationKind",
    "Tray",
    "known_in",
    "read_season",
]

SEASON_FILE: Final = "season.toml"
LOTS_FILE: Final = "lots.toml"

_WEEKDAYS_IN_FULL: Final = {
    "mon": "monday",
    "tue": "tuesday",
    "wed": "wednesday",
    "thu": "thursday",
    "fri": "friday",
    "sat": "saturday",
    "sun": "sunday",
}


class Frost(Struct, frozen=True):
    """The last frost that a season counts from.

    Attributes:
        last: The date; None where a record of daily minima gives it.
        risk_percent: Share of years with a frost after `last`: 50 is the average date.
        tender_risk_percent: The risk taken with tender plants; None where the crop's weeks decide.
        record: Files or folders of daily minima inside the season's folder.
        threshold_c: A day counts as a frost with its minimum at or below this, °C.
        year: The spring that dates from a record are for; None: the coming one.
        recorded: How the last frost is spread over the years of the record, once it was read.
    """

    last: date | None
    risk_percent: float = 50
    tender_risk_percent: float | None = None
    record: tuple[str, ...] = ()
    threshold_c: float = 0.0
    year: int | None = None
    recorded: FrostRisk | None = None


class Season(Struct, frozen=True, dict=True):
    """One grower's plan for one spring or autumn.

    Attributes:
        title: For the head of the calendar.
        zone: IANA time zone in which days begin.
        units: What the faces show, and what a bare number means.
        work_days: Weekdays (`wed`) on which the grower sows; none said: every day.
        away: First and last days on which nobody is there.
        said_frost: What season.toml says of the last frost; None where it has no frost date, as a
            seed library.
        stations: In walking order.
        containers: The season's own, then the shipped ones.
        lots: In the order of the file.
        crops: The crop table, the season's own crops in it.
        trays: Those with former names.
        trials: Planned trials, in order of their names.
        latitude_deg: Where it is, south negative; for the length of the day.
        price_per_kwh: What electricity costs, in `currency`.
        currency: As the grower writes it.
        tests: Planned germination tests, in order of their names.
        frost_of_record: Reads the dates of a record; None where season.toml names none.
    """

    title: str
    zone: str
    units: Units
    work_days: tuple[str, ...]
    away: tuple[tuple[date, date], ...]
    said_frost: Frost | None
    stations: tuple[Station, ...]
    containers: tuple[Container, ...]
    lots: tuple[Lot, ...]
    crops: CropTable
    trays: tuple[Tray, ...] = ()
    trials: tuple[TrialPlan, ...] = ()
    latitude_deg: float | None = None
    price_per_kwh: float | None = None
    currency: str = ""
    tests: tuple[PlannedTest, ...] = ()
    frost_of_record: Callable[[], Frost | None] | None = None

    @cached_property
    def frost(self) -> Frost | None:
        """What is said of the last frost, with the dates of its record: thirty years take a while.

        So a record is read when somebody first asks, and not by what needs names alone.
        """
        return self.frost_of_record() if self.frost_of_record else self.said_frost

    def with_frost(self, frost: Frost | None) -> "Season":
        """This season with another frost."""
        return structs.replace(self, said_frost=frost, frost_of_record=None)

    @cached_property
    def lots_by_name(self) -> dict[str, Lot]:
        """The lots by their present names."""
        return {lot.name: lot for lot in self.lots}

    @cached_property
    def stations_by_name(self) -> dict[str, Station]:
        """The stations by their present names, in walking order."""
        return {station.name: station for station in self.stations}

    def crop_of(self, lot: str | None) -> Crop | None:
        """The crop of a lot by its present name; None where the season does not list it."""
        known = self.lots_by_name.get(lot or "")
        return self.crops.crops.get(known.crop) if known else None

    @cached_property
    def called(self) -> Called:
        """Present names by present and former ones."""
        return Called.among(self.lots, self.stations, self.trays)


def read_season(season_toml: bytes, lots_toml: bytes, crops: CropTable) -> Season:
    """The season of two files.

    Args:
        season_toml: What stands in season.toml.
        lots_toml: What stands in lots.toml; may be empty.
        crops: The crop table that the lots' crops are looked up in.

    Raises:
        BadInputError: Everything wrong in both files, with key and line.
    """
    season, problems = _season(season_toml, crops)
    known = known_in(season) if season else Known(crops=crops)
    lots, more = read_lots(lots_toml, known, LOTS_FILE)
    if season is None or problems or more:
        raise BadInputError([*problems, *more])
    return structs.replace(season, lots=lots)


def known_in(season: Season) -> Known:
    """What the lots of a season may name."""
    return Known(
        crops=season.crops,
        units=season.units,
        stations=Names(season.stations),
        containers=tuple(container.name for container in season.containers),
    )


def _season(data: bytes, crops: CropTable) -> tuple[Season | None, list[Problem]]:
    """The season without its lots, as far as it can be read, and what is wrong in it."""
    try:
        parsed = parse_toml(data, SEASON_FILE)
    except BadInputError as error:
        return None, list(error.problems)
    faults: list[Fault] = []
    table = Table(parsed.values, faults)
    title = table.take("title", text, "")
    zone = table.need("timezone", zone_name, "UTC", what="an IANA time zone, e.g. Europe/Vienna")
    units: Units = table.take("units", one_of(get_args(Units)), "metric")
    season = Season(
        title=title,
        zone=zone,
        units=units,
        work_days=_work_days(table),
        away=table.take_list("away", _days_away),
        said_frost=_frost(table.table("frost", "[frost]"), units),
        stations=(),
        containers=_containers(table),
        lots=(),
        crops=crops,
        latitude_deg=table.take("latitude", number(-90, 90, "degrees, south negative,"), None),
        price_per_kwh=table.take("price_per_kwh", number(0, 1000), None),
        currency=table.take("currency", text, ""),
    )
    stations, trays = read_places(table, units)
    table.close()
    season = structs.replace(season, stations=stations, trays=trays)
    return season, placed_with(parsed, faults, SEASON_FILE)


def zone_name(value: object) -> str:
    """An IANA zone; another text is refused with the nearest."""
    name = text(value)
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        known = sorted(available_timezones())
        near = nearest_word(name, known) or _same_city(name, known)
        hint = f"Nearest: {near}." if near else ""
        raise RefusedError(allowed=("an IANA time zone, e.g. Europe/Vienna",), hint=hint) from None
    return name


def _same_city(name: str, zones: Sequence[str]) -> str | None:
    """The zone of a city that was written alone, or under the wrong part of the world."""
    city = name.rpartition("/")[2].strip().replace(" ", "_").casefold()
    return next((zone for zone in zones if zone.casefold().endswith(f"/{city}")), None)


def _work_days(table: Table) -> tuple[str, ...]:
    days = set(table.take_list("work_days", _weekday))
    return tuple(day for day in WEEKDAYS if day in days)


def _weekday(value: object) -> str:
    """A weekday by its first three letters, or in full."""
    word = folded(value) if isinstance(value, str) else ""
    if word[:3] in WEEKDAYS and _WEEKDAYS_IN_FULL[word[:3]].startswith(word):
        return word[:3]
    raise RefusedError(allowed=WEEKDAYS)


def _days_away(value: object) -> tuple[date, date]:
    if not isinstance(value, list) or len(value) != 2:
        raise ValueError('the first and the last day away, e.g. ["2027-03-20", "2027-03-30"]')
    first, last = (day(part) for part in value)
    if last < first:
        raise RefusedError(hint=f"The last day, {last}, lies before the first, {first}.")
    return first, last


def _frost(table: Table | None, units: Units) -> Frost | None:
    if table is None:
        return None
    if "last" not in table and "record" not in table:
        table.refuse(hint="Give the date of the last frost, last, or a record of daily minima.")
    if "last" in table and "record" in table:
        table.refuse("record", hint="Give last or record, not both: each says the date.")
    older = "trust_percent" if "trust_percent" in table else "tender_risk_percent"
    if older == "trust_percent" and "tender_risk_percent" in table:
        table.refuse("trust_percent", hint="It is the old name of tender_risk_percent: give one.")
    threshold = between(
        quantity(parse_temperature, units), -10, 10, "a temperature from -10C to 10C, e.g. 0C"
    )
    frost = Frost(
        last=table.take("last", day, None),
        risk_percent=table.take("risk_percent", _risk, 50.0),
        tender_risk_percent=table.take(older, _risk, None),
        record=table.take("record", _files, ()),
        threshold_c=table.take("threshold", threshold, 0.0),
        year=table.take("year", whole(1900, 2200, "the year of the spring"), None),
    )
    table.close()
    return frost


def _files(value: object) -> tuple[str, ...]:
    """Paths inside the season's folder: one, or a list of several."""
    files = tuple(map(full_text, value)) if isinstance(value, list) else (full_text(value),)
    for file in files:
        if file.startswith(("/", "\\", "~")) or ":" in file or ".." in file.split("/"):
            raise ValueError("a file or folder inside this season's folder, as weather/minima.csv")
    return files


def _risk(value: object) -> float:
    """A risk in percent, the sign left out or not."""
    bare = value.strip().removesuffix("%").strip() if isinstance(value, str) else value
    return number(1, 99, "a share of years in percent")(bare)


def _containers(table: Table) -> tuple[Container, ...]:
    read = [(keys, read_container(keys)) for keys in table.tables("container", "[[container]]")]
    refuse_clashes([(key_of(keys.path), keys, _Bearer(container.name)) for keys, container in read])
    return with_shipped([container for _, container in read])


class _Bearer(Struct, frozen=True):
    """A name that has no former ones."""

    name: str
    was: tuple[str, ...] = ()
