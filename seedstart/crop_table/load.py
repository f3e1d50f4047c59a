"""Crop files → the crop table, checked whole: every fault of every file at once."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any, Final

import msgspec
import tomli
from msgspec import Struct

from seedstart.crop_table.crop import Crop, EmergenceTable, Figure, Source
from seedstart.crop_table.faults import faults_of
from seedstart.problems import BadInputError, Problem
from seedstart.text import clean, folded
from seedstart.units import COLDEST_C, HOTTEST_C

SOURCES_FILE: Final = "sources.toml"
# Weeks and days outside these are slips of the pen; seeds per gram reach 100 000 (begonia).
_BOUNDS: Final[dict[str, tuple[float, float]]] = {
    "weeks_before_last_frost": (-10, 40),
    "set_out_weeks": (-20, 20),
    "weeks_indoors": (0, 40),
    "sow_outdoors_weeks": (-20, 20),
    "lowest_c": (COLDEST_C, HOTTEST_C),
    "fastest_c": (COLDEST_C, HOTTEST_C),
    "highest_c": (COLDEST_C, HOTTEST_C),
    "tray_c": (COLDEST_C, HOTTEST_C),
    "set_out_soil_c": (COLDEST_C, HOTTEST_C),
    "night_unhardened_c": (COLDEST_C, HOTTEST_C),
    "night_hardened_c": (COLDEST_C, HOTTEST_C),
    "bolts_below_c": (COLDEST_C, HOTTEST_C),
    "bolts_after_days": (1, 100),
    "days_in_trays": (0.5, 400),
    "first_to_last": (1.01, 20),
    "depth_mm": (0, 200),
    "seeds_per_gram": (0.01, 200_000),
    "seed_life_years": (0.1, 100),
    "minimum_germination_percent": (0, 100),
    "seedlings_per_seed": (1, 20),
}


class CropTable(Struct, frozen=True, dict=True):
    """The crops by name, and the sources by key."""

    crops: dict[str, Crop]
    sources: dict[str, Source]

    @cached_property
    def by_name(self) -> dict[str, Crop]:
        """The crops by all their names, folded."""
        crops = self.crops.values()
        return {folded(name): crop for crop in crops for name in (crop.name, *crop.also)}


def load_crops(shipped: Mapping[str, bytes], own: Mapping[str, bytes] | None = None) -> CropTable:
    """The crop table from the shipped files and a season's own.

    Args:
        shipped: Files by name, `sources.toml` among them.
        own: A season's own crop files: new crops, or single keys of a shipped one changed.
            A figure may be a bare number there, a source any text.

    Raises:
        BadInputError: Everything wrong in all of the files.
    """
    problems: list[Problem] = []
    tables = {name: _parsed(f"crops/{name}", data, problems) for name, data in shipped.items()}
    sources = _sources(tables.pop(SOURCES_FILE, {}), problems)
    crops: dict[str, Crop] = {}
    files: dict[str, str] = {}
    raw = {str(table.get("name")): table for table in tables.values()}
    for name, table in tables.items():
        _take(table, f"crops/{name}", sources, crops, files, problems)
    for name, data in (own or {}).items():
        file = f"the season's crops/{name}"
        table = _with_own_figures(_parsed(file, data, problems), sources)
        merged = raw.get(str(table.get("name")), {}) | table
        files.pop(str(table.get("name")), None)
        _take(merged, file, sources, crops, files, problems)
    problems += _names_that_clash(crops, files)
    if problems:
        raise BadInputError(problems)
    return CropTable(crops, sources)


def _parsed(file: str, data: bytes, problems: list[Problem]) -> dict[str, Any]:
    try:
        return tomli.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        problems.append(Problem(file=file, line=line, hint="Save the file as UTF-8."))
    except tomli.TOMLDecodeError as error:
        problems.append(Problem(file=file, line=error.lineno, hint=f"Not TOML: {error.msg}."))
    except (RecursionError, ValueError) as error:  # too deep, or a number that is too long
        hint = f"Not TOML as a crop is written: {str(error).split(';')[0]}."
        problems.append(Problem(file=file, hint=hint))
    return {}


def _sources(table: dict[str, Any], problems: list[Problem]) -> dict[str, Source]:
    try:
        return msgspec.convert(table, dict[str, Source])
    except msgspec.ValidationError:
        for key, value in table.items():
            problems += faults_of(value, Source, f"crops/{SOURCES_FILE}", key)
        return {}


def _take(
    table: dict[str, Any],
    file: str,
    sources: Mapping[str, Source],
    crops: dict[str, Crop],
    files: dict[str, str],
    problems: list[Problem],
) -> None:
    """Check one crop's table and put it under its name."""
    if not table:
        return
    try:
        crop = msgspec.convert(table, Crop)
    except msgspec.ValidationError:
        problems += faults_of(table, Crop, file)
        return
    found = list(_wrong_figures(crop, file, sources))
    problems += found
    if crop.name in files:
        problems.append(_named_twice(crop.name, file, files[crop.name]))
    elif not found:
        crops[crop.name], files[crop.name] = crop, file


def _wrong_figures(crop: Crop, file: str, sources: Mapping[str, Source]) -> Iterator[Problem]:
    for key, (least, most) in _BOUNDS.items():
        figure: Figure | None = getattr(crop, key)
        if figure is None:
            continue
        if not figure.low <= figure.best <= figure.high:
            found = f"low {figure.low:g}, best {figure.best:g}, high {figure.high:g}"
            yield Problem(file=file, key=key, found=found, allowed=("low ≤ best ≤ high",))
        for end in {figure.low, figure.best, figure.high}:
            if not least <= end <= most:
                allowed = (f"{least:g} to {most:g}",)
                yield Problem(file=file, key=key, found=f"{end:g}", allowed=allowed)
        yield from _unknown_sources(figure.sources, file, key, sources)
    if not crop.lowest_c.best < crop.fastest_c.best <= crop.highest_c.best:
        found = f"{crop.lowest_c.best:g}, {crop.fastest_c.best:g}, {crop.highest_c.best:g}"
        allowed = ("lowest_c < fastest_c ≤ highest_c",)
        yield Problem(file=file, key="fastest_c", found=found, allowed=allowed)
    if not crop.lowest_c.best <= crop.tray_c.best <= crop.highest_c.best:
        allowed = (f"within the limits, {crop.lowest_c.best:g} to {crop.highest_c.best:g}",)
        yield Problem(file=file, key="tray_c", found=f"{crop.tray_c.best:g}", allowed=allowed)
    if crop.emergence is None and crop.days_in_trays is None:
        hint = "A crop needs an [emergence] table or days_in_trays."
        yield Problem(file=file, key="days_in_trays", hint=hint)
    if crop.emergence is not None:
        yield from _wrong_table(crop.emergence, file)
        yield from _unknown_sources(crop.emergence.sources, file, "emergence", sources)
    if crop.shares is not None:
        soil_c, percent = crop.shares.soil_c, crop.shares.percent
        if len(soil_c) != len(percent) or list(soil_c) != sorted(set(soil_c)):
            hint = "soil_c rises, and percent has one value a temperature."
            yield Problem(file=file, key="shares", hint=hint)
        yield from _unknown_sources(crop.shares.sources, file, "shares", sources)
    for number, lot in enumerate(crop.own_lots, 1):
        if not 0 <= lot.up <= lot.seeds or not lot.seeds:
            key, found = f"own_lots[{number}].up", f"{lot.up} of {lot.seeds}"
            yield Problem(file=file, key=key, found=found, allowed=("0 up to its seeds",))
    if crop.name != folded(clean(crop.name)):
        allowed = ("a name in lower case, without control characters",)
        yield Problem(file=file, key="name", found=crop.name, allowed=allowed)


def _unknown_sources(
    keys: tuple[str, ...], file: str, where: str, sources: Mapping[str, Source]
) -> Iterator[Problem]:
    for key in keys:
        if key not in sources:
            yield Problem(
                file=file,
                key=f"{where}.sources",
                found=key,
                allowed=tuple(sources),
                listed_by="crops/sources.toml",
            )


def _wrong_table(table: EmergenceTable, file: str) -> Iterator[Problem]:
    lengths = {len(table.soil_c), len(table.days), len(table.normal_percent or table.days)}
    if len(lengths) > 1:
        hint = "soil_c, days and normal_percent have one value a temperature each."
        yield Problem(file=file, key="emergence", hint=hint)
    if list(table.soil_c) != sorted(set(table.soil_c)):
        yield Problem(file=file, key="emergence.soil_c", allowed=("temperatures that rise",))
    days = [value for value in table.days if not isinstance(value, str)]
    if not days or min(days) <= 0:
        yield Problem(file=file, key="emergence.days", allowed=("at least one figure above 0",))


def _with_own_figures(table: dict[str, Any], sources: dict[str, Source]) -> dict[str, Any]:
    """A season's own crop file with bare numbers made figures, and its sources let in as texts."""
    whole = dict(table)
    if whole.get("light") == "either":  # the word of version 0.1.0 for seed that is just covered
        whole["light"] = "cover"
    for key in _BOUNDS:
        value = whole.get(key)
        if isinstance(value, int | float) and not isinstance(value, bool):
            whole[key] = {"best": value, "low": value, "high": value, "basis": "own"}
    for value in whole.values():
        named = value.get("sources", ()) if isinstance(value, dict) else ()
        for text in named if isinstance(named, list) else ():
            if isinstance(text, str):
                sources.setdefault(text, Source(text=clean(text), institution=clean(text)))
    return whole


def _named_twice(name: str, file: str, other: str) -> Problem:
    return Problem(file=file, key="name", found=name, hint=f"{other} has the same name.")


def _names_that_clash(crops: Mapping[str, Crop], files: Mapping[str, str]) -> list[Problem]:
    owner: dict[str, str] = {}
    problems = []
    for crop in crops.values():
        for name in {folded(crop.name), *map(folded, crop.also)}:
            if owner.setdefault(name, crop.name) != crop.name:
                hint = f"{owner[name]} bears the name too."
                file = files.get(crop.name, "crops")
                problems.append(Problem(file=file, key="also", found=name, hint=hint))
    return problems
