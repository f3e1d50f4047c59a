"""The lamps of a station as they were set, from when on: the plan, then what was adjusted."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import groupby
from typing import NamedTuple

from msgspec import structs

from seedstart.growing.light.dose import MOL_PER_UMOL_HOUR
from seedstart.growing.light.over_shelf import Emitter, Patch, hung
from seedstart.season.journal.entries import Adjusted
from seedstart.season.plan.lamps import Lamp
from seedstart.season.plan.stations import Station


class LampsSince(NamedTuple):
    """The lamps of a station from one moment on.

    Attributes:
        since: None from the beginning.
        lamps: As they are set.
        height_set: When their height over the leaves was last set; None for the plan's.
    """

    since: datetime | None
    lamps: tuple[Lamp, ...]
    height_set: datetime | None = None


def lamps_since(station: Station, settings: Iterable[Adjusted]) -> tuple[LampsSince, ...]:
    """How the lamps were set, one after the other.

    Args:
        station: As it is planned.
        settings: What was adjusted there, in order of (at, id).
    """
    found = [LampsSince(None, station.lamps)]
    for setting in settings:
        set_values = {
            key: value
            for key, value in (
                ("hours", setting.lamp_hours),
                ("height_mm", setting.lamp_height_mm),
                ("dimming_percent", setting.lamp_percent),
            )
            if value is not None
        }
        if set_values and station.lamps:
            lamps = tuple(structs.replace(lamp, **set_values) for lamp in found[-1].lamps)
            height = setting.at if "height_mm" in set_values else found[-1].height_set
            found.append(LampsSince(setting.at, lamps, height))
    return tuple(found)


def lamps_at(found: Sequence[LampsSince], at: datetime | None = None) -> LampsSince:
    """How they were set at a moment; now, without one."""
    if at is None:
        return found[-1]
    return next(
        setting for setting in reversed(found) if setting.since is None or setting.since <= at
    )


def lamps_between(
    found: Sequence[LampsSince], since: datetime, until: datetime
) -> Iterator[tuple[float, LampsSince]]:
    """How they were set between two moments: days, and the setting that held for so long."""
    begins = [
        since,
        *(setting.since for setting in found if setting.since and since < setting.since < until),
    ]
    for begin, end in zip(begins, [*begins[1:], until], strict=True):
        days = (end - begin).total_seconds() / 86_400
        if days > 0:
            yield days, lamps_at(found, begin)


def shelf_of(station: Station) -> Patch | None:
    """The whole station; None where its size is not said."""
    return Patch(0.0, 0.0, *station.area_m) if station.area_m is not None else None


def emitters(
    lamps: Iterable[Lamp], shelf: Patch, *, height_mm: float | None = None
) -> list[Emitter]:
    """The lamps where they hang, with the flux that they give as they are dimmed, µmol s⁻¹.

    Args:
        lamps: None of them may miss what `Lamp.missing` names.
        shelf: Over what they hang.
        height_mm: Over the leaves, of all of them, instead of their own.
    """
    return [emitter for emitter, _ in _hung(lamps, shelf, height_mm)]


def dosers(lamps: Iterable[Lamp], shelf: Patch, *, height_mm: float | None = None) -> list[Emitter]:
    """Emitters giving mol a day instead of µmol a second: each lamp burns its own hours."""
    return [
        emitter._replace(ppf_umol_s=emitter.ppf_umol_s * (lamp.hours or 0) * MOL_PER_UMOL_HOUR)
        for emitter, lamp in _hung(lamps, shelf, height_mm)
    ]


def _hung(
    lamps: Iterable[Lamp], shelf: Patch, height_mm: float | None
) -> Iterator[tuple[Emitter, Lamp]]:
    """Lamps alike are one table of season.toml, and hang together."""
    for lamp, alike in groupby(lamps):
        flux = lamp.full_flux
        high = height_mm or lamp.height_mm
        if flux is None or lamp.length_m is None or high is None:
            raise ValueError(f"a lamp of known flux, length and height; missing {lamp.missing()}")
        given = flux.value * (lamp.dimming_percent or 100) / 100
        width = lamp.width_m or 0.0
        like = Emitter(lamp.kind, given, lamp.length_m, 0, 0, high / 1000, width)
        spacing = lamp.spacing_m or 0.0
        number = len(list(alike))
        for emitter in hung(like, number, shelf, lines=lamp.lines, spacing_m=spacing):
            yield emitter, lamp
