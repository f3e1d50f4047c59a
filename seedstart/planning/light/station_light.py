"""Light over a station as its lamps are set now: from their packets, put right by readings."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from math import hypot
from types import MappingProxyType
from typing import Final, Literal, NamedTuple
from zoneinfo import ZoneInfo

from msgspec import Struct

from seedstart.growing.light.daylight import Dose, day_length_hours, window_dli_mol
from seedstart.growing.light.dose import MOL_PER_UMOL_HOUR, dli_mol
from seedstart.growing.light.needs import LEAST_SHARE, LightNeed, need_of_all
from seedstart.growing.light.over_shelf import (
    Emitter,
    Field,
    Patch,
    field_over,
    grid_over,
    mean_over,
)
from seedstart.season.journal.entries import Adjusted, Read
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Series
from seedstart.season.plan.lamps import Lamp
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import Station
from seedstart.tracking.lamp_settings import (
    LampsSince,
    dosers,
    emitters,
    lamps_at,
    lamps_since,
    shelf_of,
)
from seedstart.tracking.light_readings import (
    LIGHT,
    Scale,
    logged_light,
    ppfd_of,
    scale_by_readings,
)
from seedstart.tracking.place import Place
from seedstart.tracking.records import Records

Logged = Mapping[tuple[str, Quantity], Series]
Verdict = Literal["too dark", "dark at the edge", "enough", "more than needed", "day too long"]
# What a tray at the edge gets is the mean over its footprint, in the darkest corner: half a seed
# tray, 24 × 19 cm (docs/formats.md).
EDGE_TRAY_M: Final = (0.24, 0.19)
COLUMNS, LINES = 12, 5


class ReadDose(NamedTuple):
    """The DLI at the leaf by a grower's own readings.

    Attributes:
        mol: mol m⁻² d⁻¹, over the station.
        number: How many readings it rests on.
        last: When the latest was made.
    """

    mol: float
    number: int
    last: datetime


class StationLight(Struct, frozen=True, kw_only=True):
    """Light over one station.

    Attributes:
        station: Which.
        lamps: Its lamps as they are set.
        since: When their height over the leaves was last said; None for the plan's.
        missing: What nobody has said and the light hangs on; the rest is empty then.
        shelf: The whole of it, metres.
        ppfd: Over the shelf, µmol m⁻² s⁻¹, as readings have put it right.
        grid: PPFD in the middles of cells, the line at the back first.
        dose: DLI of the lamps over the shelf, mol m⁻² d⁻¹.
        edge_mol: DLI of a tray in the darkest corner.
        window: DLI of the window besides; None without one, or without a latitude.
        day_hours: Length of the day outdoors, where there is a window.
        scale: What the readings say of the packets.
        error: How far all of it may be off, as a share.
        need: What the crops that stand there want.
        crops: Those crops; none: any seedlings'.
        kwh_a_day: Of the lamps; None where their watts are not said.
    """

    station: Station
    lamps: tuple[Lamp, ...]
    since: datetime | None = None
    missing: tuple[str, ...] = ()
    shelf: Patch = Patch(0, 0, 1, 1)
    ppfd: Field = Field(0, 0, 0, 0, 0)
    grid: tuple[tuple[float, ...], ...] = ()
    dose: Field = Field(0, 0, 0, 0, 0)
    edge_mol: float = 0.0
    window: Dose | None = None
    day_hours: float | None = None
    scale: Scale = Scale()
    error: float = 0.0
    need: LightNeed
    crops: tuple[str, ...] = ()
    kwh_a_day: float | None = None

    @property
    def hours(self) -> float:
        """The longest that a lamp burns."""
        return max((lamp.hours or 0 for lamp in self.lamps), default=0)

    @property
    def height_mm(self) -> float | None:
        """Of the lowest lamp over the leaves."""
        return min((lamp.height_mm for lamp in self.lamps if lamp.height_mm), default=None)

    @property
    def mean_mol(self) -> float:
        """DLI at the leaf, lamp and window together."""
        return self.dose.mean + (self.window.likely if self.window else 0.0)

    @property
    def verdict(self) -> Verdict:
        """How that suits what stands there."""
        return verdict_of(
            self.mean_mol,
            self.edge_mol + (self.window.likely if self.window else 0.0),
            self.hours,
            self.need,
        )


def verdict_of(mean_mol: float, edge_mol: float, hours: float, need: LightNeed) -> Verdict:
    """How a DLI and a day suit a need; the day first, for it hurts."""
    if hours > need.longest_hours:
        return "day too long"
    if round(mean_mol, 1) < need.low_mol:
        return "too dark"
    if edge_mol < LEAST_SHARE * need.low_mol:
        return "dark at the edge"
    return "more than needed" if round(mean_mol, 1) > need.high_mol else "enough"


def light_over(
    station: Station,
    *,
    crops: Iterable[str] = (),
    settings: Iterable[Adjusted] = (),
    readings: Iterable[Read] = (),
    logged: Logged = MappingProxyType({}),
    zone: str = "UTC",
    latitude_deg: float | None = None,
    today: date,
) -> StationLight:
    """Light over a station as it is now.

    Args:
        station: As it is planned.
        crops: What stands or is to stand there.
        settings: What was adjusted there, in order.
        readings: What was read there by hand, in order.
        logged: What loggers measured.
        zone: Of the season.
        latitude_deg: For the window.
        today: For the window.
    """
    found = lamps_since(station, settings)
    now, crops = lamps_at(found), tuple(sorted(set(crops)))
    need, missing = need_of_all(crops), _missing(station, now.lamps)
    shelf = shelf_of(station)
    if missing or shelf is None:
        return StationLight(
            station=station, lamps=now.lamps, missing=missing, need=need, crops=crops
        )
    until = datetime.combine(today + timedelta(days=1), time(), ZoneInfo(zone))
    by_loggers = logged_light(station, found, logged, until)
    scale = scale_by_readings(station, found, readings, by_loggers)
    share, has_latitude = station.daylight_percent, latitude_deg is not None
    return _lit(
        StationLight(
            station=station,
            lamps=now.lamps,
            since=now.height_set,
            shelf=shelf,
            scale=scale,
            error=scale.error if scale.number else _packet_error(now),
            need=need,
            crops=crops,
            window=window_dli_mol(latitude_deg or 0, today, share / 100)
            if share and has_latitude
            else None,
            day_hours=day_length_hours(latitude_deg or 0, today)
            if share and has_latitude
            else None,
        )
    )


def _lit(light: StationLight) -> StationLight:
    """The map, the doses and the electricity of lamps of which nothing is missing."""
    from msgspec.structs import replace

    hanging = scaled(emitters(light.lamps, light.shelf), light.scale.factor)
    dosing = scaled(dosers(light.lamps, light.shelf), light.scale.factor)
    ppfd, hours = field_over(hanging, light.shelf), {lamp.hours for lamp in light.lamps}
    return replace(
        light,
        ppfd=ppfd,
        grid=grid_over(hanging, light.shelf, COLUMNS, LINES),
        dose=ppfd.times(light.hours * MOL_PER_UMOL_HOUR)
        if len(hours) == 1
        else field_over(dosing, light.shelf),
        edge_mol=edge_of(dosing, light.shelf),
        kwh_a_day=kwh_a_day(light.lamps),
    )


def scaled(lamps: Iterable[Emitter], factor: float) -> list[Emitter]:
    """Lamps that give so many times as much."""
    return [one._replace(ppf_umol_s=one.ppf_umol_s * factor) for one in lamps]


def edge_of(lamps: Sequence[Emitter], patch: Patch) -> float:
    """The mean over a small tray in the darkest corner of a patch."""
    along, across = min(EDGE_TRAY_M[0], patch.length_m), min(EDGE_TRAY_M[1], patch.width_m)
    right = patch.x_m + patch.length_m - along
    back = patch.y_m + patch.width_m - across
    corners = [(x, y) for x in (patch.x_m, right) for y in (patch.y_m, back)]
    return min(mean_over(lamps, Patch(x, y, along, across)) for x, y in corners)


def kwh_a_day(lamps: Iterable[Lamp]) -> float | None:
    """Electricity of lamps a day; that of a dimmed lamp falls with its light (common practice)."""
    total = 0.0
    for lamp in lamps:
        if lamp.watts is None:
            return None
        total += lamp.watts * (lamp.dimming_percent or 100) / 100 * (lamp.hours or 0) / 1000
    return total


def _packet_error(now: LampsSince) -> float:
    """Packets are off by so much; where lamps hang and how they shine, by a tenth again."""
    of_flux = max(lamp.full_flux.error for lamp in now.lamps if lamp.full_flux is not None)
    return hypot(of_flux, 0.10)


def _missing(station: Station, lamps: Sequence[Lamp]) -> tuple[str, ...]:
    if not lamps:
        return ("lamps",)
    keys = [f"lamps: {key}" for lamp in lamps for key in lamp.missing()]
    area = [] if station.area_m else ["area"]
    return tuple(dict.fromkeys([*area, *keys]))


def crops_at(station: str, season: Season, records: Records) -> tuple[str, ...]:
    """The crops whose seedlings stand at a station."""
    found = set()
    for sowing in records.sowings_in(("station", station)):
        one = records.standings[sowing]
        crop = season.crop_of(records.lot_of(sowing))
        if crop is not None and one.standing and one.alive:
            found.add(crop.name)
    return tuple(sorted(found))


def light_at(
    station: Station,
    season: Season,
    records: Records,
    today: date,
    *,
    crops: Sequence[str] = (),
    logged: Logged = MappingProxyType({}),
    tried: Sequence[Adjusted] = (),
) -> StationLight:
    """Light over a station of a season.

    Args:
        station: As it is planned.
        season: The plan.
        records: What happened.
        today: For the window.
        crops: For these; for what stands there, without any.
        logged: What loggers measured.
        tried: Settings as if they had been made.
    """
    place = records.place(("station", station.name))
    return light_over(
        station,
        crops=crops or crops_at(station.name, season, records),
        settings=(*place.settings, *tried),
        readings=place.readings,
        logged=logged,
        zone=season.zone,
        latitude_deg=season.latitude_deg,
        today=today,
    )


def read_dose(station: Station, place: Place, logged: Logged, until: datetime) -> ReadDose | None:
    """The DLI at a station by what was read there, under the lamps as they are set now.

    Where size or lamps are not described, the mean of the readings since the lamps were last set.

    Args:
        station: As it is planned.
        place: What was read and set there.
        logged: What loggers measured.
        until: Later readings of theirs do not count.

    Returns:
        None without a reading that says something, or without hours of light.
    """
    if not station.lamps:
        return None
    found = lamps_since(station, place.settings)
    by_loggers = logged_light(station, found, logged, until)
    light = [one for one in place.readings if one.quantity in LIGHT]
    if not light and not by_loggers:
        return None
    lamps, shelf = found[-1].lamps, shelf_of(station)
    if shelf is not None and not _missing(station, lamps):
        scale = scale_by_readings(station, found, light, by_loggers)
        if scale.last is None:
            return None
        dosing = scaled(dosers(lamps, shelf), scale.factor)
        return ReadDose(mean_over(dosing, shelf), scale.number, scale.last)
    hours, since = lamps[0].hours, found[-1].since
    read = [
        (ppfd[0], one.at)
        for one in [*light, *by_loggers]
        if (since is None or one.at >= since) and (ppfd := ppfd_of(one, lamps)) is not None
    ]
    if not read or hours is None:
        return None
    mean = sum(ppfd for ppfd, _ in read) / len(read)
    return ReadDose(dli_mol(mean, hours), len(read), read[-1][1])
