"""What the figures of a crop may be: their bounds, their order, sources that are known."""

from collections.abc import Iterator, Mapping
from typing import Final

from seedstart.crop_table.crop import Crop, EmergenceTable, Figure, Source
from seedstart.problems import Problem
from seedstart.text import clean, folded
from seedstart.units import COLDEST_C, HOTTEST_C

# Weeks and days outside these are slips of the pen; seeds per gram reach 100 000 (begonia).
BOUNDS: Final[dict[str, tuple[float, float]]] = {
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


def wrong_figures(crop: Crop, file: str, sources: Mapping[str, Source]) -> Iterator[Problem]:
    """What is wrong in the figures of one crop, and which of its sources nobody knows."""
    for key, (least, most) in BOUNDS.items():
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
