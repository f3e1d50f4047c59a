"""What the crop table rests on, and where it and its sources disagree."""

from collections import Counter
from collections.abc import Iterator

from crop_pooling.compute import crop_table
from crop_pooling.sources import by_key, institution_of, is_weak
from crop_pooling.weeks import printed_sow_weeks, printed_weeks_indoors
from seedstart.crop_table.crop import Crop, Figure

ENOUGH = 2
_FIGURES = (
    "weeks_before_last_frost",
    "set_out_weeks",
    "weeks_indoors",
    "sow_outdoors_weeks",
    "lowest_c",
    "fastest_c",
    "highest_c",
    "tray_c",
    "days_in_trays",
    "set_out_soil_c",
    "night_unhardened_c",
    "night_hardened_c",
    "depth_mm",
    "seeds_per_gram",
    "seed_life_years",
    "minimum_germination_percent",
)


def report() -> str:
    """Counts by basis, institutions behind the weeks, misses, ages against print, as text."""
    crops = list(crop_table().values())
    groups = Counter(crop.group for crop in crops)
    lines = [f"{len(crops)} crops: " + ", ".join(f"{n} {group}s" for group, n in groups.items())]
    lines += ["", *_by_basis(crops), "", *_institutions(crops)]
    missed, compared = list(misses()), sum(1 for _ in _compared())
    inside = f"{compared - len(missed)} of {compared} lie inside"
    lines += ["", f"Best weeks to sow, and the independent sources' own rows: {inside}.", *missed]
    lines += ["", *_ages(crops)]
    lines += ["", "Windows drawn in to 48 days:"]
    lines += [f"  {crop.name}" for crop in crops if "drawn in" in _note(crop)]
    return "\n".join(lines)


def misses() -> Iterator[str]:
    """Crops whose best weeks to sow no span of the independent sources' own rows holds."""
    for name, best, low, high in _compared():
        if not low - 0.05 <= best <= high + 0.05:
            yield f"  {name}: {best:g}, printed {low:g} to {high:g}"


def _compared() -> Iterator[tuple[str, float, float, float]]:
    for crop in crop_table().values():
        weeks = crop.weeks_before_last_frost
        sound = [one for one in printed_sow_weeks(crop.name) if not is_weak(one.key)]
        if weeks is not None and sound:
            low, high = min(one.low for one in sound), max(one.high for one in sound)
            yield crop.name, weeks.best, low, high


def ages() -> Iterator[tuple[str, float, float, float]]:
    """Weeks from sowing to setting out, and what is printed of it, where two institutions do.

    Yields:
        The crop, its weeks, and the lowest and the highest that a source prints; weak ones and
        memory are left out.
    """
    for crop in crop_table().values():
        sow, out = crop.weeks_before_last_frost, crop.set_out_weeks
        sound = [one for one in printed_weeks_indoors(crop.name) if not is_weak(one.key)]
        if sow is None or out is None or len({institution_of(one.key) for one in sound}) < ENOUGH:
            continue
        low, high = min(one.low for one in sound), max(one.high for one in sound)
        yield crop.name, sow.best + out.best, low, high


def independent_institutions(figure: Figure) -> int:
    """Institutions behind a figure that are not weak."""
    keys = [key for key in figure.sources if not by_key()[key].weak]
    return len({institution_of(key) for key in keys})


def _ages(crops: list[Crop]) -> Iterator[str]:
    compared = list(ages())
    inside = [low - 0.05 <= age <= high + 0.05 for _, age, low, high in compared]
    yield (
        f"Weeks from sowing to setting out, where two institutions print weeks indoors: "
        f"{sum(inside)} of {len(compared)} crops lie inside."
    )
    for (name, age, low, high), fits in zip(compared, inside, strict=True):
        if not fits:
            yield f"  {name}: {age:.3g}, printed {low:g} to {high:g}"
    moved = [crop.name for crop in crops if "moved, so that" in _note(crop)]
    yield f"Sowing moved for that: {len(moved)} crops."


def _by_basis(crops: list[Crop]) -> Iterator[str]:
    yield "figure: source, relative, weak, practice, memory, our guess, missing"
    for name in _FIGURES:
        found: list[Figure | None] = [getattr(crop, name) for crop in crops]
        counts = Counter(one.basis if one else "missing" for one in found)
        words = ("source", "relative", "weak", "practice", "memory", "guess", "missing")
        yield f"  {name}: " + ", ".join(str(counts[word]) for word in words)


def _institutions(crops: list[Crop]) -> Iterator[str]:
    yield "Independent institutions behind the weeks to sow (of those with basis source):"
    counts = Counter(
        min(independent_institutions(weeks), 3)
        for crop in crops
        if (weeks := crop.weeks_before_last_frost) and weeks.basis == "source"
    )
    yield "  " + ", ".join(f"{'3 or more' if n == 3 else n}: {counts[n]}" for n in sorted(counts))


def _note(crop: Crop) -> str:
    return crop.weeks_before_last_frost.note if crop.weeks_before_last_frost else ""
